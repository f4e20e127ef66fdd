"""The part of a spec that asks for exercises: what is left blank for a student to fill in.

How many cells there are is known only when the draft is worked out, so that is checked there.
"""

from typing import Annotated, Final, Literal

from pydantic import Field, PlainValidator, WithJsonSchema

from cards.spec import fields as kind
from cards.spec.base import SpecModel
from cards.spec.words import read_choice, read_whole

ExerciseKind = Literal[
    "threading", "drawdown", "tie-up", "treadling", "calculation", "colour", "threading error"
]  # fmt: skip
EXERCISES: Final[tuple[str, ...]] = (
    "threading", "drawdown", "tie-up", "treadling", "calculation", "colour", "threading error",
)  # fmt: skip

# More cells than this fill no page that anybody works through.
_MOST_BLANKS: Final = 1000
_MOST_SEED: Final = 999_999
# More threads than these do not fit on paper in cells that can be written in.
_MOST_SHOWN: Final = 60
_MOST_THREAD: Final = 100_000


def _whole(what: str, least: int, most: int) -> tuple[PlainValidator, WithJsonSchema]:
    return (
        PlainValidator(lambda value: read_whole(value, what, least, most)),
        WithJsonSchema({"type": "integer", "minimum": least, "maximum": most}),
    )


Kind = Annotated[
    ExerciseKind,
    PlainValidator(lambda value: read_choice(value, EXERCISES, "exercise")),
    WithJsonSchema({"type": "string", "enum": list(EXERCISES)}),
]
Blanks = Annotated[int, *_whole("blanks", 1, _MOST_BLANKS)]
Seed = Annotated[int, *_whole("a seed", 0, _MOST_SEED)]
Shown = Annotated[int, *_whole("threads of an exercise", 2, _MOST_SHOWN)]
Thread = Annotated[int, *_whole("a thread", 1, _MOST_THREAD)]


class ExercisePart(SpecModel):
    """The part of the draft that an exercise shows; what is left out is chosen to fit a page."""

    section: kind.Name | None = Field(None, description="Section of the piece; the longest if none")
    first_end: Thread | None = Field(None, description="First end shown, counted from the first")
    ends: Shown | None = Field(None, description="Ends shown; whole repeats are best")
    first_pick: Thread | None = Field(None, description="First pick shown, of the section")
    picks: Shown | None = Field(None, description="Picks shown; whole repeats are best")


class SpecExercise(SpecModel):
    """One exercise; its answers are printed into a file of their own."""

    exercise: Kind = Field(description="What the student finds out")
    blanks: Blanks | None = Field(None, description="How many cells are left blank; all if none")
    seed: Seed | None = Field(
        None, description="Another number makes another exercise of the same kind"
    )
    words: kind.Note | None = Field(None, description="The task in your own words")
    part: ExercisePart = Field(
        ExercisePart.model_construct(), description="The part of the draft that is shown"
    )
