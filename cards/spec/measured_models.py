"""The part of a spec that says what was measured when the cloth was woven and washed.

Lengths of cloth are those of the woven part of one piece: hems lie flat and count, fringes do not.
Widths are those of the finished cloth: opened out, or of a tube lying flat.
"""

from typing import Annotated

from pydantic import Field, PlainValidator, WithJsonSchema

from cards.spec import fields as kind
from cards.spec.base import SpecModel
from cards.spec.notation import parse_mass
from cards.spec.numbers import take_number
from cards.spec.quoting import shortened
from cards.spec.refusal import NotationError
from cards.spec.words import text_of

_MASS = {"type": "string", "examples": ["240 g", "8 1/2 oz"]}
Mass = Annotated[float, PlainValidator(parse_mass), WithJsonSchema(_MASS)]

_MOST_HOURS = 5000


def parse_hours(value: object) -> float:
    """Return hours, such as `14`, `14.5 h` or `6 1/2 hours`.

    >>> parse_hours("14.5 h")
    14.5
    """
    text = text_of(value, "hours such as 14.5")
    number, end = take_number(text)
    if text[end:].strip().lower() not in {"", "h", "hour", "hours"}:
        message = f"`{shortened(text[end:].strip())}` stands where hours are wanted"
        raise NotationError(message, "write the hours, as 14.5 h", end, code="wrong-unit")
    if number > _MOST_HOURS:
        message = f"{shortened(text)} is out of range"
        raise NotationError(message, f"write up to {_MOST_HOURS} hours", 0, code="out-of-range")
    return float(number)


_HOURS = {"type": ["number", "string"], "examples": [14, "14.5 h"]}
Hours = Annotated[float, PlainValidator(parse_hours), WithJsonSchema(_HOURS)]


class MeasuredCloth(SpecModel):
    """Width and length of one piece of cloth, laid flat."""

    width: kind.ClothLength | None = Field(None, description="Opened out; of a tube lying flat")
    length: kind.ClothLength | None = Field(
        None, description="Woven part of one piece, hems flat and counted, fringes not"
    )


class Weighed(SpecModel):
    """One yarn weighed before and after the weaving."""

    before: Mass | None = Field(
        None,
        description="All of this yarn before winding, of a warp that was there before weaving; "
        "what was on hand and planned to buy if left out",
    )
    after: Mass = Field(description="What is left of it, thrums not counted")


class Measured(SpecModel):
    """What was measured on the loom, off it and after washing, to be read back.

    One piece is one of the first kind where pieces on the warp are not alike.
    """

    width_in_reed: kind.ClothLength | None = Field(None, description="Warp in the reed")
    warp_length: kind.Length | None = Field(None, description="Warp as it was wound")
    woven: kind.ClothLength | None = Field(
        None, description="Woven part of one piece, read on the tape under tension"
    )
    picks: kind.Picks | None = Field(None, description="Picks of one piece as it was woven")
    warp_used: kind.Length | None = Field(
        None, description="Warp that one piece took, where it was marked; else reckoned"
    )
    waste: kind.LengthOrNothing | None = Field(
        None,
        description="Warp that could not be woven, at both ends; "
        "outer fringes count only where they come out of it",
    )
    unwoven: kind.LengthOrNothing | None = Field(
        None, description="Warp left over that could have been woven"
    )
    header: kind.LengthOrNothing | None = Field(None, description="Warp that the header took")
    sample: kind.LengthOrNothing | None = Field(None, description="Warp that the sample took")
    fringe: kind.LengthOrNothing | None = Field(
        None, description="Warp left for one fringe, on the loom"
    )
    gap: kind.LengthOrNothing | None = Field(None, description="Warp left between two pieces")
    off_loom: MeasuredCloth = Field(
        MeasuredCloth.model_construct(), description="Relaxed, before washing"
    )
    washed: MeasuredCloth = Field(
        MeasuredCloth.model_construct(), description="Finished, hems not turned yet"
    )
    yarns: dict[kind.YarnName, Weighed] = Field({}, description="Yarns weighed before and after")
    hours: Hours | None = Field(None, description="Hours it took in all")
