"""Draws one draft: threading, tie-up, treadling or lift plan, colour orders and drawdown.

Everything is turned by the rulers of a picture and nowhere else: what is drawn at which end of a
ruler is decided when the ruler is made.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from cards.draft_sheet import View
from cards.project.model import ProjectYarn
from layouts.cells import rectangles
from layouts.drawing import Box, Disc, Figure, Line, Mark, Path
from layouts.patch import hatched
from layouts.sheets.draft_chart import COUNTS, FIGURE, GAP, Chart
from layouts.sheets.draft_part import Part, Ruler, cells, counted, cut_lines, grid
from layouts.sheets.draft_told import (
    brackets_over,
    ends_shown,
    picks_shown,
    repeat_words,
    shafts_and_columns,
    threads_shown,
    tie_words,
    yarns_used,
)
from layouts.sheets.parts import HAIR, INK, SOFT, hatch_of, pictured
from layouts.sheets.shades import Shade, shade_words, shades_of
from layouts.typeface import NOTE, cap_height, label, measure

# No more shafts, or treadles, than this are told apart without a heavy rule among them.
_FEW = 6


@dataclass(frozen=True, slots=True)
class _Rulers:
    """The rulers of a chart that stands on a page."""

    ends: Ruler
    picks: Ruler
    shafts: Ruler
    columns: Ruler
    warp_yarns: Ruler
    weft_yarns: Ruler

    @classmethod
    def of(cls, chart: Chart, x: float, y: float) -> _Rulers:
        ways, tops, lefts = chart.card.conventions, chart.tops(), chart.lefts()
        above = ways.threading == "above"
        treadles = chart.section.by_treadle and chart.card.treadle_1 == "right"
        left = {name: x + place for name, (place, _) in lefts.items()}
        top = {name: y + place for name, (place, _) in tops.items()}
        return cls(
            Ruler(left["cloth"], chart.cell, chart.ends.count, ways.first_end == "right"),
            Ruler(top["cloth"], chart.cell, chart.picks.count, ways.treadling == "up"),
            Ruler(top["threading"], chart.shaft, len(chart.shafts), above),
            Ruler(left["treadling"], chart.column, len(chart.columns), treadles),
            Ruler(top["yarns"], chart.warp_row, len(chart.ends.used), above),
            Ruler(left["yarns"], chart.weft_column, len(chart.picks.used), turned=False),
        )


def draw_chart(chart: Chart, x: float, y: float) -> Iterable[Mark]:
    """Draw a chart with its top left corner at (x, y) mm."""
    rulers, seen = _Rulers.of(chart, x, y), chart.view()
    ends, picks = chart.ends.count, chart.picks.count
    above: list[Mark] = []
    beside: list[Mark] = []
    if ends and chart.shafts:
        above += pictured(
            _end_brackets(chart, rulers, y),
            "Brackets over the ends",
            brackets_over(chart.ends, "ends"),
        )
        above += pictured(_warp_yarns(chart, rulers), "Yarns of the warp", yarns_used(chart.ends))
        above.append(_threading(chart, rulers, seen))
    if chart.tied:
        beside.append(_tie_up(chart, rulers))
    if picks and chart.columns:
        beside.append(_treadling(chart, rulers, seen))
        beside += pictured(_weft_yarns(chart, rulers), "Yarns of the weft", yarns_used(chart.picks))
        beside += pictured(
            _pick_brackets(chart, rulers, x),
            "Brackets over the picks",
            brackets_over(chart.picks, "picks"),
        )
    drawdown = [drawdown_figure(chart, rulers.ends, rulers.picks, seen)] if ends and picks else []
    # As they stand: down the column of the ends, then down that of the treadles.
    first = chart.card.conventions.threading == "above"
    yield from (*above, *drawdown) if first else (*drawdown, *reversed(above))
    yield from beside
    yield from _numbers(chart, rulers, x, y)


def _numbers(chart: Chart, rulers: _Rulers, x: float, y: float) -> Iterable[Mark]:
    """Put the numbers at the edges of the pictures into figures: nobody hears them one by one."""
    marks = [*_end_counts(chart, rulers, y)] if chart.ends.count else []
    marks += _pick_counts(chart, rulers, x)
    yield from pictured(marks, "Numbers at the drawdown", threads_shown(chart))
    marks = [*_column_numbers(chart, rulers)] if chart.columns else []
    marks += _shaft_numbers(chart, rulers) if chart.shafts else ()
    yield from pictured(marks, "Numbers at the tie-up", shafts_and_columns(chart))


def _threading(chart: Chart, rulers: _Rulers, seen: View) -> Figure:
    marks = (
        *cells(seen.threading[_slice(chart.shafts)], rulers.ends, rulers.shafts),
        *grid(rulers.ends, rulers.shafts, chart.ends.rules, _fours(chart.shafts)),
        *_cuts(chart.ends, rulers.ends, rulers.shafts, upright=True),
    )
    words = f"{ends_shown(chart)}. A mark in the row of a shaft: the end is on that shaft."
    return Figure(marks, "Threading", words)


def drawdown_figure(chart: Chart, ends: Ruler, picks: Ruler, seen: View) -> Figure:
    """Return the drawdown in black and white."""
    warp = chart.card.conventions.filled == "warp"
    marks = (
        *cells(seen.drawdown if warp else ~seen.drawdown, ends, picks),
        *grid(ends, picks, chart.ends.rules, chart.picks.rules),
        *_cuts(chart.ends, ends, picks, upright=True),
        *_cuts(chart.picks, picks, ends, upright=False),
        *_shared(chart, ends, picks),
        *_frame(chart, ends, picks),
    )
    filled = f"Filled: the {chart.card.conventions.filled} is on top."
    return Figure(marks, "Drawdown", f"{threads_shown(chart)}{repeat_words(chart)}. {filled}")


def _slice(places: range) -> slice:
    return slice(places.start, places.stop)


def _fours(places: range) -> tuple[int, ...]:
    """Return where a heavy rule stands between shafts, or treadles: by fours of all of them."""
    if places.stop <= _FEW:
        return ()
    return tuple(at for at in range(1, len(places)) if (places.start + at) % 4 == 0)


def _cuts(part: Part, ruler: Ruler, other: Ruler, *, upright: bool) -> list[Mark]:
    start, stop = other.origin, other.origin + other.length
    return cut_lines(part, ruler, start, stop, upright=upright)


def _shared(chart: Chart, ends: Ruler, picks: Ruler) -> Iterable[Mark]:
    """Return the lines beyond which a neighbouring tile has the threads too."""
    left, right = ends.origin, ends.origin + ends.length
    top, bottom = picks.origin, picks.origin + picks.length
    lines = [(ends.edge(place), top, ends.edge(place), bottom) for place in chart.ends.shared]
    lines += [(left, picks.edge(place), right, picks.edge(place)) for place in chart.picks.shared]
    for line in lines:
        yield Line(*line, width=1.3, colour="#ffffff")
        yield Line(*line, width=0.6, colour=INK, dash=(2.0, 1.2))


def _frame(chart: Chart, ends: Ruler, picks: Ruler) -> Iterable[Mark]:
    """Frame the first repeat where more than one is drawn."""
    if chart.ends.frame is None and chart.picks.frame is None:
        return
    left, right = ends.span(*(chart.ends.frame or (0, chart.ends.count)))
    top, bottom = picks.span(*(chart.picks.frame or (0, chart.picks.count)))
    for colour, width in (("#ffffff", 1.0), (INK, 0.55)):
        yield Box(left, top, right - left, bottom - top, None, colour, width)


def _tie_up(chart: Chart, rulers: _Rulers) -> Figure:
    ties = chart.card.ties
    columns, shafts = _fours(chart.columns), _fours(chart.shafts)
    marks: list[Mark] = list(grid(rulers.columns, rulers.shafts, columns, shafts))
    for place, column in enumerate(chart.columns):
        tied = chart.card.tied[column]
        rise = tied.rise if ties != "sink" else ()
        sink = tied.sink if ties != "rise" else ()
        for shaft in (*rise, *sink):
            if shaft - 1 in chart.shafts:
                row = rulers.shafts.middle(shaft - 1 - chart.shafts.start)
                at = rulers.columns.middle(place)
                marks.append(_tie(chart, at, row, shaft, rise=shaft in rise))
    return Figure(tuple(marks), "Tie-up", tie_words(chart))


def _tie(chart: Chart, x: float, y: float, shaft: int, *, rise: bool) -> Mark:
    if chart.numbered:
        return tie_number(x, y, shaft)
    return tie_mark(x, y, min(chart.shaft, chart.column), rise=rise)


def tie_number(x: float, y: float, shaft: int) -> Mark:
    """Return the number of a shaft that is tied, about its middle."""
    return label(x, y + cap_height(NOTE) / 2, str(shaft), NOTE, "regular", "middle", INK)


def tie_mark(x: float, y: float, cell: float, *, rise: bool) -> Mark:
    """Return the mark of a tie about its middle: a disc for a shaft that rises, else a cross."""
    if rise:
        return Disc(x, y, 0.3 * cell, INK, None)
    arm = 0.27 * cell
    steps = (
        ("M", x - arm, y - arm),
        ("L", x + arm, y + arm),
        ("M", x - arm, y + arm),
        ("L", x + arm, y - arm),
    )
    return Path(steps, None, INK, 0.5)


def _treadling(chart: Chart, rulers: _Rulers, seen: View) -> Figure:
    marks = (
        *cells(seen.treadling[:, _slice(chart.columns)], rulers.columns, rulers.picks),
        *grid(rulers.columns, rulers.picks, _fours(chart.columns), chart.picks.rules),
        *_cuts(chart.picks, rulers.picks, rulers.columns, upright=False),
    )
    if chart.section.by_treadle:
        return Figure(marks, "Treadling", f"{picks_shown(chart)}. A mark: the treadle is pressed.")
    return Figure(marks, "Lift plan", f"{picks_shown(chart)}. A mark: the shaft is raised.")


def _warp_yarns(chart: Chart, rulers: _Rulers) -> Iterable[Mark]:
    """Draw a row for each yarn of the warp, so that no yarn is told by its colour alone."""
    for row, yarn in enumerate(chart.ends.used):
        top = rulers.warp_yarns.low(row)
        for first, last in _runs(chart.ends, yarn):
            left, right = rulers.ends.span(first, last)
            yield from _run(left, top + 0.15, right - left, chart.warp_row - 0.3, yarn)
        at = top + chart.warp_row / 2 + cap_height(NOTE) / 2
        x = rulers.ends.origin + rulers.ends.length + 1.2
        yield label(x, at, yarn.letter, NOTE, "bold", "start", INK)


def _weft_yarns(chart: Chart, rulers: _Rulers) -> Iterable[Mark]:
    for column, yarn in enumerate(chart.picks.used):
        left = rulers.weft_yarns.low(column)
        for first, last in _runs(chart.picks, yarn):
            top, bottom = rulers.picks.span(first, last)
            yield from _run(left + 0.15, top, chart.weft_column - 0.3, bottom - top, yarn)
        at = _column_baseline(rulers)
        yield label(left + chart.weft_column / 2, at, yarn.letter, NOTE, "bold", "middle", INK)


def _run(x: float, y: float, width: float, height: float, yarn: ProjectYarn) -> Iterable[Mark]:
    yield Box(x, y, width, height, yarn.colour, SOFT, 0.15)
    if yarn.colour != yarn.shade:
        yield from hatched(x, y, width, height, hatch_of(yarn))


def _runs(part: Part, yarn: ProjectYarn) -> Iterable[tuple[int, int]]:
    """Return the places (first, last exclusive) of the runs of a yarn."""
    framed = np.zeros(part.count + 2, dtype=np.int8)
    framed[1:-1] = [each is yarn for each in part.yarns]
    changes = np.flatnonzero(np.diff(framed)).tolist()
    return zip(changes[::2], changes[1::2], strict=True)


def _column_baseline(rulers: _Rulers) -> float:
    """Return the baseline of the figures between tie-up and treadling."""
    if rulers.shafts.origin < rulers.picks.origin:
        gap = rulers.shafts.origin + rulers.shafts.length
    else:
        gap = rulers.picks.origin + rulers.picks.length
    return gap + GAP / 2 + cap_height(NOTE) / 2


def _column_numbers(chart: Chart, rulers: _Rulers) -> Iterable[Mark]:
    """Print all numbers of the treadles, or with many the first and every fourth."""
    numbers = chart.numbers
    widest = max(measure(str(number), NOTE) for number in numbers) + 0.5
    every = widest <= chart.column
    for place, number in enumerate(numbers):
        if every or number % 4 == 0 or (place == 0 and number % 4 == 1):
            at = rulers.columns.middle(place)
            yield label(at, _column_baseline(rulers), str(number), NOTE, "regular", "middle", INK)


def _shaft_numbers(chart: Chart, rulers: _Rulers) -> Iterable[Mark]:
    """Print the shaft numbers at the left of the threading and beside the tie-up."""
    ends = rulers.ends
    right = ends.origin + ends.length + chart.between - 1.2
    every = chart.shaft >= FIGURE
    for place, shaft in enumerate(chart.shafts):
        if not every and (shaft + 1) % 4 and (place or shaft % 4):
            continue
        at = rulers.shafts.middle(place) + cap_height(NOTE) / 2
        words = str(shaft + 1)
        yield label(right, at, words, NOTE, "regular", "end", INK)
        if ends.count:
            yield label(ends.origin - 1.0, at, words, NOTE, "regular", "end", INK)


def _end_counts(chart: Chart, rulers: _Rulers, y: float) -> Iterable[Mark]:
    tops = chart.tops()
    for place in counted(chart.ends, None, chart.cell):
        words = str(chart.ends.threads[place] + 1)
        x = rulers.ends.middle(place)
        for name in ("counts", "more counts"):
            at = y + tops[name][0] + COUNTS / 2 + cap_height(NOTE) / 2
            yield label(x, at, words, NOTE, "regular", "middle", SOFT)


def _pick_counts(chart: Chart, rulers: _Rulers, x: float) -> Iterable[Mark]:
    lefts = chart.lefts()
    for place in counted(chart.picks, FIGURE, chart.cell):
        words = str(chart.picks.threads[place] + 1)
        at = rulers.picks.middle(place) + cap_height(NOTE) / 2
        right = x + lefts["counts"][0] + chart.count_width - 1.0
        yield label(right, at, words, NOTE, "regular", "end", SOFT)
        if chart.columns:
            left = x + lefts["more counts"][0] + 1.0
            yield label(left, at, words, NOTE, "regular", "start", SOFT)


def _end_brackets(chart: Chart, rulers: _Rulers, y: float) -> Iterable[Mark]:
    top = y + chart.tops()["brackets"][0]
    above = chart.card.conventions.threading == "above"
    line, tip = (top + 4.2, top + 5.6) if above else (top + 1.6, top + 0.2)
    words_at = top + 3.2 if above else top + 2.5 + cap_height(NOTE)
    for each in chart.ends.brackets:
        left, right = rulers.ends.span(each.first, each.last)
        left, right = left + 0.3, right - 0.3
        steps = (("M", left, tip), ("L", left, line), ("L", right, line), ("L", right, tip))
        yield Path(steps, None, INK, 0.35)
        words = _that_fits(each.words, right - left)
        if words:
            at = (left + right) / 2
            yield label(at, words_at, words, NOTE, "bold", "middle", INK)


def _that_fits(words: str, width: float) -> str:
    """Return the words of a bracket, or as much of them as it has room for: how often at least."""
    times = words.partition(" ")[2].partition(" +")[0]
    for text in (words, words.replace(" ", ""), times, times.replace(" ", "")):
        if measure(text, NOTE, "bold") <= width:
            return text
    return ""


def _pick_brackets(chart: Chart, rulers: _Rulers, x: float) -> Iterable[Mark]:
    line = x + chart.lefts()["brackets"][0] + 1.6
    for each in chart.picks.brackets:
        top, bottom = rulers.picks.span(each.first, each.last)
        top, bottom = top + 0.3, bottom - 0.3
        tip = line - 1.4
        steps = (("M", tip, top), ("L", line, top), ("L", line, bottom), ("L", tip, bottom))
        yield Path(steps, None, INK, 0.35)
        at = (top + bottom) / 2 + cap_height(NOTE) / 2
        yield label(line + 1.2, at, each.words, NOTE, "bold", "start", INK)


def coloured(chart: Chart) -> bool:
    """Whether the cloth can be shown in its yarns' colours, and there is more than one to show.

    Not that of layers: what lies on top at a crossing may be hidden by the layer above.
    """
    if chart.section.layers > 1:
        return False
    shown = {yarn.shade for yarn in (*chart.ends.yarns, *chart.picks.yarns)}
    return bool(chart.ends.yarns and chart.picks.yarns) and len(shown) > 1


def colour_words(chart: Chart) -> str:
    """Return which yarn has which shade in the picture, empty where it is in their colours."""
    return shade_words((*chart.ends.yarns, *chart.picks.yarns))


def draw_colours(chart: Chart, x: float, y: float) -> Iterable[Mark]:
    """Draw the drawdown in the colours of the yarns that lie on top, as the weaver sees it.

    In a print without colours they have shades of black and white instead.
    """
    ways = chart.card.conventions
    ends = Ruler(x, chart.cell, chart.ends.count, ways.first_end == "right")
    picks = Ruler(y, chart.cell, chart.picks.count, ways.treadling == "up")
    over = chart.view().drawdown
    warp = np.array([yarn.key for yarn in chart.ends.yarns])
    weft = np.array([yarn.key for yarn in chart.picks.yarns])
    top = np.where(over, warp[np.newaxis, :], weft[:, np.newaxis])
    yarns = {yarn.key: yarn for yarn in (*chart.ends.yarns, *chart.picks.yarns)}
    shades = shades_of(yarns.values())
    marks: list[Mark] = []
    for key in sorted(yarns):
        shade = shades[key]
        marks.extend(cells(top == key, ends, picks, shade.fill))
        if shade.hatch:
            marks.extend(_hatches(top == key, ends, picks, shade))
    marks.append(Box(x, y, ends.length, picks.length, None, HAIR, 0.2))
    words = f"{threads_shown(chart)}. The yarn that lies on top."
    yield Figure(tuple(marks), "The cloth in its colours", words)


def _hatches(here: NDArray[np.bool_], ends: Ruler, picks: Ruler, shade: Shade) -> Iterable[Mark]:
    """Yield the hatch of a yarn over the cells where it lies on top, as few and large as can be."""
    for row, column, rows, columns in rectangles(here).tolist():
        left, _ = ends.span(column, column + columns)
        top, _ = picks.span(row, row + rows)
        yield from shade.hatching(left, top, columns * ends.cell, rows * picks.cell)
