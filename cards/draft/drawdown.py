"""The drawdown: threading x lifts, as an array of which end lies over which pick.

Ends are drawn on shafts numbered from 1; a pick raises some shafts, and every end on a raised
shaft lies over it. A lift that comes again is looked up, so long cloths cost only their copying.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray


def drawdown(threading: Sequence[int], lifts: Sequence[frozenset[int]]) -> NDArray[np.bool_]:
    """Return the drawdown, bool, shape (picks, ends), true where the end is over the pick.

    `threading` is the shaft of each end, `lifts` the raised shafts of each pick; shafts count from
    1, and a raised shaft without ends is no mistake. Raises ValueError for a shaft below 1.

    >>> drawdown([1, 2, 1], [frozenset({1}), frozenset({2})]).astype(int)
    array([[1, 0, 1],
           [0, 1, 0]])
    """
    shafts = np.asarray(threading, dtype=np.intp)
    known: dict[frozenset[int], int] = {}
    which = np.array([known.setdefault(lift, len(known)) for lift in lifts], dtype=np.intp)
    _check_shafts(shafts, known)
    most = max((max(lift, default=0) for lift in known), default=0)
    raised = np.zeros((len(known), max(most, shafts.max(initial=0)) + 1), dtype=np.bool_)
    for lift, row in known.items():
        raised[row, list(lift)] = True
    return raised[:, shafts][which]


def lifts_of(
    treadling: Sequence[frozenset[int]], tie_up: Mapping[int, tuple[int, ...]]
) -> list[frozenset[int]]:
    """Return the shafts that rise at each pick: those of all treadles pressed together.

    `treadling` is the treadles pressed at each pick, `tie_up` the shafts that rise with each
    treadle. Raises ValueError for a treadle that is not tied.
    """
    known: dict[frozenset[int], frozenset[int]] = {}
    lifts = []
    for pick, pressed in enumerate(treadling):
        if pressed not in known:
            missing = sorted(pressed - tie_up.keys())
            if missing:
                raise ValueError(f"pick {pick + 1} presses treadle {missing[0]}, which is not tied")
            known[pressed] = frozenset(shaft for each in pressed for shaft in tie_up[each])
        lifts.append(known[pressed])
    return lifts


def _check_shafts(shafts: NDArray[np.intp], lifts: Mapping[frozenset[int], int]) -> None:
    if shafts.min(initial=1) < 1:
        end = int(np.argmax(shafts < 1))
        raise ValueError(f"end {end + 1} is on shaft {shafts[end]}; shafts count from 1")
    lowest = min((min(lift, default=1) for lift in lifts), default=1)
    if lowest < 1:
        raise ValueError(f"a lift raises shaft {lowest}; shafts count from 1")
