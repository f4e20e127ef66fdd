"""Draws the table of setts: patterns down, reeds across, the nearest sett of each reed framed."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import Final

from cards.calculation.reed_choice import ReedChoice
from cards.calculation.sett_table import SettRow
from cards.calculation.sley import pattern_text
from cards.figures import Figures, plain
from cards.sett_table import SettTable
from layouts.drawing import Box, Drawing, Mark
from layouts.paper import Frame
from layouts.sheets.page import PageFlow
from layouts.sheets.parts import (
    HAIR,
    HAIRLINE,
    INK,
    SOFT,
    Block,
    baseline,
    heading_line,
    key_figures,
    leading,
    paragraph,
    rule,
    stack,
)
from layouts.typeface import BODY, LABEL, label, measure

SLUG = "sett-table"

_LEGEND: Final = "Ends to a length are the reed times the mean of the pattern."

_FIGURE: Final = LABEL + 1
_BETWEEN: Final = 5.0
_PAD: Final = 3.0
_WIDEST: Final = 36.0
_LONGEST: Final = 45.0
_WITHIN: Final = Fraction(5, 10_000)


def draw_sett_table(card: SettTable, frame: Frame) -> Drawing:
    """Return the pages of a table of setts."""
    flow = PageFlow(frame, card.heading, _LEGEND)
    flow.add(key_figures(_key(card), flow.width))
    flow.gap(1.0)
    title = heading_line("For this sett, the best first", flow.width)
    first, *others = _choices(card, flow.width)
    flow.add(stack([title, first]))
    for choice in others:
        flow.add(choice)
    flow.gap(3.0)
    reading = [heading_line("Setts of every reed", flow.width, _reading(card))]
    for reeds in _tables(card, flow.width):
        columns = _Columns(card, reeds, flow.width)
        head = columns.head()
        rows = columns.rows()
        flow.add(stack([*reading, head, *rows[:2]]))
        flow.running_head = head
        for row in rows[2:-2]:
            flow.add(row)
        # No row stands alone at the head of a page.
        flow.add(stack(rows[-2:]))
        flow.running_head = None
        reading = []
        flow.gap(4.0)
    flow.notes()
    return flow.drawing("Sett table", SLUG)


def _key(card: SettTable) -> list[tuple[str, str]]:
    figures, other = card.figures, card.figures.other()
    wanted = float(card.wanted)
    key = [(figures.density(wanted), f"wanted ({other.density(wanted)})")]
    if card.layers > 1:
        one = float(card.wanted / card.share)
        key.append((figures.density(one), f"of one of {card.layers} layers"))
    used = float(card.used)
    key.append((figures.reed(used), f"reed in use ({other.reed(used)})"))
    return key


def _reading(card: SettTable) -> str:
    first, second = _units(card.figures)
    words = f"Large: ends {first}; beside it {second}"
    if card.layers > 1:
        words += f", of all {card.layers} layers. Under it: those of one layer"
    return f"{words}. A frame: nearest to the wanted sett."


def _units(figures: Figures) -> tuple[str, str]:
    return ("per cm", "per in") if figures.metric else ("per in", "per cm")


def _tables(card: SettTable, width: float) -> list[list[int]]:
    """Return the reeds of each table: as many side by side as fit, evenly shared."""
    fit = max(1, int((width - _lead(card)) // sum(_widths(card), 3 * _PAD)))
    number = -(-len(card.reeds) // fit)
    each = -(-len(card.reeds) // number)
    return [
        list(range(at, min(at + each, len(card.reeds)))) for at in range(0, len(card.reeds), each)
    ]


def _lead(card: SettTable) -> float:
    """Return the width in mm of the column of patterns."""
    widest = max(measure(pattern_text(row.pattern), _FIGURE, "bold") for row in card.rows)
    return min(widest, _LONGEST) + _BETWEEN


def _widths(card: SettTable) -> tuple[float, float]:
    """Return the widths in mm of the widest large and small figure."""
    setts = [float(sett) for row in card.rows for sett in row.setts]
    heads = [float(reed) for reed in card.reeds]
    first, other = card.figures, card.figures.other()
    large = [_sett(first, sett) for sett in setts] + [_reed(first, reed) for reed in heads]
    small = [_sett(other, sett) for sett in setts] + [_reed(other, reed) for reed in heads]
    return (
        max(measure(each, _FIGURE, "bold") for each in large),
        max(measure(each, BODY) for each in small),
    )


def _sett(figures: Figures, per_mm: float) -> str:
    return figures.density(per_mm).split(" ")[0]


def _reed(figures: Figures, per_mm: float) -> str:
    return figures.reed(per_mm).split(" ")[0]


class _Columns:
    """One table: patterns down, some of the reeds across."""

    def __init__(self, card: SettTable, reeds: list[int], width: float) -> None:
        self._card = card
        self._reeds = reeds
        self._lead = _lead(card)
        self._small = _widths(card)[1]
        self._pitch = min(_WIDEST, (width - self._lead) / len(reeds))
        self._wide = self._lead + len(reeds) * self._pitch

    def head(self) -> Block:
        """Return the reeds in both units above their columns, the one in use marked by a word."""
        card, figures = self._card, self._card.figures
        unit = "per 10 cm" if figures.metric else "per in"
        height = leading(_FIGURE) + leading(BODY) + 1.4

        def draw(x: float, y: float) -> Iterable[Mark]:
            yield label(x, y + baseline(_FIGURE), "reed", BODY, "bold", colour=SOFT)
            under = y + leading(_FIGURE) + baseline(BODY) - 0.6
            yield label(x, under, unit, BODY, colour=SOFT)
            for column, reed in enumerate(self._reeds):
                per_mm = float(card.reeds[reed])
                large, small = _reed(figures, per_mm), _reed(figures.other(), per_mm)
                yield from self._pair(x, y, column, large, small)
                if card.reeds[reed] == card.used:
                    right = x + self._right(column)
                    yield label(right, under, "in use", BODY, "bold", "end", INK)
            yield rule(x, y + height - 0.6, self._wide, 0.4, INK)

        return Block(height, draw)

    def rows(self) -> list[Block]:
        """Return a row for every pattern."""
        return [self._row(place, row) for place, row in enumerate(self._card.rows)]

    def _row(self, place: int, row: SettRow) -> Block:
        card = self._card
        name = paragraph(pattern_text(row.pattern), _LONGEST, _FIGURE, "bold")
        lines = leading(_FIGURE) + (leading(BODY) if card.layers > 1 else 0.0)
        height = max(name.height, lines) + 1.2

        def draw(x: float, y: float) -> Iterable[Mark]:
            yield from name.draw(x, y + 0.6)
            for column, reed in enumerate(self._reeds):
                left = x + self._lead + column * self._pitch
                if place in card.nearest[reed]:
                    yield Box(left + 0.6, y + 0.3, self._pitch - 1.2, height - 0.7, None, INK, 0.6)
                yield from self._cell(x, y + 0.6, column, row.setts[reed])
            yield rule(x, y + height - 0.1, self._wide, HAIRLINE, HAIR)

        return Block(height, draw)

    def _cell(self, x: float, y: float, column: int, sett: Fraction) -> Iterable[Mark]:
        figures = self._card.figures
        whole = float(sett)
        yield from self._pair(x, y, column, _sett(figures, whole), _sett(figures.other(), whole))
        if self._card.layers > 1:
            one = float(sett / self._card.share)
            under = y + leading(_FIGURE) + baseline(BODY) - 0.8
            left, right = x + self._middle(column), x + self._right(column)
            yield label(left, under, _sett(figures, one), BODY, "bold", "end", SOFT)
            yield label(right, under, _sett(figures.other(), one), BODY, "regular", "end", SOFT)

    def _pair(self, x: float, y: float, column: int, large: str, small: str) -> Iterable[Mark]:
        at = y + baseline(_FIGURE)
        yield label(x + self._middle(column), at, large, _FIGURE, "bold", "end", INK)
        yield label(x + self._right(column), at, small, BODY, "regular", "end", SOFT)

    def _right(self, column: int) -> float:
        return self._lead + (column + 1) * self._pitch - _PAD

    def _middle(self, column: int) -> float:
        return self._right(column) - self._small - _PAD


def _choices(card: SettTable, width: float) -> list[Block]:
    """Return a line for each reed, the best first."""
    return [
        paragraph(f"{place}. {_choice(card, choice)}", width, BODY)
        for place, choice in enumerate(card.choices, start=1)
    ]


def _choice(card: SettTable, choice: ReedChoice) -> str:
    figures = card.figures
    sett = figures.density(float(choice.true_sett))
    parts = [f"{figures.both('reed', float(choice.reed))}: {pattern_text(choice.pattern)}, {sett}"]
    if abs(choice.error) < _WITHIN:
        parts.append("exactly the sett")
    else:
        off = plain(float(abs(choice.error)) * 100, 1)
        parts.append(f"{off} % {'closer' if choice.error > 0 else 'more open'}")
    if card.layers > 1:
        parts.append("layers whole in each dent" if choice.whole else "layers not whole in a dent")
    if choice.reed == card.used:
        parts.append("in use")
    return ", ".join(parts)
