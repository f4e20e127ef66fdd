"""The lines of the pick tally: a shuttle each, and what to press or raise pick after pick."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from cards.counted import Line
from cards.pick_tally import Pick, PickTally, TallySection
from layouts.drawing import Mark, Weight
from layouts.sheets.counted_list import LineStyle, check_lead, heads_width, lead_room
from layouts.sheets.layered_picks import (
    cells_of,
    draw_lone,
    draw_row,
    lone_cell,
    lone_height,
    lone_width,
    row_height,
    row_width,
)
from layouts.sheets.parts import INK, PATCH_HEIGHT, PATCH_WIDTH, SOFT, yarn_patch
from layouts.typeface import FIGURE, cap_height, label, measure

_BETWEEN_PICKS = 3.4
_ROW_HEIGHT = 8.4
_STROKE = "/"


def line_style(card: PickTally, section: TallySection, width: float) -> LineStyle[Pick]:
    """Return how the lines of a section are drawn on a sheet `width` mm wide."""
    style = _style if section.layered is None else _layered_style
    return style(card, section, width)


def _style(card: PickTally, section: TallySection, width: float) -> LineStyle[Pick]:
    """Return how lines are drawn: the patch of the shuttle, then pick after pick.

    Treadles stand free; shafts to raise are divided by strokes, since one pick raises several.
    Picks that the paper has no room for go on in a further row.
    """
    room = lead_room(section.picks, width) - PATCH_WIDTH - 3.0
    rows = {
        line.number: _rows([_words(run.value, section) for run in line.runs], room, section)
        for line in section.picks.lines
    }
    widths = [_row_width(row, section) for each in rows.values() for row in each]
    check_lead(room, max(widths))

    def height(line: Line[Pick]) -> float:
        return _ROW_HEIGHT * len(rows[line.number]) + 2.1

    def draw(line: Line[Pick], x: float, y: float) -> Iterable[Mark]:
        yarn = line.runs[0].value.yarn
        top = y + 1.05 + (_ROW_HEIGHT - PATCH_HEIGHT) / 2
        yield from yarn_patch(yarn, x, top, PATCH_WIDTH, PATCH_HEIGHT)
        for place, row in enumerate(rows[line.number]):
            at = y + 1.05 + (place + 0.5) * _ROW_HEIGHT + cap_height(FIGURE) / 2
            yield from _row(row, section, x + PATCH_WIDTH + 3.0, at)

    return _line_style(card, section, max(widths), height, draw)


def _reading(card: PickTally, section: TallySection) -> Callable[[int], str]:
    """Return what the tape reads after so many picks of a section."""
    return lambda picks: card.figures.tape(section.start + picks / section.picks_per_mm)


def _layered_style(card: PickTally, section: TallySection, width: float) -> LineStyle[Pick]:
    """Return how lines of layers are drawn: the patch of the shuttle, then a cell for each pick."""
    room = lead_room(section.picks, width) - PATCH_WIDTH - 3.0
    lines = {line.number: [run.value for run in line.runs] for line in section.picks.lines}
    if all(len(picks) == 1 for picks in lines.values()):
        return _lone_style(card, section, room, {each: lines[each][0] for each in lines})
    rows = {
        number: cells_of(picks, room, by_treadle=section.by_treadle)
        for number, picks in lines.items()
    }
    widest = max(row_width(row) for each in rows.values() for row in each)
    check_lead(room, widest)

    def height(line: Line[Pick]) -> float:
        return sum(row_height(row) for row in rows[line.number]) + 2.1

    def draw(line: Line[Pick], x: float, y: float) -> Iterable[Mark]:
        yield from yarn_patch(line.runs[0].value.yarn, x, y + 1.4, PATCH_WIDTH, PATCH_HEIGHT)
        at = y + 1.05
        for row in rows[line.number]:
            yield from draw_row(row, x + PATCH_WIDTH + 3.0, at)
            at += row_height(row)

    return _line_style(card, section, widest, height, draw)


def _lone_style(
    card: PickTally, section: TallySection, room: float, picks: dict[int, Pick]
) -> LineStyle[Pick]:
    """Return how lines of a single pick each are drawn."""
    cells = {
        number: lone_cell(pick, room, by_treadle=section.by_treadle)
        for number, pick in picks.items()
    }
    widest = max(lone_width(cell) for cell in cells.values())
    check_lead(room, widest)

    def height(line: Line[Pick]) -> float:
        return lone_height(cells[line.number]) + 2.1

    def draw(line: Line[Pick], x: float, y: float) -> Iterable[Mark]:
        top = y + 1.05 + (lone_height(cells[line.number]) - PATCH_HEIGHT) / 2
        yield from yarn_patch(line.runs[0].value.yarn, x, top, PATCH_WIDTH, PATCH_HEIGHT)
        yield from draw_lone(cells[line.number], x + PATCH_WIDTH + 3.0, y + 1.05, widest)

    return _line_style(card, section, widest, height, draw)


def _line_style(
    card: PickTally,
    section: TallySection,
    widest: float,
    height: Callable[[Line[Pick]], float],
    draw: Callable[[Line[Pick], float, float], Iterable[Mark]],
) -> LineStyle[Pick]:
    # A direct tie-up has a treadle for each shaft.
    press = section.by_treadle or card.action == "direct"
    heads = f"shuttle, {'press' if press else 'raise'}", "in section"
    lead = max(PATCH_WIDTH + 3.0 + widest, heads_width(*heads))
    return LineStyle(lead, height, draw, "picks", *heads, reading=_reading(card, section))


def _row(row: list[str], section: TallySection, left: float, at: float) -> Iterable[Mark]:
    for word in row:
        stroke = word == _STROKE
        weight: Weight = "regular" if stroke else "bold"
        yield label(left, at, word, FIGURE, weight, colour=SOFT if stroke else INK)
        left += measure(word, FIGURE, weight) + _gap(section)


def _gap(section: TallySection) -> float:
    """Return the space between words: picks stand apart, shafts of one pick close together."""
    return _BETWEEN_PICKS if section.by_treadle else 1.7


def _words(pick: Pick, section: TallySection) -> list[str]:
    """Return a pick as words that may stand in different rows: treadles joined, shafts apart."""
    if section.by_treadle:
        return ["+".join(str(treadle) for treadle in pick.shed)]
    return [str(shaft) for shaft in pick.shed] or ["0"]


def _row_width(row: list[str], section: TallySection) -> float:
    words = sum(measure(word, FIGURE, "bold") for word in row)
    return words + _gap(section) * max(0, len(row) - 1)


def _rows(picks: list[list[str]], room: float, section: TallySection) -> list[list[str]]:
    """Return the words of all picks in rows not wider than `room`; picks are parted by strokes.

    A pick is broken only if it alone is wider than a row, so that no lift is taken for two.
    """
    rows: list[list[str]] = [[]]
    used = -_gap(section)
    for place, words in enumerate(picks):
        whole = words if section.by_treadle or place == len(picks) - 1 else [*words, _STROKE]
        needed = _row_width(whole, section) + _gap(section)
        pieces = [(whole, needed)]
        if needed > room:
            pieces = [([word], measure(word, FIGURE, "bold") + _gap(section)) for word in whole]
        for piece, width in pieces:
            if rows[-1] and used + width > room:
                rows.append([])
                used = -_gap(section)
            rows[-1].extend(piece)
            used += width
    return rows
