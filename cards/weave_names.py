"""The name of a weave, where it has one that everybody knows: plain weave, or a twill.

Only what the cells show is named; where ends or picks do not follow one another evenly there is
no name, and nothing is guessed.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

_MOST_ENDS = 64
_MOST_PICKS = 32
_LONGEST = 12  # threads in the repeat of a twill


def weave_name(cells: NDArray[np.bool_]) -> str:
    """Return the name of what a drawdown (picks, ends) weaves in its middle, empty if it has none.

    A twill is named by how many picks an end lies over and under: 2/2, 1/3. Edges are left out,
    where a selvedge may be threaded otherwise.

    >>> rows = np.arange(8)[:, None] + np.arange(8)[None, :]
    >>> weave_name(rows % 2 == 0), weave_name(rows % 4 < 2), weave_name(rows % 4 < 3)
    ('plain weave', '2/2 twill', '3/1 twill')
    >>> weave_name(rows % 5 % 2 == 0)
    ''
    """
    middle = _middle(cells)
    if min(middle.shape, default=0) < 2:
        return ""
    if (middle[:-1] ^ middle[1:]).all() and (middle[:, :-1] ^ middle[:, 1:]).all():
        return "plain weave"
    slopes = (middle[1:, 1:] == middle[:-1, :-1], middle[1:, :-1] == middle[:-1, 1:])
    if not any(bool(slope.all()) for slope in slopes):
        return ""
    return _twill(middle[:, middle.shape[1] // 2])


def _middle(cells: NDArray[np.bool_]) -> NDArray[np.bool_]:
    picks, ends = cells.shape
    first = max(0, (picks - _MOST_PICKS) // 2), max(0, (ends - _MOST_ENDS) // 2)
    return cells[first[0] : first[0] + _MOST_PICKS, first[1] : first[1] + _MOST_ENDS]


def _twill(end: NDArray[np.bool_]) -> str:
    """Return the name of a twill from one of its ends: once over, once under in every repeat."""
    for period in range(3, min(_LONGEST, len(end) // 2) + 1):
        if (end[period:] == end[:-period]).all():
            once = end[:period]
            turns = int((once != np.roll(once, 1)).sum())
            over = int(once.sum())
            return f"{over}/{period - over} twill" if turns == 2 else ""
    return ""
