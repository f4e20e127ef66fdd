"""The part of a spec that asks for a layered draft to be built."""

from typing import Annotated, Any, Literal

from pydantic import Field, PlainValidator, WithJsonSchema

from cards.spec import fields as kind
from cards.spec import layer_notation as notation
from cards.spec.base import SpecModel
from cards.spec.words import read_choice, read_numbers, read_whole

_MOST = notation.MOST_LAYERS


def _listed(item: dict[str, Any]) -> dict[str, Any]:
    return {"anyOf": [item, {"type": "array", "items": item}]}


_PAIR = {"type": "string", "pattern": r"^\s*\d+\s*(-|–|and|to|\s)\s*\d+\s+(left|right)\s*$"}
_WEAVE = {
    "anyOf": [
        {"type": "string", "examples": ["plain", "2/2 twill", "2/2 basket"]},
        {
            "type": "object",
            "properties": {
                "name": {"type": "string"},
                "threading": {"type": ["string", "integer"], "examples": ["1 2 3 4"]},
                "lifts": {"type": ["string", "integer"], "examples": ["1 2; 2 3; 3 4; 1 4"]},
            },
            "required": ["threading", "lifts"],
            "additionalProperties": False,
        },
    ]
}
_YARN = {"type": "string", "pattern": "^[A-Za-z][A-Za-z0-9_-]{0,39}$"}

Join = Annotated[
    notation.JoinText,
    PlainValidator(notation.parse_join),
    WithJsonSchema(
        {
            "anyOf": [
                {"type": "string", "examples": ["none", "tube", "left", "right", "closed"]},
                {"type": "array", "items": _PAIR},
            ]
        }
    ),
]
Stack = Annotated[
    tuple[int, ...],
    PlainValidator(lambda value: read_numbers(value, "layer", _MOST)),
    WithJsonSchema(
        {
            "type": ["string", "array"],
            "items": {"type": "integer", "minimum": 1, "maximum": _MOST},
            "examples": ["2 1"],
        }
    ),
]
LayerYarns = Annotated[
    tuple[str, ...], PlainValidator(notation.parse_layer_yarns), WithJsonSchema(_listed(_YARN))
]


class DoubleWeave(SpecModel):
    """Layers to be woven at once, from which threading, lifts and shuttles are worked out."""

    layers: Annotated[
        int,
        PlainValidator(lambda value: read_whole(value, "layers", 2, _MOST)),
        WithJsonSchema({"type": "integer", "minimum": 2, "maximum": _MOST}),
    ] = Field(2, description="How many layers")
    join: Join = Field(
        notation.JoinText("none"),
        description="none, tube, left or right (the first fold), closed, or pairs: 1-2 left",
    )
    start: kind.LeftRight = Field("right", description="The side at which shuttles start")
    threading: Annotated[
        Literal["straight", "paired"],
        PlainValidator(lambda value: read_choice(value, ("straight", "paired"), "threading")),
        WithJsonSchema({"type": "string", "enum": ["straight", "paired"]}),
    ] = Field("straight", description="Shafts by turns, or those of a layer side by side")
    weave: Annotated[
        tuple[notation.WeaveText, ...],
        PlainValidator(notation.parse_weaves),
        WithJsonSchema(_listed(_WEAVE)),
    ] = Field(
        (notation.parse_weaves("plain")[0],),
        description="The weave of all layers, or a list with one each",
    )
    ratio: Annotated[
        tuple[int, ...],
        PlainValidator(notation.parse_ratio),
        WithJsonSchema({"type": ["string", "array"], "items": {"type": "integer"}}),
    ] = Field((), description="Ends of each layer in a round, such as 2 1")
    warps: LayerYarns | None = Field(None, description="Yarn of all warps, or one a layer")
    wefts: LayerYarns | None = Field(None, description="Yarn of all wefts, or one a layer")
