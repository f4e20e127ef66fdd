"""What a cloth is woven for, as a spec names it."""

from typing import Final, Literal, get_args

Use = Literal[
    "upholstery", "bag", "apparel", "towel", "table linen", "blanket", "scarf", "drape", "fulled",
    "lace",
]  # fmt: skip
USES: Final[tuple[Use, ...]] = get_args(Use)
