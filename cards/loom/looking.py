"""Treadles that raise just some shafts, such as those of the upper layers, to look underneath."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

from cards.loom.pressing import Action, Treadle, press

# A foot presses one treadle.
_FEET = 2


def treadles_raising(
    shafts: frozenset[int], tied: Sequence[Treadle], threaded: frozenset[int], action: Action
) -> tuple[int, ...]:
    """Return the fewest treadles, two at most, that raise just these of the threaded shafts.

    Nothing where no treadles do so.

    >>> tied = Treadle(1, (1,), ()), Treadle(2, (3,), ())
    >>> treadles_raising(frozenset({1, 3}), tied, frozenset({1, 2, 3, 4}), "rising")
    (1, 2)
    """
    for number in range(1, _FEET + 1):
        for pressed in combinations(tied, number):
            found = press(pressed, threaded, action)
            if found.clean and found.raised & threaded == shafts:
                return tuple(each.number for each in pressed)
    return ()


def treadle_raising(
    number: int, shafts: frozenset[int], threaded: frozenset[int], action: Action
) -> Treadle:
    """Return a treadle whose cords raise just these of the threaded shafts."""
    rise = () if action == "sinking" else tuple(sorted(shafts))
    sink = () if action == "rising" else tuple(sorted(threaded - shafts))
    return Treadle(number, rise, sink)
