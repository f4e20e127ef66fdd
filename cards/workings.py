"""The workings: every step of the calculation, in an order in which a pencil can follow it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from cards.calculation.workings import Stage, Step
from cards.figures import Figures
from cards.heading import Heading, heading_of
from cards.plan_allowances import allowance, usual_range
from cards.project import Project
from cards.project.model import ProjectYarn
from cards.worked_figures import Line, is_long, line_of


@dataclass(frozen=True, slots=True)
class Allowed:
    """An allowance: its value, and in words whether it was given or assumed, from what range."""

    name: str
    value: str
    words: str


@dataclass(frozen=True, slots=True)
class Worked:
    """A step: its name, the formula in words, what it comes to in figures, and a remark."""

    name: str
    formula: str
    line: Line
    given: bool
    note: str


@dataclass(frozen=True, slots=True)
class Part:
    """A stage of the calculation, or what is about one yarn in it: what was allowed, then steps."""

    title: str
    yarn: ProjectYarn | None
    allowed: tuple[Allowed, ...]
    steps: tuple[Worked, ...]


@dataclass(frozen=True, slots=True)
class WorkingsSheet:
    """The whole workings; `head` says how they are to be read."""

    heading: Heading
    head: tuple[str, ...]
    parts: tuple[Part, ...]


_TITLES: Final[dict[Stage, str]] = {
    "width": "From the finished width to the reed",
    "ends": "Ends",
    "reed": "In the reed, and back to the finished width",
    "lengths": "Lengths of one piece",
    "warp": "Length of the warp",
    "picks": "Picks",
    "yarn": "Yarn",
    "in all": "Yarn in all",
    "hours": "Hours",
    "cost": "Cost",
}


# What pieces of all kinds have in common.
_OF_ALL: Final = frozenset({"width", "ends", "warp", "in all", "hours", "cost"})


def workings_sheet(project: Project) -> WorkingsSheet:
    """Return the workings of a project, kinds of pieces that are not alike one after another."""
    kinds = [(project, project.steps if project.further else _by_yarn(project.steps))]
    kinds += [(kind, _own(project, kind)) for kind in project.further]
    parts: list[Part] = []
    for stage in _TITLES:
        for kind, steps in kinds:
            behind = f", {kind.piece}" if len(kinds) > 1 and stage not in _OF_ALL else ""
            own = [step for step in steps if step.stage == stage]
            parts += _parts(kind, stage, own, _read_long(steps), behind)
    return WorkingsSheet(heading_of(project, "Workings"), _head(project), tuple(parts))


def _by_yarn(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """Return the steps of pieces that are alike: all that is about a yarn stands together."""
    return tuple(replace(step, stage="yarn") if step.stage == "in all" else step for step in steps)


def _own(first: Project, kind: Project) -> tuple[Step, ...]:
    """Return the steps of a further kind of piece that are not just those of the `first` one.

    What is about a yarn is there in any case: the yarn of all pieces is summed up from it.
    """
    told = {(step.name, step.value, step.inputs, step.note) for step in first.steps if not step.of}
    allowed = {(step.name, step.value) for step in first.allowances}
    return tuple(
        step
        for step in kind.steps
        if (step.name, step.value, step.inputs, step.note) not in told
        and (step.name, step.value) not in allowed
    )


def _head(project: Project) -> tuple[str, ...]:
    small, large, many = ("cm", "m", 100) if project.units == "metric" else ("in", "yd", 36)
    why = (
        "Every share is of the larger, earlier size: take-up of the warp, draw-in of the width in "
        "the reed, shrinkage of the cloth before washing. So a size is divided by 1 less it. "
        f"10 {small} that lost 0.2 were 10 {small} ÷ (1 − 0.2) = 12.5 {small}; of 12 {small} they "
        f"would have lost 2.4 {small}, and not 2."
    )
    how = (
        "Each line can be redone by its own figures, and gives its result to the last digit. "
        f"Shares stand as 0.07, which is 7 %. Lengths of yarn are in {large}, all others in "
        f"{small}: {many} {small} are 1 {large}."
    )
    if not project.further:
        return why, how
    differs = (
        f"Further kinds of pieces have only the lines in which they differ from {project.piece}."
    )
    return why, how, differs


def _parts(
    kind: Project, stage: Stage, steps: list[Step], long: frozenset[float], behind: str
) -> Iterator[Part]:
    """Yield a stage of one kind of piece, and behind it what is about one yarn after another.

    `behind` is put behind each title.
    """
    own = [step for step in steps if not step.of]
    if own:
        yield _part(kind, _TITLES[stage] + behind, None, own, long)
    for key in dict.fromkeys(step.of for step in steps if step.of):
        yarn = kind.yarn(key)
        about = [step for step in steps if step.of == key]
        yield _part(kind, yarn.name + behind, yarn, about, long)


def _read_long(steps: tuple[Step, ...]) -> frozenset[float]:
    """Return the lengths in mm that lines about yarn take up, and have in m or yd."""
    return frozenset(
        value for step in steps if is_long(step) for _, value, unit in step.inputs if unit == "mm"
    )


def _part(
    project: Project,
    title: str,
    yarn: ProjectYarn | None,
    steps: list[Step],
    long: frozenset[float],
) -> Part:
    figures = Figures(project.units)
    return Part(
        title,
        yarn,
        tuple(_allowed(step, figures) for step in steps if step.allowance),
        tuple(_worked(project, step, long) for step in steps if not step.allowance),
    )


def _allowed(step: Step, figures: Figures) -> Allowed:
    usual = usual_range(step, figures)
    words = [step.origin, f"usual {usual}" if usual else ""]
    # Of a given figure only the range is from somewhere.
    words.append(step.note if usual or step.origin != "given" else "")
    return Allowed(
        step.name, allowance(step, step.value, figures), ", ".join(each for each in words if each)
    )


def _worked(project: Project, step: Step, long: frozenset[float]) -> Worked:
    currency, name = step.currency, step.name
    if step.of:
        yarn = project.yarn(step.of)
        currency, name = yarn.currency, name.removeprefix(f"{yarn.name}: ")
    goes_on = step.unit == "mm" and step.value in long
    line = line_of(step, project.units, currency, goes_on_long=goes_on)
    given, note = step.origin == "given", step.note
    if step.of and any(unit == "mm per g" for _, _, unit in step.inputs):
        note = f"yarn size: {project.yarn(step.of).size}"
    return Worked(name, "" if given else step.formula, line, given, note)
