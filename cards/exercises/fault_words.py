"""What an error in the threading looks like in the cloth, in words."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from cards.cloth.layers import layers
from cards.exercises.exercise import Marks
from cards.exercises.part import Part
from cards.exercises.words import listed


def how_it_looks(part: Part, threading: Sequence[int], ends: Sequence[int]) -> str:
    """Return what shows where `ends`, counted from 0, are threaded wrongly."""
    right, wrong = part.over, part.woven(threading)
    told = (
        _bound(part, right, wrong),
        _doubled(part, right, wrong, ends),
        _floats(right, wrong, ends),
    )
    return " ".join(words for words in told if words) or _BROKEN


_BROKEN = "The lines of the weave break off at this place."


def _bound(part: Part, right: Marks, wrong: Marks) -> str:
    if part.layers < 2:
        return ""
    before, after = (
        sum(1 for each in layers(cloth) if each.ends and each.picks) for cloth in (right, wrong)
    )
    if after < before:
        return "It binds layers together along a line, the whole length of the cloth."
    return ""


def _doubled(part: Part, right: Marks, wrong: Marks, ends: Sequence[int]) -> str:
    """Return which neighbours now rise together that did not before."""
    for end in ends:
        for beside in (end - 1, end + 1):
            if not 0 <= beside < wrong.shape[1]:
                continue
            pair = sorted((end, beside))
            alike = (wrong[:, pair[0]] == wrong[:, pair[1]]).all()
            if alike and not (right[:, pair[0]] == right[:, pair[1]]).all():
                numbers = listed(part.ends[each] + 1 for each in pair)
                return f"Ends {numbers} rise together: they lie side by side like one thick end."
    return ""


def _floats(right: Marks, wrong: Marks, ends: Sequence[int]) -> str:
    before, after = (_longest(cloth, ends) for cloth in (right, wrong))
    if after > before:
        return (
            f"Beside it the weft passes {after} ends at once, where {before} "
            f"{'was' if before == 1 else 'were'} the most."
        )
    return ""


def _longest(cloth: Marks, ends: Sequence[int]) -> int:
    """Return the most ends that a pick passes on one side at once, at or beside some ends."""
    most = 0
    for row in cloth:
        edges = [0, *(np.flatnonzero(row[1:] != row[:-1]) + 1).tolist(), len(row)]
        for start, stop in pairwise(edges):
            if any(start - 1 <= end <= stop for end in ends):
                most = max(most, stop - start)
    return most
