"""Picks of layers on the pick tally: what to press or raise, the shuttle's way, and the layer.

Each pick is a cell: figures, an arrow as wide as they are for the way of the shuttle, and below it
the mark of the layer. A pick that has a line to itself has them side by side.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from cards.layer_marks import letters_of
from cards.pick_tally import Pick
from layouts.drawing import Line, Mark, Path
from layouts.sheets.layer_mark import TAG, layer_tag
from layouts.sheets.parts import INK
from layouts.typeface import FIGURE, NOTE, cap_height, label, measure

# The least width of a cell and the gap behind it, in mm: as they should be, and as they may be.
_SPACINGS = ((7.0, 3.6), (6.0, 2.2))
_TEXT = 7.4
_BELOW = 8.6
_HEAD = 1.5
# Beside the figures of a lone pick: the arrow, the mark, and the space around them.
_ARROW = 7.0
_ASIDE = _ARROW + TAG + 2 * 2.6
_LONE = 8.4


@dataclass(frozen=True, slots=True)
class Cell:
    """A pick as it is drawn: lines of figures, `width` mm wide, and the gap in mm behind it."""

    pick: Pick
    lines: tuple[str, ...]
    width: float
    gap: float


def cells_of(picks: Sequence[Pick], room: float, *, by_treadle: bool) -> list[list[Cell]]:
    """Return the picks in rows of cells not wider than `room` mm, all in one row if that can be.

    Where it cannot the rows are even, so that no pick is left over alone.
    """
    for least, gap in _SPACINGS:
        cells = [_cell(pick, room, least, gap, by_treadle=by_treadle) for pick in picks]
        if row_width(cells) <= room:
            return [cells]
    wide = [_cell(pick, room, *_SPACINGS[0], by_treadle=by_treadle) for pick in picks]
    for number in range(2, len(wide)):
        marks = [len(wide) * place // number for place in range(number + 1)]
        rows = [wide[before:after] for before, after in pairwise(marks)]
        if all(row_width(row) <= room for row in rows):
            return rows
    return [[cell] for cell in wide]


def _cell(pick: Pick, room: float, least: float, gap: float, *, by_treadle: bool) -> Cell:
    """Return a pick whose figures, if there is no room for them in a row, stand in several."""
    if by_treadle:
        lines = ["+".join(str(each) for each in pick.shed)]
    else:
        lines = [""]
        for shaft in pick.shed or (0,):
            longer = f"{lines[-1]} {shaft}".strip()
            if lines[-1] and measure(longer, FIGURE, "bold") > room:
                lines.append(str(shaft))
            else:
                lines[-1] = longer
    letters = measure(letters_of(pick.layers), NOTE, "bold")
    width = max(least, letters, *(measure(line, FIGURE, "bold") for line in lines))
    return Cell(pick, tuple(lines), width, gap)


def lone_cell(pick: Pick, room: float, *, by_treadle: bool) -> Cell:
    """Return a pick that has a line to itself, the arrow and the mark beside its figures."""
    return _cell(pick, room - _ASIDE, *_SPACINGS[0], by_treadle=by_treadle)


def lone_width(cell: Cell) -> float:
    """Return the width in mm of a pick that has a line to itself."""
    return cell.width + _ASIDE


def lone_height(cell: Cell) -> float:
    """Return the height in mm of a pick that has a line to itself."""
    return max(_LONE, _TEXT * len(cell.lines))


def draw_lone(cell: Cell, x: float, y: float, width: float) -> Iterable[Mark]:
    """Yield a pick with its arrow and mark at the right end of `width` mm."""
    height = lone_height(cell)
    top = y + (height - _TEXT * len(cell.lines)) / 2
    for place, line in enumerate(cell.lines):
        at = top + _TEXT * (place + 0.5) + cap_height(FIGURE) / 2
        yield label(x, at, line, FIGURE, "bold", colour=INK)
    middle = y + height / 2
    end = x + width - TAG
    yield from _arrow(end - 2.6 - _ARROW, middle, _ARROW, left=cell.pick.from_right)
    yield from _mark(cell.pick, end + TAG / 2, middle)


def row_width(row: Sequence[Cell]) -> float:
    """Return the width of a row of cells in mm."""
    return sum(cell.width + cell.gap for cell in row) - row[-1].gap


def row_height(row: Sequence[Cell]) -> float:
    """Return the height of a row of cells in mm."""
    return _TEXT * max(len(cell.lines) for cell in row) + _BELOW


def draw_row(row: Sequence[Cell], x: float, y: float) -> Iterable[Mark]:
    """Yield a row of cells from its top left corner."""
    deepest = max(len(cell.lines) for cell in row)
    for cell in row:
        middle = x + cell.width / 2
        top = y + _TEXT * (deepest - len(cell.lines))
        for place, line in enumerate(cell.lines):
            at = top + _TEXT * (place + 0.5) + cap_height(FIGURE) / 2
            yield label(middle, at, line, FIGURE, "bold", "middle", INK)
        below = y + _TEXT * deepest
        yield from _arrow(x, below + 0.9, cell.width, left=cell.pick.from_right)
        yield from _mark(cell.pick, middle, below + 2.6 + TAG / 2)
        x += cell.width + cell.gap


def _mark(pick: Pick, x: float, y: float) -> Iterable[Mark]:
    """Yield the mark of a pick's layer, or the letters of several, centred on x, y."""
    if len(pick.layers) == 1:
        yield from layer_tag(pick.layers[0], x, y)
    else:
        words = letters_of(pick.layers)
        yield label(x, y + cap_height(NOTE) / 2, words, NOTE, "bold", "middle", INK)


def _arrow(x: float, y: float, width: float, *, left: bool) -> Iterable[Mark]:
    """Yield an arrow across `width` mm that points to the left or to the right."""
    start, end = (x + width, x) if left else (x, x + width)
    back = _HEAD if left else -_HEAD
    yield Line(start, y, end + back * 0.6, y, 0.35, INK)
    steps = (("M", end, y), ("L", end + back, y - 0.8), ("L", end + back, y + 0.8), ("Z",))
    yield Path(steps, INK, None)
