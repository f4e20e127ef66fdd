"""What each side of a layered cloth looks like: faces, the underside, and the cloth opened out.

Everything is seen from the front of the loom, and begins at the corner of first end and first pick.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cards.cloth.layers import Layer
from cards.cloth.opened import Opened, layer_drawdown, open_out, underside
from cards.cloth.pieces import Piece
from cards.cloth.weft_path import ShuttlePlan, Side, WeftPath, follow
from cards.cross_section import from_the_left
from cards.project.cloth import ClothStretch
from cards.project.model import Project, ProjectYarn

Cells = NDArray[np.bool_]

# No picture shows more ends or rows of a layer than this.
MOST_SHOWN: Final = 48


@dataclass(frozen=True, slots=True, eq=False)
class Weave:
    """A piece of drawdown with its yarns.

    `cells`, shape (rows, columns), true = end over pick; row 0 is woven first, column 0 lies at
    the left. `warp` is by column. `wefts` is by row, and within it by width; `widths` says to which
    width each column belongs.
    """

    cells: Cells
    warp: tuple[ProjectYarn, ...]
    wefts: tuple[tuple[ProjectYarn, ...], ...]
    widths: tuple[int, ...]

    def columns(self, which: Sequence[int]) -> Weave:
        """Return these columns alone."""
        return Weave(
            self.cells[:, list(which)],
            tuple(self.warp[column] for column in which),
            self.wefts,
            tuple(self.widths[column] for column in which),
        )

    def weft(self, row: int, column: int) -> ProjectYarn:
        """Return the weft at a place."""
        return self.wefts[row][self.widths[column]]


@dataclass(frozen=True, slots=True, eq=False)
class OpenedPiece:
    """A piece opened out, over its whole width.

    `layers` are its layers from left to right, each the place in the stretch from the top, and
    whether it is turned over. `folds` has the first column after each fold, and the side of the
    loom where it lies. `cut` is the side where a tube is cut open. `why_not` says why there is no
    such picture.
    """

    piece: Piece
    weave: Weave | None
    layers: tuple[tuple[int, bool], ...] = ()
    folds: tuple[tuple[int, Side], ...] = ()
    cut: Side | None = None
    why_not: str = ""


def layer_face(project: Project, stretch: ClothStretch, layer: Layer) -> Weave:
    """Return the face of a layer, as many ends and picks of it as are ever shown."""
    return _weave(project, stretch, _corner(layer), under=False)


def layer_underside(project: Project, stretch: ClothStretch) -> Weave:
    """Return the underside of the lowest layer as a mirror under the loom shows it."""
    return _weave(project, stretch, _corner(stretch.layers[-1]), under=True)


def _corner(layer: Layer) -> Layer:
    return Layer(layer.ends[:MOST_SHOWN], layer.picks[:MOST_SHOWN])


def _weave(project: Project, stretch: ClothStretch, layer: Layer, *, under: bool) -> Weave:
    rows = project.draft.drawdown[stretch.first_pick :][: stretch.picks]
    cells = layer_drawdown(rows, layer)
    if under:
        cells = underside(cells)
    order = project.warp.order.values()
    warp = [project.yarn(order[end]) for end in layer.ends]
    wefts = [project.draft.weft[stretch.first_pick + pick] for pick in layer.picks]
    return Weave(
        from_the_left(project, cells),
        tuple(warp[::-1] if project.warp.first_end == "right" else warp),
        tuple((project.yarn(key),) for key in wefts),
        (0,) * len(warp),
    )


def opened_piece(project: Project, stretch: ClothStretch, piece: Piece) -> OpenedPiece:
    """Return a piece opened out, or why it cannot be; only rows that the weft crosses whole."""
    if not all(stretch.layers[layer].ends for layer in piece.layers):
        return OpenedPiece(piece, None, why_not="a layer of it has no ends")
    # Whole rows take a pick of each layer; other pieces weave theirs between them.
    picks = min(stretch.picks, 4 * MOST_SHOWN * len(stretch.layers))
    path = _first_picks(stretch.path, picks)
    layers = [
        Layer(layer.ends, tuple(pick for pick in layer.picks if pick < picks))
        for layer in stretch.layers
    ]
    drawdown = project.draft.drawdown[stretch.first_pick :][:picks]
    try:
        opened = open_out(drawdown, layers, path, piece)
    except ValueError as error:
        return OpenedPiece(piece, None, why_not=str(error))
    whole = np.flatnonzero((opened.picks >= 0).all(axis=1))[:MOST_SHOWN]
    if not len(whole):
        return OpenedPiece(piece, None, why_not="no row of it is whole in this section")
    return _opened(project, stretch, piece, opened, whole)


def _opened(
    project: Project,
    stretch: ClothStretch,
    piece: Piece,
    opened: Opened,
    whole: NDArray[np.intp],
) -> OpenedPiece:
    from_left = slice(None, None, -1 if project.warp.first_end == "right" else 1)
    widths = opened.widths[from_left].tolist()
    order = project.warp.order.values()
    weft = project.draft.weft
    first = stretch.first_pick
    changes = [column for column in range(1, len(widths)) if widths[column] != widths[column - 1]]
    weave = Weave(
        opened.cells[whole][:, from_left],
        tuple(project.yarn(order[end]) for end in opened.ends[from_left].tolist()),
        tuple(
            tuple(project.yarn(weft[first + pick]) for pick in row)
            for row in opened.picks[whole].tolist()
        ),
        tuple(widths),
    )
    seen = [widths[0], *(widths[column] for column in changes)]
    return OpenedPiece(
        piece=piece,
        weave=weave,
        layers=tuple((piece.layers[place], place % 2 == 1) for place in seen),
        folds=tuple(
            (column, piece.folds[min(widths[column], widths[column - 1])]) for column in changes
        ),
        cut=piece.folds[-1] if piece.kind == "tube" else None,
    )


def _first_picks(path: WeftPath, picks: int) -> WeftPath:
    plan = path.plan
    return follow(
        path.layers[:picks],
        ShuttlePlan(plan.shuttles[:picks], plan.from_right[:picks], plan.first_end),
    )
