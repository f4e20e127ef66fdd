"""The text of a pattern as it is printed: every figure that it names put in from the plan."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from cards.named_figures import LACKING, of_some_looms, plan_names
from cards.project import Project
from cards.spec.braces import filled


@dataclass(frozen=True, slots=True)
class PatternStage:
    """One stage of the work: what it is called, and a sentence for each step."""

    name: str
    steps: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Pattern:
    """The text of a pattern in the order in which it is read; what was not written is empty."""

    aim: str
    skills: tuple[str, ...]
    materials: tuple[str, ...]
    stages: tuple[PatternStage, ...]
    finishing: tuple[str, ...]
    cautions: tuple[str, ...]


def pattern_of(project: Project) -> Pattern | None:
    """Return the text of a project's pattern with the figures put in; None where it has none.

    Figures are in the units of the project. A name that the plan does not know stays in its braces,
    and one that only other looms have is a dash; `text_check` tells of both.
    """
    written = project.pattern
    if written is None:
        return None
    names = plan_names(project)

    def figure(name: str) -> str | None:
        return names.text(name) or (LACKING if of_some_looms(name) else None)

    def put_in(text: str) -> str:
        return filled(text, figure)

    def each(texts: Iterable[str]) -> tuple[str, ...]:
        return tuple(map(put_in, texts))

    return Pattern(
        aim=put_in(written.aim or ""),
        skills=each(written.skills),
        materials=each(written.materials),
        stages=tuple(PatternStage(stage.stage, each(stage.do)) for stage in written.steps),
        finishing=each(written.finishing),
        cautions=each(written.cautions),
    )
