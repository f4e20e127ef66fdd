"""The part of a spec that says for which seats of a class a folio is printed.

A seat is a place in the room, never a person: no name and nothing else about anybody is kept.
"""

from typing import Annotated, Any

from pydantic import Field, PlainValidator, WithJsonSchema, model_validator

from cards.needs import NEEDS
from cards.spec import fields as kind
from cards.spec.base import SpecModel
from cards.spec.paper import parse_paper_size
from cards.spec.paper_models import Paper
from cards.spec.refusal import NotationError
from cards.spec.words import read_choice, text_of


def parse_needs(value: object) -> tuple[str, ...]:
    """Return needs such as `large print, grey`, also as a list; each once, in their own order.

    >>> parse_needs("grey, large print")
    ('large print', 'grey')
    """
    listed = isinstance(value, (list, tuple))
    texts = list(value) if isinstance(value, (list, tuple)) else _between_commas(value)
    found, offset = set(), 0
    for place, text in enumerate(texts):
        try:
            found.add(_need(text))
        except NotationError as error:
            if not listed:
                raise error.moved(offset) from None
            raise NotationError(
                error.message, error.mend, error.offset, code=error.code, path=(place,)
            ) from None
        offset += len(text) + 1 if isinstance(text, str) else 0
    return tuple(need for need in NEEDS if need in found)


def _between_commas(value: object) -> list[object]:
    return list(text_of(value, f"needs such as {', '.join(NEEDS)}").split(","))


def _need(text: object) -> str:
    words = text.replace("-", " ") if isinstance(text, str) else text
    plain = tuple(need.replace("-", " ") for need in NEEDS)
    try:
        found = read_choice(words, plain, "need")
    except NotationError:
        return read_choice(text, NEEDS, "need")  # it names them as they are written
    return NEEDS[plain.index(found)]


class SeatPaper(Paper):
    """The paper of one seat: a size, or a mapping; what is left out is as in the spec."""

    @model_validator(mode="before")
    @classmethod
    def _from_size(cls, value: Any) -> Any:  # noqa: ANN401  (pydantic hands over anything)
        if isinstance(value, str):
            parse_paper_size(value)  # so that what is wrong is told of the text itself
            return {"size": value}
        return value


Needs = Annotated[
    tuple[str, ...],
    PlainValidator(parse_needs),
    WithJsonSchema(
        {
            "anyOf": [
                {"type": "string", "examples": ["large print, left-handed"]},
                {"type": "array", "items": {"type": "string", "enum": list(NEEDS)}},
            ]
        }
    ),
]


class Seat(SpecModel):
    """One seat of the class: what is printed for it, where that is not as the spec says."""

    seat: kind.SeatName = Field(
        description="The place, such as window or seat 3; never the name of a person"
    )
    loom: kind.Name | None = Field(
        None, description="The name of a loom of the spec, or of a file that it names"
    )
    units: kind.Units | None = Field(None, description="Which units stand first")
    paper: SeatPaper | None = Field(
        None, description="A size such as Letter, or {size, orientation, binding, holes}"
    )
    needs: Needs = Field((), description="Any of large print, left-handed, grey")

    def paper_of(self, paper: Paper) -> Paper:
        """Return the paper of this seat: what it does not say is as on that of the spec."""
        if self.paper is None:
            return paper
        own = {key: getattr(self.paper, key) for key in self.paper.model_fields_set}
        return paper.model_copy(update=own)


class ClassOf(SpecModel):
    """A class, by its seats alone. Write no names of people and nothing about them here."""

    title: kind.Title | None = Field(None, description="What the class is called")
    date: kind.Date | None = Field(None, description="When it meets, as 2026-09-07")
    seats: list[Seat] = Field(description="The seats, for each of which a folio is printed")
