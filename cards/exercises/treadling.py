"""The treadling, or the lift plan, to be filled in: threading, tie-up and drawdown are given.

Any treadles are right that raise the ends that lie over the pick, and no others: one, or as many
together as the draft presses anywhere. Of a lift plan only the shafts are asked that have an end in
the part that is shown.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping
from dataclasses import replace
from itertools import combinations

import numpy as np

from cards.exercises.blanks import chosen_blanks
from cards.exercises.exercise import Answer, Exercise, Field, Marks
from cards.exercises.part import Part, Shed
from cards.exercises.words import listed, nothing_to_ask
from cards.loom.pressing import Action, press
from cards.spec import SpecExercise
from cards.spec.words import in_words


def treadling_exercise(number: int, wanted: SpecExercise, part: Part, seed: str) -> Exercise:
    """Return an exercise in which picks are found. Raises CannotExercise."""
    if len(set(part.lifts)) < 2:
        raise nothing_to_ask("every pick of the part shown is the same")
    name = "treadling" if part.tied else "lift plan"
    rows = range(len(part.picks))
    blanks = chosen_blanks(rows, wanted.blanks, seed, f"the {name} shown")
    picture = part.picture()
    asked = np.zeros_like(picture.treadling.marks)
    asked[np.ix_(blanks, _asked_columns(part))] = True
    filled = replace(picture, treadling=Field(picture.treadling.marks, asked))
    right = {row: _right(part, row) for row in blanks}
    several = any(len(each) > 1 for each in right.values())
    return Exercise(
        number,
        "treadling",
        f"Fill in the {name}",
        wanted.words or _task(part, whole=len(blanks) == len(rows), several=several),
        part.words,
        replace(filled, treadling=filled.treadling.blanked()),
        len(blanks),
        Answer(filled, tuple(_remarks(part, right)), _by_pick(right)),
    )


def _by_pick(
    right: Mapping[int, frozenset[Shed]],
) -> tuple[tuple[Hashable, frozenset[Hashable]], ...]:
    return tuple((row, frozenset[Hashable](sheds)) for row, sheds in right.items())


def _asked_columns(part: Part) -> list[int]:
    """Return the places of the columns that the cloth tells: all treadles, or threaded shafts."""
    if part.tied:
        return list(range(len(part.columns)))
    return [place for place, shaft in enumerate(part.columns) if shaft in part.threading]


def _right(part: Part, row: int) -> frozenset[Shed]:
    """Return all that may be pressed, or raised, at a pick."""
    up = part.over[row]
    if not part.tied:
        return frozenset({part.lifts[row] & frozenset(part.threading)})
    return frozenset(pressed for pressed in presses(part) if (ends_up(part, pressed) == up).all())


def presses(part: Part) -> Iterable[Shed]:
    """Yield what may be pressed for a pick: as many treadles together as the draft presses."""
    numbers = {len(pressed) for pressed in part.pressed}
    for many in sorted(numbers | set(range(1, max(numbers) + 1))):
        for pressed in combinations(part.columns, many):
            found = press(
                [each for each in part.loom.tied if each.number in pressed],
                part.threaded,
                _action(part),
            )
            if found.clean:
                yield frozenset(pressed)


def ends_up(part: Part, pressed: Shed) -> Marks:
    """Return which ends of the part are up when treadles are pressed together."""
    cords = [each for each in part.loom.tied if each.number in pressed]
    raised = press(cords, part.threaded, _action(part)).raised
    return np.array([shaft in raised for shaft in part.threading], dtype=np.bool_)


def _action(part: Part) -> Action:
    action = part.loom.action
    return action if action in ("sinking", "countermarch") else "rising"  # type: ignore[return-value]


def _task(part: Part, *, whole: bool, several: bool) -> str:
    name = "treadling" if part.tied else "lift plan"
    what = f"The {name} is missing." if whole else f"Some of the {name} is missing."
    given = "Threading, tie-up and cloth are" if part.tied else "Threading and cloth are"
    sought = "Which treadle was pressed" if part.tied else "Which shafts were raised"
    if any(len(pressed) > 1 for pressed in part.pressed) and part.tied:
        sought = "Which treadles were pressed"
    words = f"{what} {given} given. {sought} for each pick in a framed row? Fill in its cells."
    if several:
        words += " Where two would weave the same, either is right."
    return words


def _remarks(part: Part, right: Mapping[int, frozenset[Shed]]) -> Iterable[str]:
    if not part.tied:
        hidden = [shaft for shaft in part.columns if shaft not in part.threading]
        if hidden:
            what = "Shaft" if len(hidden) == 1 else "Shafts"
            yield f"{what} {listed(hidden)} have no end in this part, and were given."
        return
    groups = {sheds for sheds in right.values() if len(sheds) > 1}
    if not groups:
        yield "Each pick that is asked for has only one right answer."
        return
    for sheds in sorted(groups, key=lambda each: sorted(map(sorted, each))):
        picks = [part.picks[row] + 1 for row, each in right.items() if each == sheds]
        either = in_words(
            [_pressed(each) for each in sorted(sheds, key=lambda s: (len(s), sorted(s)))]
        )
        what = "pick" if len(picks) == 1 else "picks"
        yield f"The same ends rise for {what} {listed(picks)} with {either}: any of them is right."


def _pressed(shed: Shed) -> str:
    numbers = sorted(shed)
    if not numbers:
        return "no treadle"
    name = "treadle" if len(numbers) == 1 else "treadles"
    return f"{name} {in_words([str(each) for each in numbers], 'and')}"
