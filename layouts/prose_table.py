"""Tables in prose: figures aligned at their decimal point, words wrapped beside them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from layouts.drawing import Mark, Part
from layouts.prose import Prose, Slice, Tag, line_step
from layouts.sheets.parts import (
    HAIR,
    HAIRLINE,
    INK,
    SOFT,
    Block,
    baseline,
    beside,
    leading,
    rule,
    stack,
)
from layouts.typeface import BODY, label, measure

# What stands for a figure that there is not: every row has all its cells.
NONE: Final = "–"

_BETWEEN: Final = 5.0
_LEAST: Final = 28.0  # for the words at the beginning of a row
_AROUND: Final = 0.7

_WHOLE: Final = re.compile(r"(?:\d{1,3}(?: \d{3})+|\d+)(?=\D|$)")


def whole_part(figure: str) -> str:
    """Return the digits before the decimal point or the fraction of a printed figure.

    >>> whole_part("54.5 cm"), whole_part("12 480"), whole_part("⅜ in"), whole_part("4 ½ yd")
    ('54', '12 480', '', '4')
    """
    match = _WHOLE.match(figure)
    return match[0] if match else ""


@dataclass(frozen=True, slots=True)
class _Columns:
    """Where the columns of a table stand, in mm from its left: of figures first, then of words.

    `before` is the room before the point of each column of figures; `under` is true of a table so
    narrow that its figures stand under one another.
    """

    words: float
    lefts: tuple[float, ...]
    before: tuple[float, ...]
    whole: float
    under: bool


def figure_table(
    prose: Prose,
    heads: Sequence[str],
    rows: Sequence[tuple[str, Sequence[str]]],
    width: float,
) -> list[Slice]:
    """Return a table: words, then figures in columns aligned at their point, the last one of words.

    It stays together; where no page can hold it, its head is drawn again on the next. Where it is
    too wide, the figures of a row stand under one another.
    """
    columns = _columns(heads, rows, width)
    if columns.under:
        heads = (heads[0], heads[1], heads[-1])
    head = _head(heads, columns)
    table = Tag("table")
    made = [Slice(head, keep=True, within=(table,))]
    for place, (name, cells) in enumerate(rows):
        block = _row(prose.block(name, columns.words, BODY, role="row head"), cells, columns)
        again = head if place else None
        made.append(Slice(block, place + 1 < len(rows), again, (table, Tag("row"))))
    return made


def _columns(
    heads: Sequence[str], rows: Sequence[tuple[str, Sequence[str]]], width: float
) -> _Columns:
    figures = [[cells[at] for _, cells in rows] for at in range(len(heads) - 2)]
    names = max(measure(each, BODY) for each, _ in rows) + 1.0
    last = max(measure(each, BODY) for each in [heads[-1], *(cells[-1] for _, cells in rows)])
    for under in (False, True):
        columns = [[each for column in figures for each in column]] if under else figures
        before = [max(measure(whole_part(each), BODY) for each in column) for column in columns]
        widths = [
            max(_width(each, room) for each in column)
            for column, room in zip(columns, before, strict=True)
        ]
        if not under:
            named = [measure(each, BODY, "bold") for each in heads[1:-1]]
            widths = [max(pair) for pair in zip(widths, named, strict=True)]
        widths.append(last)
        free = width - sum(widths) - _BETWEEN * len(widths)
        if under or free >= min(names, _LEAST):
            break
    words = min(names, free)
    lefts = [words + _BETWEEN]
    for each in widths[:-1]:
        lefts.append(lefts[-1] + each + _BETWEEN)
    return _Columns(words, tuple(lefts), tuple(before), lefts[-1] + last, under)


def _width(figure: str, before: float) -> float:
    return before - measure(whole_part(figure), BODY) + measure(figure, BODY)


def _head(heads: Sequence[str], columns: _Columns) -> Block:
    height = line_step(BODY) + _AROUND

    def draw(x: float, y: float) -> Iterable[Mark]:
        at = y + baseline(BODY)
        cells = []
        for head, left in zip(heads, [0.0, *columns.lefts], strict=True):
            word = (label(x + left, at, head, BODY, "bold", colour=SOFT),) if head else ()
            cells.append(Part(word, "column head"))
        yield Part(tuple(cells), "row")
        yield rule(x, y + height - 0.4, columns.whole, 0.3, INK)

    return Block(height, draw)


def _row(name: Block, cells: Sequence[str], columns: _Columns) -> Block:
    """Return a row; its figures stand beside one another, or under one another."""
    step = line_step(BODY)
    lines = [[each] for each in cells[:-1]]
    if columns.under:
        lines = [[each for each in cells[:-1] if each != NONE]]

    def draw(x: float, y: float) -> Iterable[Mark]:
        first = y + baseline(BODY) + (step - leading(BODY)) / 2
        for column, texts in enumerate(lines):
            marks = []
            for line, text in enumerate(texts):
                shift = columns.before[column] - measure(whole_part(text), BODY)
                left = x + columns.lefts[column] + shift
                marks.append(label(left, first + line * step, text, BODY, colour=INK))
            yield Part(tuple(marks), "cell")
        yield Part((label(x + columns.lefts[-1], first, cells[-1], BODY, colour=SOFT),), "cell")

    high = step * max(len(texts) for texts in lines)
    both = beside([(0.0, name), (0.0, Block(high, draw))])

    def line(x: float, y: float) -> Iterable[Mark]:
        yield rule(x, y + _AROUND, columns.whole, HAIRLINE, HAIR)

    return stack([both, Block(2 * _AROUND, line)])
