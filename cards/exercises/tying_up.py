"""The tie-up to be filled in: threading, treadling and drawdown are given.

A tie is asked only where the part that is shown tells it. At a pick the shaft moves if any treadle
pressed is tied to move it; so a shaft that does not move is tied to none of them, and one that
moves is tied to the only one of them of which that is not ruled out.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from cards.exercises.blanks import chosen_blanks
from cards.exercises.exercise import Answer, Exercise, Field, Marks
from cards.exercises.part import Part
from cards.exercises.words import nothing_to_ask
from cards.spec import SpecExercise


def tie_up_exercise(number: int, wanted: SpecExercise, part: Part, seed: str) -> Exercise:
    """Return an exercise in which the ties are found. Raises CannotExercise."""
    picture = part.picture()
    if picture.tie_up is None:
        raise nothing_to_ask(f"this draft has no tie-up on {_loom(part)}")
    if part.ties == "both":
        raise nothing_to_ask(
            "of treadles that are pressed together on a countermarch only some cords can be told"
        )
    told = told_ties(part)
    cells: list[tuple[int, int]] = [
        (int(row), int(at)) for row, at in zip(*np.nonzero(told), strict=True)
    ]
    if not cells:
        raise nothing_to_ask("the part shown does not tell a single tie")
    blanks = chosen_blanks(cells, wanted.blanks, seed, "the tie-up, as far as the cloth tells it,")
    asked = np.zeros_like(told)
    asked[tuple(np.array(blanks).T)] = True
    marks = picture.tie_up.marks
    filled = replace(picture, tie_up=Field(marks, asked))
    return Exercise(
        number,
        "tie-up",
        "Fill in the tie-up",
        wanted.words or _task(part, whole=bool(asked.all())),
        part.words,
        replace(filled, tie_up=Field(marks, asked).blanked()),
        len(blanks),
        Answer(
            filled,
            _remarks(told),
            tuple((cell, frozenset({bool(marks[cell])})) for cell in blanks),
        ),
    )


def told_ties(part: Part) -> Marks:
    """Return which ties the part tells, bool, shape (shafts, treadles)."""
    places = {each.number: place for place, each in enumerate(part.tied)}
    told = np.zeros((part.shafts, len(places)), dtype=np.bool_)
    sinking = part.loom.action == "sinking"
    for shaft in set(part.threading):
        moved = [(shaft in lift) is not sinking for lift in part.lifts]
        pairs = list(zip(part.pressed, moved, strict=True))
        none = frozenset().union(*(pressed for pressed, moves in pairs if not moves))
        found = set(none)
        for pressed, moves in pairs:
            left = pressed - none
            if moves and len(left) == 1:
                found |= left
        told[shaft - 1, [places[each] for each in found]] = True
    return told


def _loom(part: Part) -> str:
    return f"'{part.loom.name}'" if part.loom.name else f"a {part.loom.action} loom"


def _task(part: Part, *, whole: bool) -> str:
    what = "The tie-up is missing." if whole else "Framed cells of the tie-up are empty."
    how = "write its number" if part.ways.tie_up_as == "numbers" else "mark it"
    return (
        f"{what} Threading, treadling and cloth are given. Look up at the picks of each treadle "
        f"which ends are up, and find out which shafts {part.ties} with it: {how} in the framed "
        "cells."
    )


def _remarks(told: Marks) -> tuple[str, ...]:
    if told.all():
        return ()
    return ("The cells that are not framed were given: this part of the cloth does not tell them.",)
