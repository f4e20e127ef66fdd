"""What the sheets are printed on, as a weaver writes it: the paper, its edges, how it is folded."""

from typing import Annotated, Literal

from pydantic import Field, PlainValidator, WithJsonSchema

from cards.spec import fields as kind
from cards.spec.base import SpecModel
from cards.spec.refusal import NotationError
from cards.spec.words import read_choice, read_whole

# More leaves than that nobody folds through their middle.
_MOST_IN_A_SIGNATURE = 96
_SIDES = ("single", "double")


def read_signature(value: object) -> int:
    """Read the pages of a signature: a folded sheet has four. Raises NotationError for others."""
    pages = read_whole(value, "pages of a signature", 4, _MOST_IN_A_SIGNATURE)
    if pages % 4:
        message = f"a signature of {pages} pages cannot be folded from whole sheets"
        mend = f"write a multiple of four, such as {pages - pages % 4} or {pages + -pages % 4}"
        raise NotationError(message, mend, 0, code="signature-of-no-sheets")
    return pages


Signature = Annotated[
    int,
    PlainValidator(read_signature),
    WithJsonSchema(
        {"type": "integer", "minimum": 4, "maximum": _MOST_IN_A_SIGNATURE, "multipleOf": 4}
    ),
]
Sides = Annotated[
    Literal["single", "double"],
    PlainValidator(lambda value: read_choice(value, _SIDES, "way of printing")),
    WithJsonSchema({"type": "string", "enum": list(_SIDES)}),
]


class Paper(SpecModel):
    """What the sheets are printed on."""

    size: kind.Size | None = Field(None, description="A4, A5, Letter, Legal, 5 x 8 in, W x H mm")
    orientation: kind.Orientation = Field("portrait", description="Which way up")
    binding: kind.Binding = Field("none", description="The edge that goes into the binder")
    holes: kind.Holes = Field("none", description="Marks for punched holes")
    half_sheet: kind.YesNo = Field(
        default=False, description="Two pages of half the size on a sheet, to be cut apart"
    )
    booklet: kind.YesNo = Field(
        default=False, description="Pages of half the size in the order for folding and stapling"
    )
    signature: Signature | None = Field(
        None, description="Pages folded together in a thick booklet, a multiple of four"
    )
    sides: Sides = Field("single", description="Printed on one side of the paper or on both")
