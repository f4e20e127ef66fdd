"""The two sheds that weave all layers together as one cloth, as at the base of a bag.

One shed and its opposite by turns. Ends side by side should lie one over and one under: that is
plain weave at the sett of all layers together, for two layers one to one the lift of each whole
layer by turns (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations, groupby

from cards.draft.layer_weave import Shed


def closed_sheds(
    threading: Sequence[int], shafts: Sequence[tuple[int, ...]]
) -> tuple[Shed, Shed, int]:
    """Return both sheds, and how many ends the longest float between them passes.

    `threading` is the shaft of each end, from 1; `shafts` has those of each layer.

    >>> closed_sheds([1, 2, 3, 4], [(1, 3), (2, 4)])
    (frozenset({1, 3}), frozenset({2, 4}), 1)
    """
    every = frozenset(threading)
    candidates = []
    by_place = frozenset(threading[::2])
    if not by_place & frozenset(threading[1::2]):
        candidates.append(by_place)
    for size in range(1, len(shafts)):
        candidates += [every.intersection(*[sum(some, ())]) for some in combinations(shafts, size)]
    first = min(candidates, key=lambda shed: _longest(threading, shed))
    return first, every - first, _longest(threading, first)


def _longest(threading: Sequence[int], shed: Shed) -> int:
    return max(len(list(run)) for _, run in groupby(shaft in shed for shaft in threading))
