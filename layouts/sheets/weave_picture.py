"""Draws a piece of weave twice: as a drawdown, and as its yarns lie over and under one another.

In the drawdown a filled cell has the warp on top, or the weft, as the project's conventions say. In
the yarns a thread on top is a bar that runs its way, upright for warp and level for weft, so that
the weave is seen without any colour.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cards.layer_faces import Weave
from cards.project.model import ProjectYarn
from layouts.drawing import BLACK, WHITE, Box, Cells, Mark, Path, Step
from layouts.patch import contrast
from layouts.sheets.parts import HAIR, INK
from layouts.sheets.shades import shades_of

_GRID: Final = 0.1
_FRAME: Final = 0.3
_OUTLINE: Final = 0.15
_DARK: Final = 4.5  # a colour less than this from black has a white outline
_FREE: Final = 0.13  # of a cell, on each side of a bar


@dataclass(frozen=True, slots=True)
class Style:
    """How weaves are drawn: the size of a cell in mm, which way rows go, what a filled cell is."""

    cell: float
    first_row_on_top: bool
    filled: str

    def placed(self, by_row: NDArray[np.bool_]) -> NDArray[np.bool_]:
        """Return rows in the order from the top of the page down."""
        return by_row if self.first_row_on_top else by_row[::-1]


def drawdown(weave: Weave, style: Style, x: float, y: float) -> Iterator[Mark]:
    """Yield a weave as a drawdown with its top left corner at (x, y) mm."""
    cells = style.placed(weave.cells if style.filled == "warp" else ~weave.cells)
    rows, columns = cells.shape
    width, height = columns * style.cell, rows * style.cell
    yield Cells(x, y, style.cell, style.cell, np.ascontiguousarray(cells), BLACK)
    steps: list[Step] = []
    for column in range(1, columns):
        at = x + column * style.cell
        steps += [("M", at, y), ("L", at, y + height)]
    for row in range(1, rows):
        at = y + row * style.cell
        steps += [("M", x, at), ("L", x + width, at)]
    if steps:
        yield Path(tuple(steps), stroke=HAIR, line_width=_GRID)
    yield Box(x, y, width, height, stroke=INK, line_width=_FRAME)


def in_yarns(weave: Weave, style: Style, x: float, y: float) -> Iterator[Mark]:
    """Yield a weave as its yarns lie, with its top left corner at (x, y) mm."""
    bars: dict[ProjectYarn, list[Step]] = {}
    places = list(_bars(weave, style))
    for yarn, bar in places:
        left, top, width, height = bar
        bars.setdefault(yarn, []).extend(
            (
                ("M", x + left, y + top),
                ("L", x + left + width, y + top),
                ("L", x + left + width, y + top + height),
                ("L", x + left, y + top + height),
                ("Z",),
            )
        )
    rows, columns = weave.cells.shape
    frame = (x, y, columns * style.cell, rows * style.cell)
    yield Box(*frame, fill=WHITE, stroke=None)
    shades = shades_of(bars)
    for yarn, steps in bars.items():
        fill = shades[yarn.key].fill
        dark = contrast(fill, BLACK) < _DARK
        yield Path(tuple(steps), fill=fill, stroke=WHITE if dark else INK, line_width=_OUTLINE)
    for yarn, (left, top, width, height) in places:
        yield from shades[yarn.key].hatching(x + left, y + top, width, height)
    yield Box(*frame, stroke=INK, line_width=_FRAME)


def _bars(
    weave: Weave, style: Style
) -> Iterable[tuple[ProjectYarn, tuple[float, float, float, float]]]:
    """Yield every stretch of a thread that lies on top: left, top, width and height in mm."""
    cell, free = style.cell, _FREE * style.cell
    rows = weave.cells.shape[0]
    for column, yarn in enumerate(weave.warp):
        for start, stop in runs(weave.cells[:, column]):
            top = start if style.first_row_on_top else rows - stop
            yield yarn, (column * cell + free, top * cell, cell - 2 * free, (stop - start) * cell)
    for row in range(rows):
        at = row if style.first_row_on_top else rows - 1 - row
        for start, stop in runs(~weave.cells[row]):
            # Over a fold the weft goes on, though another pick weaves it there.
            yield (
                weave.weft(row, start),
                (start * cell, at * cell + free, (stop - start) * cell, cell - 2 * free),
            )


def runs(flags: NDArray[np.bool_]) -> list[tuple[int, int]]:
    """Return where flags are true: the first place of each stretch, and the one behind it.

    >>> runs(np.array([True, True, False, True]))
    [(0, 2), (3, 4)]
    """
    framed = np.concatenate(([False], flags, [False]))
    changes = np.flatnonzero(framed[1:] != framed[:-1])
    return list(zip(changes[::2].tolist(), changes[1::2].tolist(), strict=True))
