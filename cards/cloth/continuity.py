"""Whether the weave runs on where the weft goes over a fold, an edge of a tube, or a selvedge.

Where the weft passes between layers the cloth turns over, so the weft stays on one face of the
opened cloth when the last end it leaves and the first end it enters are one raised and one not. In
plain weave both must therefore have the same state. Other weaves have floats, and one may lie over
the edge, if it is no longer than the weave makes it elsewhere: that is the same rule for a weave
whose floats are of one thread. Where the weft turns back within a layer it catches the edge end
when that end is over one of the two picks and under the other.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from cards.cloth.layers import Layer
from cards.cloth.weft_path import Flags, Numbers, Side, WeftPath, side_at

Cells = NDArray[np.bool_]
Kind = Literal["doubled", "long float", "edge missed"]

# A float is regular unless at most so many of all on its face are longer: a slip of the threading
# here and there must not excuse a fault at the fold.
RARE: Final = 1 / 20

# Rows are looked through so many cells at a time, which bounds the memory.
AT_ONCE: Final = 1 << 22


@dataclass(frozen=True, slots=True)
class Fault:
    """What is wrong at a turn: after `pick` (from 0), at `side`, between `layers` (from 0).

    `threads` is the length of the float over a fold or an edge, in ends; `doubled` is such a float
    in a weave whose every float is one thread long. `edge missed`: the weft turns back in one layer
    without catching its last end.
    """

    pick: int
    side: Side
    kind: Kind
    layers: tuple[int, int]
    threads: int


def find_faults(drawdown: Cells, layers: Sequence[Layer], path: WeftPath) -> tuple[Fault, ...]:
    """Return the faults of all turns in the order of their picks.

    `drawdown` is bool, shape (picks, ends), true = end over pick; `layers` are its layers, to which
    the numbers of `path` refer. Turns in or out of a layer without ends are left out.
    """
    has_ends = np.array([bool(layer.ends) for layer in layers], dtype=np.bool_)
    whole = has_ends[path.layers[path.before]] & has_ends[path.layers[path.after]]
    found = _at_folds(drawdown, layers, path, path.passing & whole)
    found += _at_selvedges(drawdown, layers, path, ~path.passing & whole)
    return tuple(sorted(found, key=lambda fault: fault.pick))


def fold_faults(faults: Sequence[Fault]) -> tuple[Fault, ...]:
    """Return those of the faults that lie at a fold or at an edge of a tube."""
    return tuple(fault for fault in faults if fault.kind != "edge missed")


def edge_floats(drawdown: Cells, picks: Numbers, inward: Numbers) -> tuple[Flags, Numbers]:
    """Return the state of the edge end at each of the picks, and how many ends in a row share it.

    `inward` is the ends of a layer, not none, from its edge inward. Shapes (picks,).
    """
    state = drawdown[picks, inward[0]]
    length = np.ones(len(picks), dtype=np.intp)
    going = np.arange(len(picks))
    for end in inward[1:].tolist():
        going = going[drawdown[picks[going], end] == state[going]]
        if not len(going):
            break
        length[going] += 1
    return state, length


def floats_over(
    first: tuple[Flags, Numbers], second: tuple[Flags, Numbers]
) -> tuple[Flags, Numbers]:
    """Return which turns leave the weft on one face, and how many ends it floats past there.

    Both are edge floats as `edge_floats` gives them, of the picks before and after each turn.
    """
    joined = first[0] != second[0]
    return joined, np.where(joined, first[1] + second[1], np.maximum(first[1], second[1]))


def regular_floats(cells: Cells) -> tuple[int, int]:
    """Return how long weft floats regularly are in one layer: over its ends, and under them.

    `cells` is the drawdown of that layer alone, true = end over pick. Of all floats on a face at
    most a twentieth are longer.
    """
    ends = cells.shape[1]
    most = np.zeros((2, ends + 1), dtype=np.int64)
    rows, counts = _alike(cells)
    step = max(1, AT_ONCE // max(1, ends))
    for first in range(0, len(rows), step):
        part = cells[rows[first : first + step]]
        state, length, row = _runs(part)
        weight = counts[first : first + step][row]
        for face in (0, 1):
            here = state == face
            most[face] += np.bincount(
                length[here], weights=weight[here], minlength=ends + 1
            ).astype(np.int64)
    return _regular(most[0]), _regular(most[1])


def _at_folds(
    drawdown: Cells, layers: Sequence[Layer], path: WeftPath, turns: Flags
) -> list[Fault]:
    @cache
    def regular(layer: int) -> tuple[int, int]:
        return regular_floats(drawdown[np.ix_(layers[layer].picks, layers[layer].ends)])

    found: list[Fault] = []
    for leaves, enters, right, which in _groups(path, turns):
        side = side_at(right)
        first = edge_floats(drawdown, path.before[which], _inward(layers[leaves], side, path))
        second = edge_floats(drawdown, path.after[which], _inward(layers[enters], side, path))
        joined, length = floats_over(first, second)
        face = first[0].astype(np.intp)
        limits = np.maximum(np.array(regular(leaves))[face], np.array(regular(enters))[1 - face])
        bad = joined & (length > limits)
        told = (path.before[which][bad], length[bad], limits[bad])
        for pick, threads, limit in zip(*(each.tolist() for each in told), strict=True):
            kind: Kind = "doubled" if limit == 1 else "long float"
            found.append(Fault(pick, side, kind, (leaves, enters), threads))
    return found


def _at_selvedges(
    drawdown: Cells, layers: Sequence[Layer], path: WeftPath, turns: Flags
) -> list[Fault]:
    found: list[Fault] = []
    for layer, _, right, which in _groups(path, turns):
        side = side_at(right)
        edge = _inward(layers[layer], side, path)[0]
        before, after = path.before[which], path.after[which]
        missed = drawdown[before, edge] == drawdown[after, edge]
        found.extend(
            Fault(pick, side, "edge missed", (layer, layer), 1) for pick in before[missed].tolist()
        )
    return found


def _groups(path: WeftPath, turns: Flags) -> list[tuple[int, int, bool, Numbers]]:
    """Return the turns by the layers they leave and enter and by their side."""
    which = np.flatnonzero(turns)
    leaves, enters = path.layers[path.before[which]], path.layers[path.after[which]]
    several = int(path.layers.max(initial=0)) + 1
    keys = (leaves * several + enters) * 2 + path.at_right[which]
    return [
        (key // 2 // several, key // 2 % several, bool(key % 2), which[keys == key])
        for key in sorted(set(keys.tolist()))
    ]


def _inward(layer: Layer, side: Side, path: WeftPath) -> Numbers:
    ends = np.array(layer.ends, dtype=np.intp)
    return ends if side == path.plan.first_end else ends[::-1]


def _alike(cells: Cells) -> tuple[Numbers, Numbers]:
    """Return one of each kind of row, and how many rows there are of it."""
    packed = np.packbits(cells, axis=1)
    if not packed.size:
        return np.arange(0), np.arange(0)
    whole = np.ascontiguousarray(packed).view(f"V{packed.shape[1]}").reshape(-1)
    _, first, counts = np.unique(whole, return_index=True, return_counts=True)
    return first, counts


def _runs(cells: Cells) -> tuple[Flags, Numbers, Numbers]:
    """Return state, length and row of every stretch of like cells in the rows."""
    rows, width = cells.shape
    begins = np.ones((rows, width + 1), dtype=np.bool_)
    np.not_equal(cells[:, 1:], cells[:, :-1], out=begins[:, 1:-1])
    at = np.flatnonzero(begins)
    row, column = np.divmod(at, width + 1)
    starts = column < width
    length = np.diff(at, append=at[-1:])[starts]
    return cells[row[starts], column[starts]], length, row[starts]


def _regular(counts: NDArray[np.int64]) -> int:
    """Return the smallest length that at most a rare float exceeds; `counts` is by length."""
    longer = counts.sum() - np.cumsum(counts)
    return int(np.argmax(longer <= RARE * counts.sum()))
