"""Draws the cloth as it lies on the loom, seen from its end: a line a layer, folds as round turns.

A flat cloth is a line that goes to and fro, a tube a closed one, separate cloths lines apart.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from cards.cloth.pieces import Piece
from cards.cloth.weft_path import Side
from cards.cloth_sheet import ClothKind
from layouts.drawing import WHITE, Anchor, Box, Figure, Line, Mark, Path, Step, Weight
from layouts.sheets.layer_mark import lettered_marks, marks_width
from layouts.sheets.parts import INK, SOFT, Block, baseline, leading
from layouts.typeface import BODY, NOTE, cap_height, label

WIDTH: Final = 66.0
_LINE: Final = 1.1
_BETWEEN: Final = 6.6
_MOST_TALL: Final = 62.0  # all layers together
_MARK: Final = 2.3
_SIDE: Final = 16.0  # at each side, for round turns and words
_MOST_REACH: Final = 6.5
_LEAST_APART: Final = 3.8  # words one below another

_Word = tuple[float, float, str]  # height, distance from the end of the lines, word


def end_view(kind: ClothKind) -> Block:
    """Return the end view of a kind of cloth, `WIDTH` mm wide."""
    layers = len(kind.layers)
    head = leading(NOTE) + 2.5
    between = min(_BETWEEN, _MOST_TALL / max(1, layers - 1))
    height = head + (layers - 1) * between + 6.0

    def draw(x: float, y: float) -> Iterable[Mark]:
        left, right = x + _SIDE, x + WIDTH - _SIDE
        rows = [y + head + place * between for place in range(layers)]
        yield label(left, y + baseline(NOTE), "left", NOTE, "regular", "start", SOFT)
        yield label(right, y + baseline(NOTE), "right", NOTE, "regular", "end", SOFT)
        marks = [
            *(Line(left, row, right, row, _LINE, INK) for row in rows),
            *_folds(kind.pieces, rows, left, right),
        ]
        marks += _letters(kind, rows, (left + right) / 2)
        yield Figure(tuple(marks), "End view of the cloth", kind.words)
        yield from _names(_told(kind, rows, "left"), left, -1)
        yield from _names(_told(kind, rows, "right"), right, 1)

    return Block(height, draw)


def _folds(
    pieces: Sequence[Piece], rows: Sequence[float], left: float, right: float
) -> Iterable[Mark]:
    for piece in pieces:
        for one, two, side in joins_of(piece):
            high, low = sorted((rows[one], rows[two]))
            x, out = (left, -1) if side == "left" else (right, 1)
            yield Path(_round(x, out, high, low), stroke=INK, line_width=_LINE)


def joins_of(piece: Piece) -> list[tuple[int, int, Side]]:
    """Return which layers of a piece are joined, and at which side."""
    following = piece.layers[1:] + piece.layers[:1]
    return list(zip(piece.layers, following, piece.folds, strict=False))


def _round(x: float, out: int, high: float, low: float) -> tuple[Step, ...]:
    """Return a round turn: half a circle where there is room, else half an ellipse."""
    radius = (low - high) / 2
    reach = out * min(radius, _MOST_REACH)
    bend = 0.5523  # of a quarter circle drawn as one cubic
    middle = (high + low) / 2
    tip = x + reach
    return (
        ("M", x, high),
        ("C", x + bend * reach, high, tip, middle - bend * radius, tip, middle),
        ("C", tip, middle + bend * radius, x + bend * reach, low, x, low),
    )


def _letters(kind: ClothKind, rows: Sequence[float], x: float) -> Iterable[Mark]:
    """Yield the marks of each layer in the middle of its line, on white."""
    for layer, row in zip(kind.layers, rows, strict=True):
        width = marks_width(layer.lanes, _MARK, BODY)
        tall = cap_height(BODY) + 1.6
        yield Box(x - width / 2 - 1.2, row - tall / 2, width + 2.4, tall, fill=WHITE, stroke=None)
        at = row + cap_height(BODY) / 2
        yield from lettered_marks(layer.lanes, x - width / 2, at, _MARK, BODY)


def _told(kind: ClothKind, rows: Sequence[float], side: Side) -> list[_Word]:
    """Return the words of a side with their heights: folds and open edges, from the top."""
    words: list[_Word] = []
    joined: set[int] = set()
    odd = {layer for piece in kind.pieces if piece.kind == "odd" for layer in piece.layers}
    for piece in kind.pieces:
        for one, two, where in joins_of(piece):
            if where == side:
                joined |= {one, two}
                reach = min(abs(rows[one] - rows[two]) / 2, _MOST_REACH)
                words.append(((rows[one] + rows[two]) / 2, reach + _LINE / 2 + 0.8, "fold"))
    words += [
        (row, 1.2, "odd" if layer in odd else "open")
        for layer, row in enumerate(rows)
        if layer not in joined
    ]
    return sorted(words)


def _names(words: Sequence[_Word], x: float, out: int) -> Iterable[Mark]:
    anchor: Anchor = "end" if out < 0 else "start"
    below = float("-inf")
    for height, away, word in words:
        at = max(height, below)
        y = at + cap_height(NOTE) / 2
        weight: Weight = "bold" if word == "fold" else "regular"
        yield label(x + out * away, y, word, NOTE, weight, anchor, INK)
        below = at + _LEAST_APART
