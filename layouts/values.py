"""Numbers and colours as the writers put them down: compact, the same everywhere, checked.

A number that is not finite or a colour that is not `#rrggbb` is a mistake of whoever drew the
mark, and would make a file that no reader opens; it is refused here, before it reaches one.
"""

from __future__ import annotations

import re
from functools import lru_cache

_COLOUR = re.compile(r"#[0-9a-fA-F]{6}")


def compact(value: float, places: int) -> str:
    """Write a number with at most `places` decimals, without trailing noughts or an exponent.

    Raises ValueError for a number that is not finite.

    >>> compact(12.50004, 4), compact(-0.00001, 4), compact(7, 4)
    ('12.5', '0', '7')
    """
    text = f"{value:.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    elif text[-1] in "fn":
        raise ValueError(f"{value} is not a place on paper")
    return "0" if text == "-0" else text


@lru_cache(maxsize=1024)
def rgb(colour: str) -> tuple[int, int, int]:
    """Red, green and blue, 0 to 255, of a colour `#rrggbb`. Raises ValueError for anything else.

    >>> rgb("#44546a")
    (68, 84, 106)
    """
    if not _COLOUR.fullmatch(colour):
        raise ValueError(f"{colour!r} is not a colour such as '#44546a'")
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)
