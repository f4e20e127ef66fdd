"""How often the threads of a weave change from face to back: its intersections.

An intersection is where a pick passes between two neighbouring ends, one of them over it and the
other under it; for the ends the same the other way. They are counted along every thread of a
repeat, round its edge to its beginning; where nothing repeats, over all gaps there are.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

import numpy as np
from numpy.typing import NDArray

Numbers = NDArray[np.intp]
Cells = NDArray[np.bool_]

_LONGEST_REPEAT: Final = 2000
_AT_ONCE: Final = 1 << 20  # cells compared in one go


@dataclass(frozen=True, slots=True)
class Interlacing:
    """Threads of one repeat and the mean intersections of the other system along them.

    `whole` tells whether there is a repeat; else `threads` are all there are.
    """

    threads: int
    intersections: Fraction
    whole: bool

    @property
    def share(self) -> float:
        """Intersections for each thread: 1 in plain weave, the most there can be."""
        return float(self.intersections / self.threads)


def interlacings(
    threading: Sequence[int], lifts: Sequence[frozenset[int]]
) -> tuple[Interlacing, Interlacing] | None:
    """Return the intersections between the ends, and those between the picks, of one layer.

    `threading` has the shaft of every end, `lifts` the raised shafts of every pick. None for a
    layer of fewer than two ends or picks. Ends on one shaft are alike, and so are picks of one
    lift, so the work grows with threads, not with crossings.

    >>> plain = interlacings([1, 2, 1, 2], [frozenset({1}), frozenset({2})] * 2)
    >>> [(each.threads, int(each.intersections)) for each in plain]
    [(2, 2), (2, 2)]
    """
    if len(threading) < 2 or len(lifts) < 2:
        return None
    over, picks, ends = _kinds(threading, lifts)
    across, along = _repeat(ends), _repeat(picks)
    return (
        _interlacing(over, picks[: along or None], ends, across),
        _interlacing(over.T, ends[: across or None], picks, along),
    )


def _kinds(
    threading: Sequence[int], lifts: Sequence[frozenset[int]]
) -> tuple[Cells, Numbers, Numbers]:
    """Return which kinds of ends lie over which kinds of picks, and the kind of every thread."""
    known: dict[frozenset[int], int] = {}
    lift_of = np.array([known.setdefault(lift, len(known)) for lift in lifts], dtype=np.intp)
    shafts, shaft_of = np.unique(np.asarray(threading, dtype=np.intp), return_inverse=True)
    raised = np.array([[shaft in lift for shaft in shafts.tolist()] for lift in known], dtype=bool)
    rows, row_of = np.unique(raised, axis=0, return_inverse=True)
    over, column_of = np.unique(rows, axis=1, return_inverse=True)
    return over, row_of.reshape(-1)[lift_of], column_of.reshape(-1)[shaft_of.reshape(-1)]


def _repeat(kinds: Numbers) -> int:
    """Return the length of the repeat of a row of threads, 0 if it does not come twice."""
    for length in range(1, min(len(kinds) // 2, _LONGEST_REPEAT) + 1):
        if kinds[length] == kinds[0] and np.array_equal(kinds[length:], kinds[:-length]):
            return length
    return 0


def _interlacing(over: Cells, across: Numbers, threads: Numbers, repeat: int) -> Interlacing:
    """Return the intersections between `threads` along those `across` them.

    `over`, shape (kinds across, kinds of threads).
    """
    first = threads[:repeat] if repeat else threads[:-1]
    second = np.roll(first, -1) if repeat else threads[1:]
    kinds = over.shape[1]
    codes, counts = np.unique(first * kinds + second, return_counts=True)
    # Whole numbers far below 2 to the 53rd, which floats multiply exactly and faster.
    times = np.bincount(across, minlength=len(over)).astype(np.float64)
    changes = 0
    block = max(1, _AT_ONCE // len(over))
    for at in range(0, len(codes), block):
        one, other = np.divmod(codes[at : at + block], kinds)
        differ = over[:, one] != over[:, other]
        changes += int(times @ differ @ counts[at : at + block])
    gaps = len(first)
    whole = repeat or len(threads)
    return Interlacing(whole, Fraction(changes * whole, len(across) * gaps), bool(repeat))
