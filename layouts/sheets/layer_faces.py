"""Draws the faces of all layers and the underside: a drawdown, and beside it the yarns."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from cards.cloth_sheet import ClothKind, ClothSheet, SheetLayer
from cards.layer_faces import Weave
from cards.project.model import ProjectYarn
from layouts.drawing import Figure, Mark
from layouts.sheets.layer_mark import lettered_marks, marks_width
from layouts.sheets.parts import INK, SOFT, Block, baseline, beside, leading, paragraph
from layouts.sheets.shades import shade_words
from layouts.sheets.weave_picture import Style, drawdown, in_yarns
from layouts.typeface import BODY, NOTE, label

_CELL: Final = 2.75
_COLUMNS: Final = 16
_ROWS: Final = 12
_BETWEEN: Final = 3.0
PAIR: Final = 2 * _COLUMNS * _CELL + _BETWEEN


def faces(card: ClothSheet, kind: ClothKind, width: float, more: Block) -> tuple[list[Block], bool]:
    """Return rows with the face of every layer and the underside, two beside each other if wide.

    `more`, not wider than `PAIR`, is put where a place is left free; told is whether it was.
    """
    columns = min(_COLUMNS, int((width - _BETWEEN) / 2 / _CELL))
    shown = [_face(card, layer, columns) for layer in kind.layers]
    lowest, name = kind.layers[-1], "underside, in a mirror under the loom"
    shown.append(_pair(card, lowest, kind.underside, name, columns))
    each = 2 if width >= 2 * PAIR else 1
    placed = each == 2 and len(shown) % 2 == 1
    if placed:
        shown.append(more)
    step = width - PAIR
    rows = [
        beside([(step * place, block) for place, block in enumerate(shown[at : at + each])])
        for at in range(0, len(shown), each)
    ]
    return rows, placed


def style_of(card: ClothSheet, cell: float) -> Style:
    """Return how the weaves of a card are drawn, with cells of that size."""
    return Style(cell, card.first_row_on_top, card.filled)


def _face(card: ClothSheet, layer: SheetLayer, columns: int) -> Block:
    name = "face" if layer.name == "all" else f"{layer.name}, face"
    return _pair(card, layer, layer.face, name, columns)


def _pair(card: ClothSheet, layer: SheetLayer, weave: Weave, name: str, most: int) -> Block:
    """Return one side of a layer: its name, the drawdown, the yarns, and what is shown.

    At most so many columns of it are drawn.
    """
    part = _corner(weave, card.first_end, most)
    rows, columns = part.cells.shape
    room = 2 * most * _CELL + _BETWEEN
    if not part.cells.size:
        return paragraph(f"{layer.letters}: no thread of it is bound here.", room, BODY)
    style = style_of(card, _CELL)
    caption = paragraph(_caption(part, layer, card.first_end), room, NOTE, colour=SOFT)
    head = leading(BODY) + 1.0
    tall = rows * _CELL
    wide = columns * _CELL

    def draw(x: float, y: float) -> Iterable[Mark]:
        at = y + baseline(BODY)
        yield from lettered_marks(layer.lanes, x, at, 2.3, BODY)
        start = x + marks_width(layer.lanes, 2.3, BODY) + 2.0
        yield label(start, at, name, BODY, "bold", colour=INK)
        title, size = f"Layer {layer.letters}, {name}", f"{columns} ends and {rows} picks"
        yield Figure(tuple(drawdown(part, style, x, y + head)), title, f"drawdown of {size}")
        second = x + wide + _BETWEEN
        yield Figure(tuple(in_yarns(part, style, second, y + head)), title, f"in its yarns, {size}")
        yield from caption.draw(x, y + head + tall + 0.8)

    return Block(head + tall + 0.8 + caption.height + 2.5, draw)


def _corner(weave: Weave, first_end: str, most: int) -> Weave:
    """Return the corner at first end and first pick."""
    rows, columns = weave.cells.shape
    kept = min(columns, most)
    which = range(columns - kept, columns) if first_end == "right" else range(kept)
    part = weave.columns(which)
    return Weave(part.cells[: min(rows, _ROWS)], part.warp, part.wefts[:_ROWS], part.widths)


def _caption(part: Weave, layer: SheetLayer, first_end: str) -> str:
    rows, columns = part.cells.shape
    ends = f"{columns} of {layer.ends} ends" if columns < layer.ends else f"{columns} ends"
    wefts = [each for row in part.wefts for each in row]
    yarns = f"warp {letters_of(part.warp)}, weft {letters_of(wefts)}"
    shades = shade_words([*part.warp, *wefts])
    told = f"{yarns}: {shades}" if shades else yarns
    return f"{ends} from the {first_end}, {rows} picks; {told}"


def letters_of(yarns: Sequence[ProjectYarn]) -> str:
    """Return the letters of yarns, each once, in the order of their first threads."""
    return " and ".join(dict.fromkeys(yarn.letter for yarn in yarns))
