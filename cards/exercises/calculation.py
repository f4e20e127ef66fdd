"""The calculation redone by the student: formulas in words with figures, results left blank.

A figure that is the result of another line is named by that line and not printed. A line whose
result lies close to a figure that another line must print would be given away by it, and is left
out.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from cards.calculation.formula import with_figures
from cards.calculation.workings import Stage, Step, Unit
from cards.exercises.blanks import chosen_blanks
from cards.exercises.exercise import Answer, CannotExercise, Exercise, Sum, Sums
from cards.exercises.seeded import seed_of
from cards.exercises.words import nothing_to_ask
from cards.figures import Figures
from cards.project.model import Project
from cards.spec import SpecExercise
from cards.worked_figures import RESULT, Scale, line_of

# The stages that a student works through, in their order, and how many lines fill a page.
_STAGES: Final[tuple[Stage, ...]] = ("width", "ends", "lengths", "warp", "picks")
_MOST: Final = 10
# Lines that give way where there are too many, the first of these first.
_CAN_BE_SPARED: Final = ("picks", "weave to", "sett of all", "finished width of")
# A result as close as this share to a figure in another line would be given away by it.
_CLOSE: Final = 0.03
_COUNTED: Final = frozenset({"ends", "dents", "picks", "pieces", "packages"})
_FOR_PICKS: Final = "weave to"
_SEEN: Final = 0.5  # mm by which a length differs on a tape
_NOT_ASKED: Final = ("picks of section", "as its sections", "picks of the sample")


def calculation_exercise(project: Project, number: int, wanted: SpecExercise) -> Exercise:
    """Return an exercise in which the sums of the plan are redone. Raises CannotExercise."""
    if any(value is not None for _, value in wanted.part):
        raise CannotExercise(
            "error",
            "no-part-to-show",
            "`part` says nothing of an exercise 'calculation', which shows no draft",
            "leave `part` out",
            "part",
        )
    steps = _steps(project.steps)
    if not steps:
        raise nothing_to_ask("every figure of this plan was given, so there is nothing to work out")
    seed = seed_of(project, number, wanted.seed)
    numbers = list(range(1, len(steps) + 1))
    asked = chosen_blanks(numbers, wanted.blanks, seed, "the calculation shown")
    solved = tuple(_solved(project, steps, place) for place in range(len(steps)))
    shown = tuple(_asked(each) if each.number in asked else each for each in solved)
    return Exercise(
        number,
        "calculation",
        "Work out the plan",
        wanted.words or _TASK,
        "",
        Sums(shown, tuple(asked)),
        len(asked),
        Answer(
            Sums(solved, tuple(asked)),
            tuple(_remarks(project, steps)),
            tuple((each, frozenset({solved[each - 1].result})) for each in asked),
        ),
    )


_TASK: Final = (
    "Work out line by line what the cloth takes. Every share is of the larger, earlier size, so "
    "divide by 1 less the share. Write each result before it is rounded, and behind it what you "
    "use from there on if you round it."
)


def _steps(steps: Sequence[Step]) -> list[Step]:
    """Return the steps that are asked for, in the order of their stages."""
    found: list[Step] = []
    for stage in _STAGES:
        found += [step for step in steps if _stage(step) == stage and _is_sum(step)]
    found = [step for step in found if not _given_away(step, found)]
    for name in _CAN_BE_SPARED:
        spared = [step for step in found if step.name.startswith(name)]
        kept = max(0, len(spared) - max(0, len(found) - _MOST))
        found = [step for step in found if step not in spared[kept:]]
    return found[:_MOST]


def _stage(step: Step) -> Stage:
    """Return the stage of a step; the length to weave to is only needed for the picks."""
    return "picks" if step.name.startswith(_FOR_PICKS) else step.stage


def _is_sum(step: Step) -> bool:
    """Whether a step is a sum that a pencil can do, and comes to something that was not there."""
    plain = not (step.allowance or step.counted or step.of) and bool(step.inputs)
    same = any((value, unit) == (step.raw, step.unit) for _, value, unit in step.inputs)
    trivial = same and "at least" not in step.formula
    asked = not any(words in step.name for words in _NOT_ASKED)
    return plain and bool(step.raw) and asked and not trivial


def _given_away(step: Step, steps: Sequence[Step]) -> bool:
    """Whether another line prints a figure of the same name that is almost the result of a step."""
    return any(
        unit == step.unit
        and abs(value - result) <= _CLOSE * abs(result)
        and _named_alike(name, step)
        and _line(name, value, unit, steps, other) is None
        for other in steps
        if other is not step
        for name, value, unit in other.inputs
        for result in (step.raw, step.value)
    )


def _named_alike(name: str, step: Step) -> bool:
    """Whether the name of an input has a word in common with that of a step."""
    words = set(step.name.replace(",", "").split())
    return any(len(word) > 3 and word in words for word in name.split())


def _line(name: str, value: float, unit: Unit, steps: Sequence[Step], reader: Step) -> int | None:
    """Return the place of the step that an input of the step `reader` is the result of."""
    found = (
        place
        for place, step in enumerate(steps)
        if step is not reader
        and unit == step.unit
        and value in (step.raw, step.value)
        and _named_alike(name, step)
    )
    return next(found, None)


def _solved(project: Project, steps: Sequence[Step], place: int) -> Sum:
    """Return a line with its result; figures that are results of other lines are named by them."""
    step = steps[place]
    scale = Scale(project.units, long=False)
    texts: dict[str, str] = {}
    for name, value, unit in step.inputs:
        line = _line(name, value, unit, steps, step)
        if line is not None:
            texts[name] = f"result of {line + 1}"
        elif unit in _COUNTED:
            texts[name] = scale.number(value, unit, RESULT)
        else:
            texts[name] = scale.written(value, unit, RESULT)
    told = line_of(step, project.units)
    return Sum(
        place + 1,
        step.name,
        _ruled(step),
        with_figures(step.formula, texts),
        told.result,
        scale.name(step.unit),
        told.used.partition(" (")[0],
    )


def _ruled(step: Step) -> str:
    """Return the formula, with how its result is rounded where it does not say so itself."""
    rounded = step.value != step.raw and step.note and "up to" not in step.formula
    return f"{step.formula}, {step.note}" if rounded else step.formula


def _remarks(project: Project, steps: Sequence[Step]) -> Iterator[str]:
    """Yield what a teacher has to know of the results."""
    yield "Results have five digits; the last may differ by one."
    woven = sum(section.length for section in project.weft.sections)
    for step in steps:
        if step.name.startswith(_FOR_PICKS) and abs(woven - step.value) > _SEEN:
            length = Figures(project.units).tape(woven)
            yield f"The pick tally goes to {length}: its sections are whole repeats."


def _asked(line: Sum) -> Sum:
    return Sum(line.number, line.name, line.formula, line.figures, "", line.unit)
