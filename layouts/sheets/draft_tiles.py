"""How a draft comes on paper: on one page if any repeat of it fits, else in tiles that overlap."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final

from cards.draft_sheet import (
    DraftSheet,
    Range,
    SectionDraft,
    columns_of,
    range_of,
    shortest_range,
    whole_range,
)
from layouts.sheets.draft_chart import SMALLEST_CELL, Chart
from layouts.sheets.draft_part import OVERLAP, empty_part, part_of

# Threads beside a treadling that are worth their place; with fewer it has pages of its own.
_LEAST_BESIDE: Final = 12
# Threads that a tile must have room for, so that tiles get on at all.
_LEAST_TILE: Final = 2 * OVERLAP
# Shafts, or treadles, that a tile of their own must have room for beside the yarns' rows.
_LEAST_APART: Final = 4


@dataclass(frozen=True, slots=True)
class Ranges:
    """What is drawn of the ends and of the picks."""

    ends: Range
    picks: Range


@dataclass(frozen=True, eq=False, slots=True)
class Tile:
    """One page of a draft: its chart, and its place in the map, from 0."""

    chart: Chart
    column: int
    row: int


@dataclass(frozen=True, slots=True)
class _Strip:
    """What a column or a row of tiles has: threads, or else shafts or treadles alone, or both."""

    threads: range | None
    shafts: range


@dataclass(frozen=True, slots=True)
class Tiling:
    """How a draft is parted: the columns and rows of its tiles, and their charts' size of cells.

    The columns after those of the cloth have the treadling alone, the rows before those of the
    cloth the threading; a strip of the cloth has all of the treadling or threading, or none.
    """

    chart: Chart
    ranges: Ranges
    across: tuple[_Strip, ...]
    down: tuple[_Strip, ...]

    @property
    def pages(self) -> int:
        """Pages that the whole draft takes."""
        bare = self.columns_apart * self.rows_apart if self.bare_corner else 0
        return len(self.across) * len(self.down) - bare

    @property
    def columns_apart(self) -> int:
        """Columns of tiles, the last ones, that have the treadling alone."""
        return sum(strip.threads is None for strip in self.across)

    @property
    def rows_apart(self) -> int:
        """Rows of tiles, the first ones, that have the threading alone."""
        return sum(strip.threads is None for strip in self.down)

    @property
    def bare_corner(self) -> bool:
        """Whether nothing stands where threading and treadling meet: a lift plan has no tie-up."""
        return not self.chart.section.by_treadle

    def tiles(self) -> tuple[Tile, ...]:
        """Return all tiles row by row."""
        return self._some(range(len(self.across)), range(len(self.down)))

    def corner(self) -> tuple[Tile, ...]:
        """Return the tiles that show the first ends and picks, with all that belongs to them."""
        across, down = len(self.across), len(self.down)
        columns = [0, *range(across - self.columns_apart, across)]
        tiles = self._some(columns, range(min(down, self.rows_apart + 1)))
        return tuple(replace(tile, chart=_alone(tile.chart)) for tile in tiles)

    def _some(self, columns: Iterable[int], rows: Iterable[int]) -> tuple[Tile, ...]:
        return tuple(
            Tile(self._tile(self.across[column], self.down[row]), column, row)
            for row in rows
            for column in columns
            if not self._bare(column, row)
        )

    def _bare(self, column: int, row: int) -> bool:
        apart = self.across[column].threads is None and self.down[row].threads is None
        return apart and self.bare_corner

    def _tile(self, across: _Strip, down: _Strip) -> Chart:
        card, section = self.chart.card, self.chart.section
        ends, picks = across.threads, down.threads
        return replace(
            self.chart,
            ends=part_of(self.ranges.ends, card.ends, ends) if ends else empty_part(),
            picks=part_of(self.ranges.picks, section.picks, picks) if picks else empty_part(),
            shafts=down.shafts,
            columns=across.shafts,
        )


def _alone(chart: Chart) -> Chart:
    """Return a chart that has no threads in common with any neighbour."""
    ends, picks = replace(chart.ends, shared=()), replace(chart.picks, shared=())
    return replace(chart, ends=ends, picks=picks)


def chart_of(card: DraftSheet, section: SectionDraft, ranges: Ranges) -> Chart:
    """Return the chart of all that is to be drawn, with the smallest cells."""
    return Chart(
        card,
        section,
        part_of(ranges.ends, card.ends),
        part_of(ranges.picks, section.picks),
        range(card.shafts),
        range(len(columns_of(card, section))),
    )


def on_one_page(
    card: DraftSheet, section: SectionDraft, width: float, height: float
) -> Ranges | None:
    """Return what to draw on a page `width` x `height` mm: all, or repeats; None if none fits."""
    whole = Ranges(whole_range(card.ends), whole_range(section.picks))
    if _fits(whole, width, height) and chart_of(card, section, whole).fits(width, height):
        return whole
    columns, rows = _room(card, section, width, height)
    ends, picks = range_of(card.ends, columns), range_of(section.picks, rows)
    if ends is None or picks is None:
        return None
    ranges = Ranges(ends, picks)
    return ranges if chart_of(card, section, ranges).fits(width, height) else None


def _fits(ranges: Ranges, width: float, height: float) -> bool:
    """Tell at a glance what can not fit, before thousands of cells are laid out."""
    return (
        ranges.ends.count * SMALLEST_CELL <= width and ranges.picks.count * SMALLEST_CELL <= height
    )


def _shortest(card: DraftSheet, section: SectionDraft) -> Ranges:
    return Ranges(shortest_range(card.ends), shortest_range(section.picks))


def _room(card: DraftSheet, section: SectionDraft, width: float, height: float) -> tuple[int, int]:
    """Return how many ends and picks have room, beside all that stands round them."""
    found = []
    for ranges in (_coloured(card, section), _shortest(card, section)):
        chart = chart_of(card, section, ranges)
        across = width - chart.width + chart.ends.count * SMALLEST_CELL
        along = height - chart.height + chart.picks.count * SMALLEST_CELL
        found.append((max(0, int(across / SMALLEST_CELL)), max(0, int(along / SMALLEST_CELL))))
    return min(each[0] for each in found), min(each[1] for each in found)


def _coloured(card: DraftSheet, section: SectionDraft) -> Ranges:
    """Return repeats with their colours, which take most room for brackets and yarns."""
    ends = range_of(card.ends, card.ends.total)
    picks = range_of(section.picks, section.picks.total)
    return Ranges(ends or whole_range(card.ends), picks or whole_range(section.picks))


def tiling(card: DraftSheet, section: SectionDraft, width: float, height: float) -> Tiling:
    """Return the tiles of a draft of which no repeat fits a page.

    Where hardly a thread has room beside it, the treadling has pages of its own, and so has the
    threading; they are parted too if need be, and leave out the yarns if nothing else helps. What
    does not fit even so is for the caller to see.
    """
    most_ends, most_picks = _room(card, section, width, height)
    short = _shortest(card, section)
    ranges = Ranges(
        range_of(card.ends, most_ends) or short.ends,
        range_of(section.picks, most_picks) or short.picks,
    )
    apart_across = most_ends < min(_LEAST_BESIDE, ranges.ends.count)
    apart_down = most_picks < min(_LEAST_BESIDE, ranges.picks.count)
    chart = chart_of(card, section, ranges)
    columns, picks = _apart_across(chart, ranges.picks, width) if apart_across else ([], None)
    shafts, ends = _apart_down(chart, ranges.ends, height) if apart_down else ([], None)
    ranges = Ranges(ends or ranges.ends, picks or ranges.picks)
    cloth = replace(
        chart_of(card, section, ranges),
        shafts=range(0) if apart_down else chart.shafts,
        columns=range(0) if apart_across else chart.columns,
    )
    # Where the threading is apart, its shafts are named beside the ends all the same.
    widest = replace(cloth, shafts=chart.shafts).width
    across = _spans(ranges.ends.count, _more(width - widest, ranges.ends.count))
    down = _spans(ranges.picks.count, _more(height - cloth.height, ranges.picks.count))
    return Tiling(
        cloth,
        ranges,
        (*(_Strip(span, cloth.columns) for span in across), *columns),
        (*shafts, *(_Strip(span, cloth.shafts) for span in down)),
    )


def _apart_across(chart: Chart, picks: Range, width: float) -> tuple[list[_Strip], Range]:
    """Return the columns of tiles that have the treadling alone, and the picks beside it."""
    chart = replace(chart, ends=empty_part())
    for shown in (picks, replace(picks, coloured=False)):
        beside = replace(chart, picks=part_of(shown, chart.section.picks))
        room = _places(beside.columns, width - beside.width, beside.column)
        if room >= _LEAST_APART:
            break
    return [_Strip(None, span) for span in _even(beside.columns, room)], shown


def _apart_down(chart: Chart, ends: Range, height: float) -> tuple[list[_Strip], Range]:
    """Return the rows of tiles that have the threading alone, and the ends in it."""
    chart = replace(chart, picks=empty_part())
    for shown in (ends, replace(ends, coloured=False)):
        above = replace(chart, ends=part_of(shown, chart.card.ends))
        room = _places(above.shafts, height - above.height, above.shaft)
        if room >= _LEAST_APART:
            break
    return [_Strip(None, span) for span in _even(above.shafts, room)], shown


def _places(places: range, free: float, size: float) -> int:
    """Return how many shafts have room where all of them leave `free` mm, or lack them."""
    return min(len(places), len(places) + math.floor(free / size + 1e-9))


def _even(places: range, room: int) -> list[range]:
    """Return even stretches of at most `room` places, by fours where they can be.

    >>> _even(range(40), 33), _even(range(6), 5)
    ([range(0, 20), range(20, 40)], [range(0, 4), range(4, 6)])
    """
    room = max(1, room)
    step = math.ceil(len(places) / math.ceil(len(places) / room))
    fours = 4 * math.ceil(step / 4)
    step = fours if fours <= room else step
    return [places[start : start + step] for start in range(0, len(places), step)]


def _more(free: float, count: int) -> int:
    """Return how many threads have room where `count` of them leave `free` mm, or lack them."""
    return max(_LEAST_TILE, count + math.floor(free / SMALLEST_CELL))


def _spans(count: int, room: int) -> list[range]:
    """Return even stretches of at most `room` places, each with the last few of the one before.

    >>> _spans(100, 60)
    [range(0, 52), range(48, 100)]
    """
    if count <= room:
        return [range(count)]
    number = -(-(count - OVERLAP) // (room - OVERLAP))
    step = -(-(count - OVERLAP) // number)
    starts = range(0, count - OVERLAP, step)
    return [range(start, min(count, start + step + OVERLAP)) for start in starts]
