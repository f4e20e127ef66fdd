"""The exercises of a project made, and what is wrong with those that cannot be."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from cards.exercises.calculation import calculation_exercise
from cards.exercises.drawing_down import colour_exercise, drawdown_exercise
from cards.exercises.exercise import CannotExercise, Exercise
from cards.exercises.part import Part, part_of
from cards.exercises.seeded import seed_of
from cards.exercises.threading import threading_exercise
from cards.exercises.threading_error import threading_error_exercise
from cards.exercises.treadling import treadling_exercise
from cards.exercises.tying_up import tie_up_exercise
from cards.project.model import Project
from cards.spec import Finding, Places, SpecExercise

Maker = Callable[[int, SpecExercise, Part, str], Exercise]

_OF_THE_DRAFT: Final[dict[str, Maker]] = {
    "threading": threading_exercise,
    "drawdown": drawdown_exercise,
    "tie-up": tie_up_exercise,
    "treadling": treadling_exercise,
    "colour": colour_exercise,
    "threading error": threading_error_exercise,
}


def exercises_of(project: Project) -> tuple[Exercise, ...]:
    """Return the exercises of a project; those that cannot be made are left out.

    Each keeps the number of its place in the spec, so that those of several looms agree.
    """
    made = []
    for number, wanted in enumerate(project.exercises, start=1):
        try:
            made.append(_made(project, number, wanted))
        except CannotExercise:
            continue
    return tuple(made)


def exercise_findings(project: Project, places: Places) -> list[Finding]:
    """Return a finding for every exercise that cannot be made, and why."""
    findings = []
    for place, wanted in enumerate(project.exercises):
        try:
            _made(project, place + 1, wanted)
        except CannotExercise as refusal:
            where = places.of("exercises", place, *refusal.path, offset=refusal.offset)
            message, mend = refusal.message, refusal.mend
            findings.append(Finding(refusal.level, refusal.code, message, mend, where))
    return findings


def _made(project: Project, number: int, wanted: SpecExercise) -> Exercise:
    if wanted.exercise == "calculation":
        return calculation_exercise(project, number, wanted)
    seed = seed_of(project, number, wanted.seed)
    part = part_of(project, wanted.part, colours=wanted.exercise == "colour")
    return _OF_THE_DRAFT[wanted.exercise](number, wanted, part, seed)
