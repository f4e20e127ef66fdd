"""How drafts are drawn and read: four traditions, or each point for itself."""

from typing import Annotated, Any

from pydantic import (
    BaseModel,
    ConfigDict,
    Field,
    PlainValidator,
    WithJsonSchema,
    model_validator,
)

from cards.spec import fields as kind
from cards.spec.refusal import NotationError
from cards.spec.words import read_choice

# American: common practice, no source, except that the threading stands above, is read from the
# right, and the treadling runs down, which an article on reading drafts right to left confirms.
# Scandinavian: a weaver's article, except the first end at the right, which is common practice.
# British and German usage varies; what stands here is from memory and only a starting point. That a
# tie is drawn as a mark and not as a number is common practice, no source.
PRESETS: dict[str, dict[str, str]] = {
    "american": {
        "threading": "above", "first_end": "right", "tie_up": "rise", "tie_up_as": "marks",
        "treadling": "down", "filled": "warp",
    },
    "scandinavian": {
        "threading": "below", "first_end": "right", "tie_up": "sink", "tie_up_as": "marks",
        "treadling": "up", "filled": "weft",
    },
    "british": {
        "threading": "above", "first_end": "right", "tie_up": "rise", "tie_up_as": "marks",
        "treadling": "up", "filled": "warp",
    },
    "german": {
        "threading": "above", "first_end": "left", "tie_up": "rise", "tie_up_as": "marks",
        "treadling": "up", "filled": "warp",
    },
}  # fmt: skip


def _tradition(value: object) -> str:
    return read_choice(value, tuple(PRESETS), "tradition")


Tradition = Annotated[
    str,
    PlainValidator(_tradition),
    WithJsonSchema({"type": "string", "enum": list(PRESETS)}),
]


class Conventions(BaseModel):
    """Where the threading stands and from which side it is read, and what marks mean."""

    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)

    tradition: Tradition | None = Field(None, description="From which the other keys may differ")
    threading: kind.AboveBelow = Field("above", description="Above or below the drawdown")
    first_end: kind.LeftRight = Field("right", description="The side of the first end")
    tie_up: kind.RiseSink = Field("rise", description="What a mark in the tie-up does to a shaft")
    tie_up_as: kind.MarksNumbers = Field(
        "marks", description="Whether a tie is a mark or the number of its shaft"
    )
    treadling: kind.DownUp = Field("down", description="Which way the treadling is read")
    filled: kind.WarpWeft = Field("warp", description="What a filled cell shows on top")

    @model_validator(mode="before")
    @classmethod
    def _from_tradition(cls, value: Any) -> Any:  # noqa: ANN401  (pydantic hands over anything)
        if isinstance(value, str):
            return dict(PRESETS[_tradition(value)])
        if isinstance(value, dict) and "tradition" in value:
            try:
                tradition = _tradition(value["tradition"])
            except NotationError:
                return value  # its own reader says what is wrong, and where
            return {**PRESETS[tradition], **value}
        return value
