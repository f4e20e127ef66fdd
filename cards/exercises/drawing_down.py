"""The drawdown to be drawn, in black and white or in the yarns that lie on top."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from cards.exercises.blanks import chosen_blanks, no_blanks
from cards.exercises.exercise import Answer, Exercise, Field
from cards.exercises.part import Part
from cards.exercises.words import nothing_to_ask
from cards.spec import SpecExercise


def drawdown_exercise(number: int, wanted: SpecExercise, part: Part, seed: str) -> Exercise:
    """Return an exercise in which the drawdown is drawn. Raises CannotExercise."""
    picture, over = part.picture(), part.over
    cells = [(pick, end) for pick in range(len(part.picks)) for end in range(len(part.ends))]
    blanks = chosen_blanks(cells, wanted.blanks, seed, "the drawdown shown")
    asked = np.zeros_like(over)
    asked[tuple(np.array(blanks).T)] = True
    filled = replace(picture, drawdown=Field(over, asked))
    return Exercise(
        number,
        "drawdown",
        "Draw the drawdown",
        wanted.words or _task(part, whole=bool(asked.all())),
        part.words,
        replace(filled, drawdown=filled.drawdown.blanked()),
        len(blanks),
        Answer(filled, right=tuple((cell, frozenset({bool(over[cell])})) for cell in blanks)),
    )


def _task(part: Part, *, whole: bool) -> str:
    what = "The drawdown is empty." if whole else "Framed cells of the drawdown are empty."
    by = "threading, tie-up and treadling" if part.tied else "threading and lift plan"
    top = "warp end lies over the weft" if part.ways.filled == "warp" else "weft lies over the end"
    return (
        f"{what} Work out from {by} which ends are up at every pick, and fill in each cell in "
        f"which the {top}."
    )


def colour_exercise(number: int, wanted: SpecExercise, part: Part, _seed: str) -> Exercise:
    """Return a drawdown to colour in. Raises CannotExercise."""
    no_blanks(wanted.blanks, "colour")
    if part.layers > 1:
        raise nothing_to_ask(
            "of layers that lie one above the other a drawdown does not show the colours on top"
        )
    if len({yarn.key for yarn in (*part.warp, *part.weft)}) < 2:
        raise nothing_to_ask("warp and weft are of one yarn, so there is nothing to colour in")
    over = part.over
    picture = replace(part.picture(), warp=part.warp, weft=part.weft)
    filled = replace(picture, drawdown=Field(over, np.ones_like(over)), coloured=True)
    empty = replace(filled, drawdown=filled.drawdown.blanked(), coloured=False)
    on_top = {
        (pick, end): part.warp[end].key if up else part.weft[pick].key
        for (pick, end), up in np.ndenumerate(over)
    }
    return Exercise(
        number,
        "colour",
        "Colour the cloth in",
        wanted.words or _COLOURING,
        part.words,
        empty,
        over.size,
        Answer(filled, right=tuple((cell, frozenset({key})) for cell, key in on_top.items())),
    )


_COLOURING = (
    "Each end and each pick has a patch with the letter of its yarn. Work out at every crossing "
    "which of the two lies on top, and colour the cell as that one is. Take a pencil for each "
    "yarn, or write its letter."
)
