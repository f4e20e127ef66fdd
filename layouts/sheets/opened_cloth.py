"""Draws a piece of cloth opened out: its edges and folds with the weave around them.

A cloth too wide to be drawn whole is cut into windows with breaks between them, one at each edge
and one at each fold; where they do not stand in one row they go on in the next.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from cards.cloth_sheet import ClothKind, ClothSheet
from cards.layer_faces import OpenedPiece, Weave
from layouts.drawing import WHITE, Figure, Line, Mark
from layouts.sheets.layer_faces import letters_of, style_of
from layouts.sheets.layer_mark import lettered_marks, marks_width
from layouts.sheets.parts import INK, SOFT, Block, baseline, leading, paragraph, pictured, stack
from layouts.sheets.shades import shade_words
from layouts.sheets.weave_picture import drawdown, in_yarns
from layouts.typeface import BODY, NOTE, label, measure

_LEAST_CELL: Final = 2.5
_MOST_CELL: Final = 3.2
_ROWS: Final = 12
_TALLEST: Final = 38.5  # of all rows: where cells must be large there are fewer
_NAME: Final = 14.0  # room for the name of a fold
_LEAST_BESIDE: Final = 6  # columns on each side of a fold: less does not show how the weave goes on
_MOST_BESIDE: Final = 16
_BREAK: Final = 6.0
_BETWEEN: Final = 1.8  # from the drawdown to the yarns
_HEAD: Final = leading(NOTE) + 1.2
_UNDER: Final = leading(BODY) + leading(NOTE) + 2.5


@dataclass(frozen=True, slots=True)
class Window:
    """Columns that are drawn, and the folds among them, each before a column, with its side."""

    columns: range
    folds: tuple[tuple[int, str], ...]
    left_edge: bool = False
    right_edge: bool = False


@dataclass(frozen=True, slots=True)
class _Strip:
    """Windows side by side, the size of a cell and the most for all rows of them, in mm."""

    windows: tuple[Window, ...]
    cell: float
    tallest: float


def opened_blocks(
    card: ClothSheet, kind: ClothKind, opened: OpenedPiece, width: float, room: float
) -> list[Block]:
    """Return an opened piece as rows of windows, or the words that say why there is none.

    None is higher than `room` mm, if two rows of cells go into that.
    """
    if opened.weave is None:
        return [paragraph(f"{opened.why_not[:1].upper()}{opened.why_not[1:]}.", width, BODY)]
    rows: list[list[Window]] = [[]]
    for window in windows_of(opened, width):
        if rows[-1] and _cell([*rows[-1], window], width) < _LEAST_CELL:
            rows.append([])
        rows[-1].append(window)
    most = max(_MOST_CELL, _NAME / min(_spans(rows)))
    cell = min(most, *(_cell(row, width) for row in rows))
    tallest = min(_TALLEST, (room - _HEAD - _BETWEEN - _UNDER) / 2)
    return [
        _row(card, kind, opened, opened.weave, _Strip(tuple(row), cell, tallest)) for row in rows
    ]


def _spans(rows: list[list[Window]]) -> list[int]:
    """Return how many columns lie between two folds, or a fold and an end of a window."""
    return [
        stop - start
        for row in rows
        for window in row
        for start, stop in pairwise(
            [window.columns.start, *(column for column, _ in window.folds), window.columns.stop]
        )
    ]


def _cell(row: list[Window], width: float) -> float:
    """Return the size of a cell with which windows fill a row."""
    columns = sum(len(window.columns) for window in row)
    return (width - _BREAK * (len(row) - 1)) / columns


def windows_of(opened: OpenedPiece, width: float) -> list[Window]:
    """Return what is drawn of an opened piece: all of it if there is room, else windows."""
    number = len(opened.weave.warp) if opened.weave else 0
    if number * _LEAST_CELL <= width:
        return [Window(range(number), opened.folds, left_edge=True, right_edge=True)]
    folds = len(opened.folds)
    free = width - (folds + 1) * _BREAK
    each = int(free / _LEAST_CELL / (2 * folds + 2))
    each = min(max(each, _LEAST_BESIDE), _MOST_BESIDE)
    spans = [range(each), *(range(at - each, at + each) for at, _ in opened.folds)]
    spans.append(range(number - each, number))
    merged: list[range] = []
    for span in spans:
        low, high = max(span.start, 0), min(span.stop, number)
        if merged and low <= merged[-1].stop:
            low = merged.pop().start
        merged.append(range(low, high))
    return [
        Window(
            span,
            tuple(fold for fold in opened.folds if span.start < fold[0] < span.stop),
            left_edge=span.start == 0,
            right_edge=span.stop == number,
        )
        for span in merged
    ]


def _row(
    card: ClothSheet, kind: ClothKind, opened: OpenedPiece, weave: Weave, strip: _Strip
) -> Block:
    cell = strip.cell
    many = min(len(weave.cells), _ROWS, max(2, int(strip.tallest / cell)))
    tall = many * cell
    style = style_of(card, cell)

    def draw(x: float, y: float) -> Iterable[Mark]:
        top = y + _HEAD
        for place, window in enumerate(strip.windows):
            if place:
                yield from _break(x - _BREAK / 2, top, top + 2 * tall + _BETWEEN)
            part = _part(weave, window, many)
            marks = [
                *drawdown(part, style, x, top),
                *in_yarns(part, style, x, top + tall + _BETWEEN),
            ]
            yield Figure(tuple(marks), "The cloth opened out", _words(opened, window))
            beside = [*_edges(opened, window, cell, x, y)]
            for column, side in window.folds:
                at = x + (column - window.columns.start) * cell
                beside += _fold_line(at, top, top + 2 * tall + _BETWEEN)
                words = f"fold {side}"
                beside.append(label(at, y + baseline(NOTE), words, NOTE, "bold", "middle", INK))
            beside += _names(kind, opened, window, cell, x, top + 2 * tall + _BETWEEN + 0.8)
            yield from pictured(beside, "Edges, folds and layers")
            x += len(window.columns) * cell + _BREAK

    return Block(_HEAD + 2 * tall + _BETWEEN + _UNDER, draw)


def _fold_line(x: float, top: float, bottom: float) -> Iterable[Mark]:
    """Yield the line of a fold, on white so that it is seen on filled cells."""
    yield Line(x, top + 0.2, x, bottom - 0.2, 1.5, WHITE)
    yield Line(x, top - 1.0, x, bottom + 1.0, 0.6, INK)


def _part(weave: Weave, window: Window, rows: int) -> Weave:
    part = weave.columns(window.columns)
    return Weave(part.cells[:rows], part.warp, part.wefts[:rows], part.widths)


def _words(opened: OpenedPiece, window: Window) -> str:
    folds = ", ".join(f"fold at the {side}" for _, side in window.folds)
    return folds or ("cut" if opened.cut else "edge")


def _edges(opened: OpenedPiece, window: Window, cell: float, x: float, y: float) -> Iterable[Mark]:
    """Yield the words over open edges, where they do not come too near to those over a fold."""
    word = f"cut {opened.cut}" if opened.cut else "edge"
    room = [column - window.columns.start for column, _ in window.folds]
    needed = measure(word, NOTE) + measure("fold right", NOTE, "bold") / 2 + 1.0
    at = y + baseline(NOTE)
    wide = len(window.columns) * cell
    if window.left_edge and (not room or room[0] * cell >= needed):
        yield label(x, at, word, NOTE, "regular", "start", SOFT)
    if window.right_edge and (not room or wide - room[-1] * cell >= needed):
        yield label(x + wide, at, word, NOTE, "regular", "end", SOFT)


def _names(
    kind: ClothKind, opened: OpenedPiece, window: Window, cell: float, x: float, y: float
) -> Iterable[Mark]:
    """Yield the layer of each part of a window below it, and which side of it is seen."""
    marks = [window.columns.start, *(column for column, _ in window.folds), window.columns.stop]
    for start, stop in pairwise(marks):
        before = sum(1 for column, _ in opened.folds if column <= start)
        place, turned = opened.layers[before]
        lanes = kind.layers[place].lanes
        middle = x + ((start + stop) / 2 - window.columns.start) * cell
        wide = marks_width(lanes, 2.3, BODY)
        yield from lettered_marks(lanes, middle - wide / 2, y + baseline(BODY), 2.3, BODY)
        word = "back" if turned else "face"
        at = y + leading(BODY) + baseline(NOTE)
        yield label(middle, at, word, NOTE, "regular", "middle", SOFT)


def _break(x: float, top: float, bottom: float) -> Iterable[Mark]:
    """Yield the strokes that stand for the columns that are not drawn."""
    for shift in (-0.7, 0.7):
        yield Line(x + shift + 0.7, top, x + shift - 0.7, bottom, 0.2, SOFT)


def opened_words(kind: ClothKind, opened: OpenedPiece) -> str:
    """Return what the picture of an opened piece shows."""
    if opened.weave is None:
        return ""
    top = kind.layers[opened.piece.layers[0]].letters
    rows = min(len(opened.weave.cells), _ROWS)
    cut = f"Cut open at the {opened.cut}. " if opened.cut else ""
    drawn = [each for row in opened.weave.wefts[:rows] for each in row]
    wefts = letters_of(drawn)
    shades = shade_words([*opened.weave.warp, *drawn])
    shown = f" Yarns: {shades}." if shades else ""
    return (
        f"{cut}Laid with the face of {top} up; every second layer is turned over, so its back is "
        f"seen. {len(opened.weave.warp)} ends wide, the first rows, weft {wefts}. See how "
        f"the weave goes on over the fold.{shown}"
    )


def titled(title: str, words: str, width: float) -> Block:
    """Return a heading with the words under it."""
    parts = [paragraph(title, width, 12.0, "bold", role="heading")]
    if words:
        parts.append(paragraph(words, width, BODY, colour=SOFT))
    return stack([*parts, Block(1.2, lambda x, y: ())])
