"""The exercises of a project made, and what is wrong with those that cannot be."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Final

from cards.exercises.calculation import calculation_exercise
from cards.exercises.drawing_down import colour_exercise, drawdown_exercise
from cards.exercises.exercise import CannotExercise, Exercise, ShownDraft, Sums
from cards.exercises.part import Part, part_of
from cards.exercises.seeded import seed_of
from cards.exercises.threading import threading_exercise
from cards.exercises.threading_error import threading_error_exercise
from cards.exercises.treadling import treadling_exercise
from cards.exercises.tying_up import tie_up_exercise
from cards.exercises.words import listed
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
    return tuple(_warned(each, made) for each in made)


def _warned(exercise: Exercise, others: list[Exercise]) -> Exercise:
    """Return an exercise whose answer sheet says which others show what it asks."""
    telling = [
        each.number for each in others if each is not exercise and _shows(each.given, exercise)
    ]
    if not telling:
        return exercise
    what = "Exercise" if len(telling) == 1 else "Exercises"
    verb, which = ("shows", "it") if len(telling) == 1 else ("show", "them")
    words = f"{what} {listed(telling)} {verb} what is asked here: hand {which} out afterwards."
    answer = exercise.answer
    return replace(exercise, answer=replace(answer, remarks=(*answer.remarks, words)))


def _shows(given: ShownDraft | Sums, exercise: Exercise) -> bool:
    """Whether what another exercise gives has all that this one asks, at the same places."""
    solved = exercise.answer.shown
    if not isinstance(given, ShownDraft) or not isinstance(solved, ShownDraft):
        return False
    if exercise.written or given.coloured != solved.coloured:
        return False
    pairs = [
        (getattr(given, name), getattr(solved, name))
        for name in ("threading", "tie_up", "treadling", "drawdown")
    ]
    asked = [(one, two) for one, two in pairs if two is not None and two.asked.any()]
    return all(
        one is not None
        and one.marks.shape == two.marks.shape
        and not (one.asked & two.asked).any()
        and (one.marks == two.marks)[two.asked].all()
        for one, two in asked
    )


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
