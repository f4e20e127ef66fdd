"""What an error in the threading looks like in the cloth, in words."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from cards.cloth.layers import Layer, layers
from cards.exercises.exercise import Marks
from cards.exercises.part import Part
from cards.exercises.words import listed


def how_it_looks(part: Part, threading: Sequence[int], ends: Sequence[int]) -> str:
    """Return what shows where `ends`, counted from 0, are threaded wrongly."""
    right, wrong = part.over, part.woven(threading)
    told = (
        _in_layers(part, right, wrong, ends),
        _doubled(part, right, wrong, ends),
        _floats(right, wrong, ends),
    )
    return " ".join(words for words in told if words) or _BROKEN


_BROKEN = "The lines of the weave break off at this place."


def _in_layers(part: Part, right: Marks, wrong: Marks, ends: Sequence[int]) -> str:
    """Return what it does to the layers: it binds them, or an end weaves in another one."""
    if part.layers < 2:
        return ""
    before, after = layers(right), layers(wrong)
    if sum(_woven(each) for each in after) < sum(_woven(each) for each in before):
        return "It binds layers together along a line, the whole length of the cloth."
    if any(_place(before, end) != _place(after, end) for end in ends):
        return (
            "It weaves in another layer: there is a gap in its own cloth, and an end too many in "
            "the other."
        )
    return ""


def _woven(layer: Layer) -> bool:
    return bool(layer.ends and layer.picks)


def _place(found: Sequence[Layer], end: int) -> int:
    return next(place for place, layer in enumerate(found) if end in layer.ends)


def _doubled(part: Part, right: Marks, wrong: Marks, ends: Sequence[int]) -> str:
    """Return which neighbours now rise together that did not before."""
    for end in ends:
        first = last = end
        while first > 0 and _alike(wrong, first - 1, end):
            first -= 1
        while last + 1 < wrong.shape[1] and _alike(wrong, last + 1, end):
            last += 1
        together = range(first, last + 1)
        if any(not _alike(right, each, end) for each in together):
            numbers = listed(part.ends[each] + 1 for each in together)
            return f"Ends {numbers} rise together: they lie side by side like one thick end."
    return ""


def _alike(cloth: Marks, one: int, other: int) -> bool:
    return bool((cloth[:, one] == cloth[:, other]).all())


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
