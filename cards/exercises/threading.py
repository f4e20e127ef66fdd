"""The threading to be filled in: drawdown, tie-up and treadling are given.

An end is on a shaft that rises at just the picks over which the end lies. Shafts that rise at the
same picks cannot be told apart, and each of them is right.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable
from dataclasses import replace

import numpy as np

from cards.exercises.blanks import chosen_blanks
from cards.exercises.exercise import Answer, Exercise, Field
from cards.exercises.part import Part
from cards.exercises.words import listed, nothing_to_ask
from cards.spec import SpecExercise


def threading_exercise(number: int, wanted: SpecExercise, part: Part, seed: str) -> Exercise:
    """Return an exercise in which shafts of ends are found. Raises CannotExercise."""
    if not any(part.lifts) or len({part.rising(shaft) for shaft in _shafts(part)}) < 2:
        raise nothing_to_ask("all shafts shown rise alike, so the cloth tells none from another")
    ends = range(len(part.threading))
    where = "the threading shown"
    blanks = chosen_blanks(ends, wanted.blanks, seed, where)
    picture = part.picture()
    asked = np.zeros_like(picture.threading.marks)
    asked[:, blanks] = True
    filled = replace(picture, threading=Field(picture.threading.marks, asked))
    right = {end: _alike(part, part.threading[end]) for end in blanks}
    ambiguous = any(len(shafts) > 1 for shafts in right.values())
    return Exercise(
        number,
        "threading",
        "Fill in the threading",
        wanted.words or _task(part, whole=len(blanks) == len(ends), ambiguous=ambiguous),
        part.words,
        replace(filled, threading=filled.threading.blanked()),
        len(blanks),
        Answer(filled, tuple(_remarks(part, right)), _right(right)),
    )


def _right(right: dict[int, frozenset[int]]) -> tuple[tuple[Hashable, frozenset[Hashable]], ...]:
    return tuple((end, frozenset[Hashable](shafts)) for end, shafts in right.items())


def _shafts(part: Part) -> range:
    return range(1, part.shafts + 1)


def _alike(part: Part, shaft: int) -> frozenset[int]:
    """Return the shafts that rise at the same picks as one of them."""
    return frozenset(each for each in _shafts(part) if part.rising(each) == part.rising(shaft))


def _task(part: Part, *, whole: bool, ambiguous: bool) -> str:
    what = "The threading is missing." if whole else "Some of the threading is missing."
    by = "the tie-up and the treadling" if part.tied else "the lift plan"
    words = (
        f"{what} The cloth was woven with {by} shown beside it. On which shaft is each end in a "
        "framed column? Fill in one cell of each."
    )
    if ambiguous:
        words += " Where two shafts would weave the same, either is right."
    return words


def _remarks(part: Part, right: dict[int, frozenset[int]]) -> Iterable[str]:
    groups = {shafts for shafts in right.values() if len(shafts) > 1}
    if not groups:
        yield "Each end that is asked for can only be on one shaft."
        return
    for shafts in sorted(groups, key=min):
        ends = [part.ends[end] + 1 for end, each in right.items() if each == shafts]
        what = "end" if len(ends) == 1 else "ends"
        right_one = "either" if len(shafts) == 2 else "any of them"
        yield (
            f"Shafts {listed(sorted(shafts))} rise at the same picks, so {right_one} is right for "
            f"{what} {listed(ends)}. The drawing has the shaft of the draft."
        )
