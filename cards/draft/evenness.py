"""Whether the sheds of one layer raise equally many of its shafts, and every shaft equally often.

Regular weaves do both. Where one shed and one shaft alone are out by one, and in the same sense,
the crossing of the two is wrong.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Cells = NDArray[np.bool_]

# Two that agree outvote the third.
FEWEST = 3


def odd_crossing(own: Cells) -> tuple[int, int] | None:
    """Return the shed and the shaft whose crossing makes both uneven, or None.

    `own` is the weave of a layer, shape (sheds, shafts), true where the shaft is raised; each shed
    stands once.
    """
    shed, shaft = _odd_one(own.sum(axis=1)), _odd_one(own.sum(axis=0))
    if shed is None or shaft is None or shed[1] != shaft[1]:
        return None
    return (shed[0], shaft[0]) if own[shed[0], shaft[0]] == (shed[1] > 0) else None


def unevenness(own: Cells) -> int:
    """Return by how much the fullest and the emptiest shed differ, and shafts likewise."""
    return sum(int(np.ptp(own.sum(axis=axis))) for axis in (0, 1) if own.size)


def _odd_one(counts: NDArray[np.int64]) -> tuple[int, int] | None:
    """Return the only one of the counts that is one off from all others, and which way."""
    if len(counts) < FEWEST:
        return None
    usual = int(np.median(counts))
    off = np.flatnonzero(counts != usual)
    if len(off) != 1 or abs(int(counts[off[0]]) - usual) != 1:
        return None
    return int(off[0]), int(counts[off[0]]) - usual
