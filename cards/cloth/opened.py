"""A piece of cloth opened out to its full width, and the side that the weaver does not see.

The uppermost layer stays where it lies and the others are laid beside it, every second one turned
over: its ends follow in the opposite order, and what was over is under. A row of the opened cloth
is one walk of the shuttle from edge to edge; of a tube, which is cut open, one way round.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from cards.cloth.layers import Layer
from cards.cloth.pieces import Piece
from cards.cloth.weft_path import Flags, Numbers, WeftPath

Cells = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Opened:
    """The drawdown of an opened piece; column 0 lies at the side of the first end.

    `cells`, shape (rows, columns), true = end over weft on the face of the uppermost layer.
    `ends` and `widths`, shape (columns,): the end of each column, and which of the piece's layers
    it belongs to (its place in `Piece.layers`). `picks`, shape (rows, layers of the piece): the
    pick that weaves each row in each layer, -1 where the shuttle began or stopped short of it.
    """

    cells: Cells
    ends: Numbers
    widths: Numbers
    picks: Numbers

    @property
    def woven(self) -> Flags:
        """Which cells have a weft at all, shape (rows, columns)."""
        return (self.picks >= 0)[:, self.widths]


def open_out(drawdown: Cells, layers: Sequence[Layer], path: WeftPath, piece: Piece) -> Opened:
    """Return a piece opened out; `drawdown`, bool, shape (picks, ends), true = end over pick.

    A tube is cut at its last fold. Raises ValueError for a piece that cannot be opened out, or if
    two shuttles cross each other in it.
    """
    if piece.kind == "odd":
        raise ValueError(f"the cloth cannot be opened out: {piece.note}")
    picks = _rows(path, piece)
    blocks = [
        np.array(layers[layer].ends, dtype=np.intp)[:: -1 if place % 2 else 1]
        for place, layer in enumerate(piece.layers)
    ]
    order = list(range(len(blocks)))
    if piece.folds and piece.folds[0] == path.plan.first_end:
        order.reverse()
    ends = np.concatenate([blocks[place] for place in order])
    widths = np.repeat(order, [len(blocks[place]) for place in order])
    cells = np.zeros((len(picks), len(ends)), dtype=np.bool_)
    for place in order:
        woven = np.flatnonzero(picks[:, place] >= 0)
        columns = np.flatnonzero(widths == place)
        part = drawdown[np.ix_(picks[woven, place], ends[columns])]
        cells[np.ix_(woven, columns)] = ~part if place % 2 else part
    return Opened(cells, ends, widths, picks)


def underside(drawdown: Cells) -> Cells:
    """Return the underside as a mirror lying under the cloth shows it: what is over is under.

    Left stays left and near stays near in such a mirror. Of several layers it shows the lowest, so
    ask with the drawdown of that layer alone.
    """
    return ~drawdown


def layer_drawdown(drawdown: Cells, layer: Layer) -> Cells:
    """Return the drawdown of one layer alone, shape (its picks, its ends)."""
    return drawdown[np.ix_(layer.picks, layer.ends)]


def _rows(path: WeftPath, piece: Piece) -> Numbers:
    """Return the picks of each row, shape (rows, layers of the piece), -1 where there is none."""
    place_of = np.full(int(path.layers.max(initial=-1)) + 1, -1, dtype=np.intp)
    place_of[list(piece.layers)] = np.arange(len(piece.layers))
    places = place_of[path.layers]
    ends_row = ~path.passing
    if piece.kind == "tube":
        ends_row = _at_cut(path, piece)
    previous = np.full(len(path.layers), -1, dtype=np.intp)
    previous[path.after[~ends_row]] = path.before[~ends_row]
    mine = np.flatnonzero(places >= 0)
    row_of = np.full(len(path.layers), -1, dtype=np.intp)
    rows = 0
    for pick in mine.tolist():
        earlier = previous[pick]
        row_of[pick] = rows if earlier < 0 else row_of[earlier]
        rows += earlier < 0
    picks = np.full((rows, len(piece.layers)), -1, dtype=np.intp)
    picks[row_of[mine], places[mine]] = mine
    for place in range(len(piece.layers)):
        woven = picks[picks[:, place] >= 0, place]
        if (np.diff(woven) < 0).any():
            raise ValueError("the cloth cannot be opened out: two wefts cross each other in it")
    return picks


def _at_cut(path: WeftPath, piece: Piece) -> Flags:
    """Return the turns at the last fold of a tube, where it is cut."""
    here = np.isin(path.layers, (piece.layers[0], piece.layers[-1]))
    at_side = path.at_right == (piece.folds[-1] == "right")
    return np.asarray(here[path.before] & here[path.after] & at_side, dtype=np.bool_)
