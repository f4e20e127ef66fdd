"""How a grid of filled cells becomes few rectangles, and those become the text of one path.

Both writers fill a grid as one path in units of whole cells, so neighbouring rectangles show no
seam and no coordinate is ever rounded. Rectangles never overlap and together cover exactly the
cells that are filled.
"""

from __future__ import annotations

import re

import numpy as np
from numpy.typing import NDArray

Whole = NDArray[np.int32]


def rectangles(filled: NDArray[np.bool_]) -> Whole:
    """Merge the true cells of a (rows, columns) array into rectangles.

    Returns an int array of shape (n, 4): row, column, rows, columns of each, in reading order.
    Runs along the rows are merged downwards when identical, or runs down the columns sideways,
    whichever leaves fewer.
    """
    if not filled.any():
        return np.empty((0, 4), dtype=np.int32)
    across = _run_lengths(filled)
    down = _run_lengths(np.ascontiguousarray(filled.T))
    heads_across, heads_down = _heads(across), _heads(down)
    if np.count_nonzero(heads_down) < np.count_nonzero(heads_across):
        column, row, columns, rows = _merged(down, heads_down)
        order = np.lexsort((column, row))
        return _columns(row, column, rows, columns)[order]
    return _columns(*_merged(across, heads_across))


def _columns(*columns: Whole) -> Whole:
    table = np.empty((len(columns[0]), len(columns)), dtype=np.int32)
    for place, column in enumerate(columns):
        table[:, place] = column
    return table


_FIELD = re.compile(r"\{([xywh])\}")
_COLUMN = {"x": 0, "h": 1, "w": 2}


def path_text(merged: Whole, template: str) -> str:
    """Write every rectangle by one template, one after another.

    The template has the fields `{x}`, `{y}`, `{w}`, `{h}` in cells. Rows of cells that are alike
    are put together once, which is what makes a long drawdown quick.
    """
    pattern = _FIELD.sub(lambda field: "\0" if field[1] == "y" else "%d", template)
    order = [_COLUMN[name] for name in _FIELD.findall(template) if name != "y"]
    rows, starts = np.unique(merged[:, 0], return_index=True)
    ends = np.append(starts[1:], len(merged))[: len(starts)]
    columns = merged[:, 1:]
    alike: dict[bytes, str] = {}
    written = []
    for row, start, end in zip(rows.tolist(), starts.tolist(), ends.tolist(), strict=True):
        group = columns[start:end]
        key = group.tobytes()
        if key not in alike:
            alike[key] = pattern * (end - start) % tuple(group[:, order].ravel().tolist())
        written.append(alike[key].replace("\0", str(row)))
    return "".join(written)


def _run_lengths(filled: NDArray[np.bool_]) -> Whole:
    """Give, at the first cell of each run along a row, its length; nought everywhere else.

    The result has one column more than the grid, so that a run never goes on into the next row.
    """
    rows, columns = filled.shape
    framed = np.zeros((rows, columns + 1), dtype=np.bool_)
    framed[:, :columns] = filled
    flat = framed.ravel()
    changes = np.flatnonzero(flat[1:] != flat[:-1]) + 1
    if flat[0]:
        changes = np.concatenate(([0], changes))
    lengths = np.zeros(flat.shape, dtype=np.int32)
    lengths[changes[::2]] = changes[1::2] - changes[::2]
    return lengths.reshape(framed.shape)


def _heads(lengths: Whole) -> NDArray[np.bool_]:
    """Tell the runs that do not go on from an identical one in the row above."""
    heads = lengths > 0
    heads[1:] &= lengths[1:] != lengths[:-1]
    return heads


def _merged(lengths: Whole, heads: NDArray[np.bool_]) -> tuple[Whole, Whole, Whole, Whole]:
    """Row, column, rows and columns of the runs merged downwards, in reading order."""
    place = np.flatnonzero(heads).astype(np.int32)
    row, column = np.divmod(place, np.int32(lengths.shape[1]))
    return row, column, _heights(lengths, heads, place), lengths.ravel()[place]


def _heights(lengths: Whole, heads: NDArray[np.bool_], place: Whole) -> Whole:
    """How many rows each merged run covers, in reading order."""
    ends = lengths > 0
    if np.count_nonzero(ends) == len(place):
        return np.ones(len(place), dtype=np.int32)  # no run goes on: a twill, and ten times faster
    ends[:-1] &= lengths[:-1] != lengths[1:]
    # Column by column, the first and the last row of each rectangle follow each other in turn.
    top = np.flatnonzero(np.ascontiguousarray(heads.T))
    bottom = np.flatnonzero(np.ascontiguousarray(ends.T))
    column, row = np.divmod(top, lengths.shape[0])
    heights = np.zeros(lengths.shape, dtype=np.int32)
    heights[row, column] = bottom - top + 1
    return heights.ravel()[place]
