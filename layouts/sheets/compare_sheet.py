"""Draws candidates side by side: the finished sizes to one scale, and below them a table.

Each candidate is a column, as many to a page as can be read; the others follow on further pages,
with the heads of the rows again. Whoever chooses may be no weaver, so the foot explains the words.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from cards.cloth_words import listed
from cards.compare_rows import Cell, Part, Row
from cards.compare_sheet import CompareSheet
from cards.compare_table import tail
from cards.compared import Finished
from layouts.drawing import Drawing, Mark
from layouts.paper import Frame
from layouts.sheets.finished_sizes import Scale, scale_for, scale_words, size_block, tallest
from layouts.sheets.page import PageFlow
from layouts.sheets.parts import (
    HAIR,
    HAIRLINE,
    INK,
    SOFT,
    Block,
    baseline,
    beside,
    heading_line,
    leading,
    paragraph,
    rule,
    stack,
    yarn_patch,
)
from layouts.typeface import BODY, LABEL, NOTE, label, measure

SLUG = "compare"

_LEGEND: Final = "Estimates, all of them: a woven and washed sample decides."
_MARKS: Final = "least, most: the smallest and the largest figure of a row"

_HEAD: Final = 42.0
_LEAST: Final = 33.5
_WIDEST: Final = 74.0
_BETWEEN: Final = 3.0
_HEIGHTS: Final = (62.0, 50.0, 40.0, 32.0)  # of the drawings; smaller ones where that saves a page
_PATCH: Final = (8.0, 5.5)


def draw_compare_sheet(card: CompareSheet, frame: Frame) -> Drawing:
    """Return the pages of a comparison: as few as can be, with drawings as large as can be."""
    made = []
    for height in _HEIGHTS:
        made.append(_drawn(card, frame, height))
        if len(made[-1].pages) == 1:
            break
    return min(made, key=lambda drawing: len(drawing.pages))


def _drawn(card: CompareSheet, frame: Frame, height: float) -> Drawing:
    flow = PageFlow(frame, card.heading, _LEGEND)
    strips = _strips(len(card.names), flow.width)
    pitch = min(_WIDEST, (flow.width - _HEAD) / max(map(len, strips)))
    every = [size for sizes in card.sizes for size in sizes[:1]]
    high = min(height, flow.full_room * 0.36)
    scale = scale_for(every, pitch - _BETWEEN, high, card.figures)
    for place, strip in enumerate(strips):
        if place:
            flow.running_head = None
            flow.turn()
        _Strip(card, strip, pitch, scale).flow(flow)
    flow.running_head = None
    flow.gap(3.0)
    for block in _foot(card, flow.width):
        flow.add(block)
    flow.notes()
    return flow.drawing("Candidates compared", SLUG)


def _strips(number: int, width: float) -> list[range]:
    """Return the candidates of each page: as many side by side as fit, evenly shared."""
    fit = max(1, int((width - _HEAD) // _LEAST))
    pages = -(-number // fit)
    each = -(-number // pages)
    return [range(first, min(first + each, number)) for first in range(0, number, each)]


class _Strip:
    """The candidates that stand side by side on a page, `pitch` mm apart."""

    def __init__(self, card: CompareSheet, places: range, pitch: float, scale: Scale) -> None:
        self._card, self._places = card, places
        self._pitch, self._scale = pitch, scale
        self._wide = _HEAD + len(places) * pitch

    def flow(self, flow: PageFlow) -> None:
        """Draw the sizes and the table on as many pages as they need."""
        names = self._names()
        flow.add(names)
        flow.gap(1.5)
        flow.add(self._sizes())
        flow.running_head = names
        for part in self._card.parts:
            flow.gap(2.0)
            first, *others = [self._row(row) for row in part.rows]
            flow.add(stack([self._title(part), first]))
            for block in others:
                flow.add(block)

    def _left(self, column: int) -> float:
        return _HEAD + column * self._pitch

    def _names(self) -> Block:
        names = [self._card.names[place] for place in self._places]
        made = [
            (self._left(column), paragraph(name, self._pitch - _BETWEEN, LABEL + 1, "bold"))
            for column, name in enumerate(names)
        ]
        inner = beside(made)

        def draw(x: float, y: float) -> Iterable[Mark]:
            yield from inner.draw(x, y)
            yield rule(x, y + inner.height + 0.8, self._wide, 0.4, INK)

        return Block(inner.height + 1.4, draw)

    def _sizes(self) -> Block:
        card, scale = self._card, self._scale
        sizes = [card.sizes[place] for place in self._places]
        first = [each[0] for each in sizes if each]
        height = tallest(first, scale)
        folds = any(each.folds for each in first)
        blocks = [(0.0, scale_words(scale, _HEAD - _BETWEEN, card.figures, folds=folds))]
        for column, each in enumerate(sizes):
            troubles = card.troubles[self._places[column]]
            if each:
                under = _under(each, possible=not troubles)
                block = size_block(each[0], scale, height, card.figures, under)
            else:
                words = f"It cannot be worked out as it is: {'; '.join(troubles)}."
                block = paragraph(words, self._pitch - _BETWEEN, BODY)
            blocks.append((self._left(column), block))
        return beside(blocks)

    def _title(self, part: Part) -> Block:
        title = heading_line(part.title, self._wide)

        def draw(x: float, y: float) -> Iterable[Mark]:
            yield from title.draw(x, y)
            yield rule(x, y + title.height + 0.3, self._wide, 0.3, INK)

        return Block(title.height + 0.8, draw)

    def _row(self, row: Row) -> Block:
        name = f"{row.name}, {row.unit}" if row.unit else row.name
        blocks = [(0.0, paragraph(name, _HEAD - _BETWEEN, BODY, colour=SOFT))]
        cells = [row.cells[place] for place in self._places]
        width = self._pitch - _BETWEEN
        for column, cell in enumerate(cells):
            made = _figure(cell, row) if cell.number is not None else _words(cell, width)
            blocks.append((self._left(column), made))
        inner = beside(blocks)

        def draw(x: float, y: float) -> Iterable[Mark]:
            yield from inner.draw(x, y + 0.5)
            yield rule(x, y + inner.height + 0.9, self._wide, HAIRLINE, HAIR)

        return Block(inner.height + 1.0, draw)


def _under(sizes: Sequence[Finished], *, possible: bool) -> list[str]:
    """Return the lines under a cloth: how many there are, and that it does not fit yet."""
    number = sizes[0].number * sizes[0].sheets
    words = [f"{number} pieces" if number > 1 else ""]
    words.append(f"{len(sizes) - 1} kinds more" if len(sizes) > 1 else "")
    words.append("" if possible else "cannot be woven so")
    return [text for text in words if text]


def _words(cell: Cell, width: float) -> Block:
    """Return lines of words, each with the patch of its yarn where it has one."""
    if not cell.yarns:
        return stack([paragraph(line, width, BODY) for line in cell.lines])
    return stack([_yarn(cell, place, width) for place in range(len(cell.yarns))], 0.8)


def _yarn(cell: Cell, place: int, width: float) -> Block:
    wide, high = _PATCH
    words = paragraph(cell.lines[place], width - wide - 1.5, BODY)

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield from yarn_patch(cell.yarns[place], x, y, wide, high)
        yield from words.draw(x + wide + 1.5, y)

    return Block(max(words.height, high), draw)


def _figure(cell: Cell, row: Row) -> Block:
    """Return a figure whose point stands above and below those of all others in its row."""
    text = cell.lines[0]
    figures = [each.lines[0] for each in row.cells if each.number is not None]
    before = max(measure(_whole(each), BODY, "bold") for each in figures)
    behind = max(measure(tail(each), BODY, "bold") for each in figures)

    def draw(x: float, y: float) -> Iterable[Mark]:
        at = y + baseline(BODY)
        left = x + before - measure(_whole(text), BODY, "bold")
        yield label(left, at, text, BODY, "bold", colour=INK)
        if cell.mark:
            yield label(x + before + behind + 1.6, at, cell.mark, NOTE, colour=SOFT)

    return Block(leading(BODY), draw)


def _whole(text: str) -> str:
    end = tail(text)
    return text[: -len(end)] if end else text


def _foot(card: CompareSheet, width: float) -> Iterator[Block]:
    """Yield what the words mean, what was assumed, and that all of it is an estimate."""
    words: Sequence[str] = [*card.explained, _MARKS]
    lines = [". ".join(f"{each[:1].upper()}{each[1:]}" for each in words) + "."]
    if card.assumed:
        lines.append(f"Taken as is usual, since the plan does not say: {listed(card.assumed)}.")
    text = [paragraph(line, width, NOTE) for line in lines]
    yield stack([paragraph("How to read it", width, BODY, "bold"), *text], 0.6)
