"""The part of a spec that says how the warp is sleyed, and the reeds that the weaver owns."""

import re
from typing import Annotated, Any, Final

from pydantic import Field, PlainValidator, WithJsonSchema

from cards.spec import fields as kind
from cards.spec.base import SpecModel
from cards.spec.notation import parse_density
from cards.spec.quoting import shortened
from cards.spec.refusal import NotationError
from cards.spec.words import read_whole, text_of

MOST_IN_A_DENT: Final = 40
_MOST_DENTS: Final = 40
_MOST_REEDS: Final = 40
_FINEST: Final = 600  # dents in 10 cm: a silk reed has about half of that

_DENSITY = {"type": "string", "examples": ["40 per 10 cm", "12 per in"]}


def parse_reed(value: object) -> float:
    """Return a reed in dents per mm, such as `40 per 10 cm` or `12 per in`."""
    return parse_density(value, least=1, most=_FINEST)


def parse_reeds(value: object) -> tuple[float, ...]:
    """Return the reeds of a list, or of one text with commas, in dents per mm."""
    if isinstance(value, (list, tuple)):
        many = tuple(_each(each, place) for place, each in enumerate(value[: _MOST_REEDS + 1]))
    else:
        text = text_of(value, "a list of reeds such as [40 per 10 cm, 50 per 10 cm]")
        found, at = [], 0
        for part in text.split(",")[: _MOST_REEDS + 1]:
            try:
                found.append(parse_reed(part))
            except NotationError as error:
                raise error.moved(at) from None
            at += len(part) + 1
        many = tuple(found)
    if not many:
        mend = "write them as [40 per 10 cm, 50 per 10 cm], or leave `reeds` out"
        raise NotationError("there is no reed in the list", mend, code="no-reeds")
    if len(many) > _MOST_REEDS:
        message = f"more than {_MOST_REEDS} reeds for one loom"
        raise NotationError(message, "write those that come into question", code="too-many")
    return many


def _each(value: object, place: int) -> float:
    try:
        return parse_reed(value)
    except NotationError as error:
        path = (place, *error.path)
        raise NotationError(
            error.message, error.mend, error.offset, code=error.code, path=path
        ) from None


def parse_pattern(value: object) -> tuple[int, ...]:
    """Return ends per dent, dent by dent, such as `2-3`, `0-1` or a list.

    >>> parse_pattern("2-3")
    (2, 3)
    """
    if isinstance(value, (list, tuple)):
        parts = [text_of(each, "the ends of a dent") for each in value]
    else:
        text = text_of(value, "ends per dent such as 2-3")
        parts = re.split(r"\s*[-–,]\s*|\s+", text.strip())
    if not 1 <= len(parts) <= _MOST_DENTS:
        message = f"a pattern of {len(parts)} dents is kept in no head"
        mend = f"write 1 to {_MOST_DENTS} dents, such as 2-3"
        raise NotationError(message, mend, code="too-many")
    ends = tuple(read_whole(part, "ends in a dent", 0, MOST_IN_A_DENT) for part in parts)
    if not any(ends):
        message = f"the pattern {shortened('-'.join(parts))} leaves every dent empty"
        raise NotationError(message, "write the ends of each dent, such as 0-1", code="zero")
    return ends


Reed = Annotated[float, PlainValidator(parse_reed), WithJsonSchema(_DENSITY)]
Reeds = Annotated[
    tuple[float, ...],
    PlainValidator(parse_reeds),
    WithJsonSchema({"anyOf": [_DENSITY, {"type": "array", "items": _DENSITY, "minItems": 1}]}),
]
_PATTERN: dict[str, Any] = {
    "type": ["string", "integer", "array"],
    "items": {"type": "integer", "minimum": 0, "maximum": MOST_IN_A_DENT},
    "examples": ["2-3", "0-1"],
}
SleyPattern = Annotated[tuple[int, ...], PlainValidator(parse_pattern), WithJsonSchema(_PATTERN)]


def _count(what: str, most: int) -> tuple[PlainValidator, WithJsonSchema]:
    return (
        PlainValidator(lambda value: read_whole(value, what, 0, most)),
        WithJsonSchema({"type": "integer", "minimum": 0, "maximum": most}),
    )


Doubled = Annotated[int, *_count("doubled ends", 60)]
OpenDents = Annotated[int, *_count("dents at a fold", 60)]


class Sley(SpecModel):
    """How the ends lie in the dents of the reed, where it is not to be worked out."""

    pattern: SleyPattern | None = Field(None, description="Ends per dent, such as 2-3 or 0-1")
    doubled: Doubled | None = Field(
        None, description="Outermost ends at each open edge that stand twice as close"
    )
    fold_open: OpenDents | None = Field(
        None, description="Dents at each fold that hold an end fewer; 0 for none"
    )
    fold_line: kind.YesNo = Field(
        default=False, description="Whether a smooth line lies in each fold, drawn out afterwards"
    )
