"""Tables in prose: figures aligned at their decimal point, words wrapped beside them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Final

from layouts.drawing import Mark
from layouts.prose import Prose, Slice, line_step
from layouts.sheets.parts import HAIR, HAIRLINE, INK, SOFT, Block, baseline, beside, rule, stack
from layouts.typeface import BODY, label, measure

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


def figure_table(
    prose: Prose,
    heads: Sequence[str],
    rows: Sequence[tuple[str, Sequence[str]]],
    width: float,
) -> list[Slice]:
    """Return a table: words, then figures in columns aligned at their point, the last one of words.

    It stays together; where no page can hold it, its head is drawn again on the next.
    """
    figures = len(heads) - 2
    columns = [[cells[at] for _, cells in rows] for at in range(figures + 1)]
    before = [max(measure(whole_part(each), BODY) for each in column) for column in columns]
    widths = [
        max([*(_width(each, before[at]) for each in column), measure(heads[at + 1], BODY, "bold")])
        for at, column in enumerate(columns[:-1])
    ]
    widths.append(max(measure(each, BODY) for each in [*columns[-1], heads[-1]]))
    names = max(measure(each, BODY) for each, _ in rows) + 1.0
    free = width - sum(widths) - _BETWEEN * len(widths)
    words = max(_LEAST, min(names, free))
    lefts = [words + _BETWEEN]
    for each in widths[:-1]:
        lefts.append(lefts[-1] + each + _BETWEEN)
    whole = lefts[-1] + widths[-1]
    head = _head(heads, lefts, whole)
    made = [Slice(head, keep=True)]
    for place, (name, cells) in enumerate(rows):
        block = _row(prose.block(name, words, BODY), cells, lefts, before, whole)
        made.append(Slice(block, keep=place + 1 < len(rows), head=head if place else None))
    return made


def _width(figure: str, before: float) -> float:
    return before - measure(whole_part(figure), BODY) + measure(figure, BODY)


def _head(heads: Sequence[str], lefts: Sequence[float], width: float) -> Block:
    height = line_step(BODY) + _AROUND

    def draw(x: float, y: float) -> Iterable[Mark]:
        at = y + baseline(BODY)
        for head, left in zip(heads, [0.0, *lefts], strict=True):
            if head:
                yield label(x + left, at, head, BODY, "bold", colour=SOFT)
        yield rule(x, y + height - 0.4, width, 0.3, INK)

    return Block(height, draw)


def _row(
    name: Block,
    cells: Sequence[str],
    lefts: Sequence[float],
    before: Sequence[float],
    width: float,
) -> Block:
    def figures(x: float, y: float) -> Iterable[Mark]:
        at = y + baseline(BODY) + (line_step(BODY) - line_step(BODY) / 1.4 * 1.28) / 2
        for place, (text, left) in enumerate(zip(cells, lefts, strict=True)):
            if not text:
                continue
            last = place == len(cells) - 1
            shift = 0.0 if last else before[place] - measure(whole_part(text), BODY)
            yield label(x + left + shift, at, text, BODY, colour=SOFT if last else INK)

    both = beside([(0.0, name), (0.0, Block(line_step(BODY), figures))])

    def line(x: float, y: float) -> Iterable[Mark]:
        yield rule(x, y + _AROUND, width, HAIRLINE, HAIR)

    return stack([both, Block(2 * _AROUND, line)])
