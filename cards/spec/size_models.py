"""The size of a yarn as a model: written as one text, or as a mapping."""

from __future__ import annotations

from typing import Annotated, Any, Self

from pydantic import Field, PlainValidator, WithJsonSchema, model_validator

from cards.spec import fields as kind
from cards.spec.base import SpecModel
from cards.spec.refusal import NotationError
from cards.spec.size_notation import parse_count, parse_folded, size_text
from cards.spec.size_systems import WHOLE, SizeParts
from cards.spec.words import text_of


class YarnSize(SpecModel):
    """A yarn's size: system, count in the units of the system, number of plies.

    `text` is the size as written; empty when it was given as a mapping. Of unlike singles folded
    together the three are those of the first, and `singles` has them all.
    """

    system: kind.System = Field(description="The system by which the yarn is numbered")
    count: Annotated[
        float,
        PlainValidator(parse_count),
        WithJsonSchema({"type": ["number", "string"], "exclusiveMinimum": 0}),
    ] = Field(description="The number of one ply in that system")
    ply: kind.Plies = Field(1, description="How many plies are twisted together")
    text: str = Field("", json_schema_extra={"readOnly": True})

    @model_validator(mode="before")
    @classmethod
    def _from_text(cls, value: Any) -> Any:  # noqa: ANN401  (pydantic hands over anything)
        if isinstance(value, dict):
            if "text" in value:
                message, mend = "unknown key 'text'", "use system, count or ply"
                raise NotationError(message, mend, code="unknown-key", path=("text",))
            return value
        text = text_of(value, "a yarn size such as Ne 8/2")
        parts = parse_folded(text)[0]
        return {
            "system": parts.system,
            "count": parts.count,
            "ply": parts.ply,
            "text": text.strip(),
        }

    @model_validator(mode="after")
    def _whole_yarn(self) -> Self:
        if self.system in WHOLE and self.ply != 1:
            message = f"{self.system} counts the yarn as it stands, so it takes no ply"
            mend = "leave `ply` out"
            raise NotationError(message, mend, code="bad-yarn-size", path=("ply",))
        return self

    @property
    def singles(self) -> tuple[SizeParts, ...]:
        """Every kind of single in the yarn, with how many plies it has of it."""
        if self.text:
            return parse_folded(self.text)
        return (SizeParts(self.system, self.count, self.ply),)

    @property
    def written(self) -> str:
        """The size as the weaver wrote it, or would write it."""
        return self.text or size_text(SizeParts(self.system, self.count, self.ply))
