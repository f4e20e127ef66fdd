"""Which threads hang together: the layers of a cloth, from its drawdown alone.

Every crossing says which of two threads is above, so ends and picks form a bipartite tournament,
and the layers are its strongly connected components, one above the other (C. R. J. Clapham, When a
fabric hangs together, Bull. London Math. Soc. 12, 1980). Row and column sums are enough. Let the
t ends with the most picks below them and the s picks with the fewest ends above them be taken off
the top, of m picks: the cloth parts cleanly beneath them exactly when the t column sums less the s
row sums make t (m - s), which they can never exceed. For one s the left side less the right is
concave in t, so the cuts of that s stand side by side, at the ends whose column sum is m - s.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Cuts = NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class Layer:
    """Threads that hang together, counted from 0; a thread that never interlaces is one alone."""

    ends: tuple[int, ...]
    picks: tuple[int, ...]


def layers(drawdown: NDArray[np.bool_]) -> tuple[Layer, ...]:
    """Return the layers of a `drawdown`, bool, shape (picks, ends), true = end over pick.

    The top comes first; lone threads of one kind at one height come in their own order. Time and
    memory are those of adding up the cells. Raises ValueError unless the array has two dimensions.
    """
    if drawdown.ndim != 2:
        raise ValueError(f"a drawdown has picks and ends, not {drawdown.ndim} dimensions")
    below_end = drawdown.sum(axis=0, dtype=np.int64)
    above_pick = drawdown.sum(axis=1, dtype=np.int64)
    ends = np.argsort(-below_end, kind="stable")
    picks = np.argsort(above_pick, kind="stable")
    cut_picks, cut_ends = _cuts(below_end[ends], above_pick[picks])
    return tuple(
        Layer(_threads(ends, cut_ends, place), _threads(picks, cut_picks, place))
        for place in range(len(cut_ends) - 1)
    )


def _cuts(below_end: NDArray[np.int64], above_pick: NDArray[np.int64]) -> tuple[Cuts, Cuts]:
    """Return how many picks and ends lie above each clean cut, from no threads to all of them.

    `below_end` falls, `above_pick` rises.
    """
    picks = len(above_pick)
    taken = np.arange(picks + 1)
    ends_sum = np.concatenate(([0], np.cumsum(below_end)))
    picks_sum = np.concatenate(([0], np.cumsum(above_pick)))
    least = np.searchsorted(-below_end, taken - picks, side="left")
    most = np.searchsorted(-below_end, taken - picks, side="right")
    clean = ends_sum[least] - picks_sum == least * (picks - taken)
    taken, least, most = taken[clean], least[clean], most[clean]
    beside = most - least + 1
    first = np.repeat(np.cumsum(beside) - beside, beside)
    return np.repeat(taken, beside), np.repeat(least, beside) + np.arange(len(first)) - first


def _threads(order: NDArray[np.intp], cuts: Cuts, place: int) -> tuple[int, ...]:
    return tuple(np.sort(order[cuts[place] : cuts[place + 1]]).tolist())
