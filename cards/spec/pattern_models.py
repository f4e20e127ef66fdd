"""The part of a spec that is the text of a pattern: what is made, with what, and step by step.

Every text may name figures of the plan in braces, as `wind {warp.ends} ends`; `braces.py` has the
notation. Here they stand as they were written.
"""

from collections.abc import Iterator

from pydantic import Field

from cards.spec import fields as kind
from cards.spec.base import SpecModel

Path = tuple[str | int, ...]


class PatternStage(SpecModel):
    """One stage of the work, with its steps in order."""

    stage: kind.Name = Field(
        description="Such as winding, dressing, threading, sleying, tying up, weaving, finishing"
    )
    do: list[kind.Note] = Field(description="A sentence for each step, in the order of the work")


class Pattern(SpecModel):
    """The text of a pattern; figures of the plan are named in braces, as {warp.ends}."""

    aim: kind.Passage | None = Field(None, description="What is made, and what for")
    skills: list[kind.Note] = Field([], description="What is learnt, or known already")
    materials: list[kind.Note] = Field([], description="Beside the yarns, which the plan lists")
    steps: list[PatternStage] = Field([], description="What is done, stage by stage")
    finishing: list[kind.Note] = Field([], description="Off the loom, step by step")
    cautions: list[kind.Note] = Field([], description="Beside those that every sheet has")


def pattern_texts(pattern: Pattern) -> Iterator[tuple[Path, str]]:
    """Yield every text of a pattern that may hold figures, with its path in the spec."""
    if pattern.aim is not None:
        yield ("pattern", "aim"), pattern.aim
    for key in ("skills", "materials"):
        yield from _listed(pattern, key)
    for number, stage in enumerate(pattern.steps):
        for place, text in enumerate(stage.do):
            yield ("pattern", "steps", number, "do", place), text
    for key in ("finishing", "cautions"):
        yield from _listed(pattern, key)


def _listed(pattern: Pattern, key: str) -> Iterator[tuple[Path, str]]:
    for place, text in enumerate(getattr(pattern, key)):
        yield ("pattern", key, place), text
