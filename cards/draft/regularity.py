"""Where a row of threads leaves the order that it otherwise keeps.

A slip is a rare thing in a regular row. What comes again and again is a design, whatever it is,
and so is what has no order at all.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from cards.cloth.continuity import RARE
from cards.cloth.weft_path import Numbers

# An end breaks the order twice: where it is and where it is missed, or beside it on both sides. So
# do picks, and of those two are exchanged.
ALONG_WEFT: Final = 2
ALONG_WARP: Final = 4

# In a narrow sample one slip is more than a twentieth; a design has more than one break in so many.
ENOUGH: Final = 6

# A round of the layers longer than this is taken for none.
LONGEST_ROUND: Final = 64


def rare(count: int, places: int, slip: int) -> bool:
    """Whether so few of all places are a slip, which takes up to `slip` of them, and no design."""
    return count <= max(RARE * places, min(slip, places // ENOUGH))


def round_breaks(row: Numbers, slip: int) -> tuple[Numbers, int]:
    """Return the places that differ from those one round before, and the length of the round.

    Such places are rare. If they are not, whatever the round, the row has no order: the length is
    then 0. A round comes at least three times.
    """
    best, best_round = np.arange(0), 0
    for length in range(1, min(LONGEST_ROUND, len(row) // 3) + 1):
        places = np.flatnonzero(row[length:] != row[:-length])
        if not len(places):
            return places, length
        fewer = not best_round or len(places) < len(best)
        if fewer and rare(len(places), len(row) - length, slip):
            best, best_round = places + length, length
    return best, best_round


def breaks_of_round(row: Numbers, length: int) -> int:
    """Return how many places differ from those one round before; none if the length is 0."""
    return int(np.count_nonzero(row[length:] != row[:-length])) if length else 0


def period_of(row: Numbers) -> int:
    """Return the shift at which a row agrees best with itself, the shortest of equals."""
    longest = min(LONGEST_ROUND, len(row) // 2)
    agree = [float(np.mean(row[by:] == row[:-by])) for by in range(1, longest + 1)]
    return 1 + int(np.argmax(agree)) if agree else 0


def rarest_first(codes: Numbers, *, going_round: bool) -> Numbers:
    """Return the places of a row, those first whose neighbourhood is the rarest.

    A neighbourhood is a place and the two beside it; `going_round`, the last is beside the first.
    """
    known = np.unique(codes, return_inverse=True)[1].reshape(-1).astype(np.int64) + 1
    left, right = np.roll(known, 1), np.roll(known, -1)
    if not going_round:
        left[0] = right[-1] = 0
    size = int(known.max(initial=0)) + 1
    keys = (left * size + known) * size + right
    _, which, counts = np.unique(keys, return_inverse=True, return_counts=True)
    return np.argsort(counts[which.reshape(-1)], kind="stable")
