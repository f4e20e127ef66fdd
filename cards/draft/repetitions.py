"""Where a list repeats itself: its maximal repetitions.

A maximal repetition is a stretch [start, stop) that has a smallest period, holds at least two of
it, and cannot be lengthened either way. A list of n values has fewer than n of them (Bannai and
others, The "runs" theorem, SIAM J. Comput. 46, 2017; from memory), and every group standing
twice or more side by side lies inside one.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

# One byte a value lets a list of 20,000 be compared with itself at every shift in half a second.
Codes = NDArray[np.uint8] | NDArray[np.int64]


class Repetition(NamedTuple):
    """A stretch [start, stop) of period `period`."""

    start: int
    stop: int
    period: int


def repetitions(codes: Codes) -> list[Repetition]:
    """Return the maximal repetitions of a list of small numbers, shape (n,), shortest period first.

    Compares the list with itself at every shift up to half of it: n²/2 cells, in numpy.
    """
    found: dict[tuple[int, int], int] = {}
    for period in range(1, len(codes) // 2 + 1):
        unlike = np.flatnonzero(codes[period:] != codes[:-period])
        edges = np.concatenate(([-1], unlike, [len(codes) - period]))
        for gap in np.flatnonzero(np.diff(edges) > period):
            stretch = int(edges[gap]) + 1, int(edges[gap + 1]) + period
            # The smallest period of a stretch is met first; its multiples are the same stretch.
            found.setdefault(stretch, period)
    return [Repetition(start, stop, period) for (start, stop), period in found.items()]
