"""How a draft comes on paper: on one page if any repeat of it fits, else in tiles that overlap."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import islice
from typing import Final

from cards.draft_sheet import (
    DraftSheet,
    Range,
    SectionDraft,
    range_of,
    shortest_range,
    whole_range,
)
from layouts.drawing import Box, Mark
from layouts.paper import PaperTooSmall
from layouts.sheets.draft_chart import SMALLEST_CELL, Chart
from layouts.sheets.draft_part import OVERLAP, empty_part, part_of
from layouts.sheets.parts import INK, Block

# Threads beside a treadling that are worth their place; with fewer it has pages of its own.
_LEAST_BESIDE: Final = 12
# Threads that a tile must have room for, so that tiles get on at all.
_LEAST_TILE: Final = 2 * OVERLAP


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
class Tiling:
    """The tiles of a draft row by row, and how many columns and rows of them there are in all.

    With `treadles_apart` the last column has the treadling alone, with `threading_apart` the first
    row the threading.
    """

    ranges: Ranges
    tiles: tuple[Tile, ...]
    columns: int
    rows: int
    treadles_apart: bool
    threading_apart: bool

    @property
    def pages(self) -> int:
        """Pages that the whole draft takes."""
        return self.columns * self.rows - self.bare_corner

    @property
    def bare_corner(self) -> bool:
        """Whether nothing stands in the corner of the map: a lift plan has no tie-up."""
        apart = self.treadles_apart and self.threading_apart
        return apart and not self.tiles[0].chart.section.by_treadle


def chart_of(card: DraftSheet, section: SectionDraft, ranges: Ranges) -> Chart:
    """Return the chart of all that is to be drawn, with the smallest cells."""
    return Chart(
        card, section, part_of(ranges.ends, card.ends), part_of(ranges.picks, section.picks)
    )


def on_one_page(
    card: DraftSheet, section: SectionDraft, width: float, height: float
) -> Ranges | None:
    """Return what to draw on a page `width` x `height` mm: all, or repeats; None if none fits."""
    whole = Ranges(whole_range(card.ends), whole_range(section.picks))
    if _fits(whole, width, height) and chart_of(card, section, whole).grown(width, height):
        return whole
    columns, rows = _room(card, section, width, height)
    ends, picks = range_of(card.ends, columns), range_of(section.picks, rows)
    if ends is None or picks is None:
        return None
    ranges = Ranges(ends, picks)
    return ranges if chart_of(card, section, ranges).grown(width, height) else None


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


def tiling(
    card: DraftSheet, section: SectionDraft, width: float, height: float, most: int
) -> Tiling:
    """Return the tiles of a draft of which no repeat fits a page, at most `most` of them.

    Where hardly a thread has room beside it, the treadling has pages of its own, and so has the
    threading. Raises PaperTooSmall where not even those fit.
    """
    most_ends, most_picks = _room(card, section, width, height)
    short = _shortest(card, section)
    ranges = Ranges(
        range_of(card.ends, most_ends) or short.ends,
        range_of(section.picks, most_picks) or short.picks,
    )
    chart = chart_of(card, section, ranges)
    apart_across = most_ends < min(_LEAST_BESIDE, ranges.ends.count)
    apart_down = most_picks < min(_LEAST_BESIDE, ranges.picks.count)
    cloth = replace(chart, threaded=not apart_down, treadled=not apart_across)
    across = _spans(ranges.ends.count, _more(width - cloth.width, ranges.ends.count))
    down = _spans(ranges.picks.count, _more(height - cloth.height, ranges.picks.count))
    columns: list[range | None] = [*across, *([None] if apart_across else [])]
    rows: list[range | None] = [*([None] if apart_down else []), *down]
    tiles = list(islice(_tiles(cloth, ranges, columns, rows), most))
    for tile in tiles:
        if tile.chart.width > width or tile.chart.height > height:
            raise _too_small(tile.chart, width, height)
    cell = min(_largest(tile.chart, width, height) for tile in tiles)
    even = tuple(replace(tile, chart=replace(tile.chart, cell=cell)) for tile in tiles)
    return Tiling(ranges, even, len(columns), len(rows), apart_across, apart_down)


def _tiles(
    cloth: Chart, ranges: Ranges, columns: list[range | None], rows: list[range | None]
) -> Iterator[Tile]:
    """Yield the tiles row by row; None stands for the treadling or for the threading alone."""
    for row, along in enumerate(rows):
        for column, span in enumerate(columns):
            if span is not None or along is not None or cloth.section.by_treadle:
                yield Tile(_tile(cloth, ranges, span, along), column, row)


def _more(free: float, count: int) -> int:
    """Return how many threads have room where `count` of them leave `free` mm, or lack them."""
    return max(_LEAST_TILE, count + math.floor(free / SMALLEST_CELL))


def _tile(cloth: Chart, ranges: Ranges, span: range | None, along: range | None) -> Chart:
    """Return the chart of a tile: of some ends, or of the treadling, by some picks, or none."""
    card, section = cloth.card, cloth.section
    return replace(
        cloth,
        ends=part_of(ranges.ends, card.ends, span) if span else empty_part(),
        picks=part_of(ranges.picks, section.picks, along) if along else empty_part(),
        threaded=cloth.threaded or along is None,
        treadled=cloth.treadled or span is None,
    )


def _largest(chart: Chart, width: float, height: float) -> float:
    grown = chart.grown(width, height)
    return grown.cell if grown else SMALLEST_CELL


def _too_small(chart: Chart, width: float, height: float) -> PaperTooSmall:
    return PaperTooSmall(
        f"the paper leaves {width:.0f} × {height:.0f} mm for a part of the draft, and with "
        f"{chart.card.shafts} shafts it needs {chart.width:.0f} × {chart.height:.0f} mm"
    )


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


def tile_map(whole: Tiling, tile: Tile) -> Block:
    """Return a small map of all tiles, turned as the draft is, with this one filled."""
    wide, high = _map_cell(whole)
    lefts = [left * wide for left in range(whole.columns)]
    tops = [top * high for top in range(whole.rows)]
    ways = tile.chart.card.conventions
    if whole.treadles_apart:
        lefts[-1] += _MAP_GAP
    cloth = len(lefts) - whole.treadles_apart
    if ways.first_end == "right":
        lefts[:cloth] = lefts[:cloth][::-1]
    first = int(whole.threading_apart)
    rows = tops[first:] if ways.threading == "above" else tops[: len(tops) - first]
    if ways.treadling == "up":
        rows = rows[::-1]
    if first:
        rows.insert(0, tops[0] if ways.threading == "above" else tops[-1])

    def draw(x: float, y: float) -> Iterable[Mark]:
        for row, top in enumerate(rows):
            for column, left in enumerate(lefts):
                if whole.bare_corner and (column, row) == (len(lefts) - 1, 0):
                    continue
                here = (column, row) == (tile.column, tile.row)
                fill = INK if here else "#ffffff"
                yield Box(x + left, y + 0.5 + top, wide, high, fill, INK, 0.2)

    return Block(whole.rows * high + 1.0, draw)


# A map is no larger than this, in mm; the treadling stands a little apart.
_MAP_WIDTH, _MAP_HEIGHT, _MAP_GAP = 36.0, 16.0, 1.0


def _map_cell(whole: Tiling) -> tuple[float, float]:
    return min(6.0, _MAP_WIDTH / whole.columns), min(4.0, _MAP_HEIGHT / whole.rows)


def map_width(whole: Tiling) -> float:
    """Return the width of the map in mm."""
    return _map_cell(whole)[0] * whole.columns + _MAP_GAP
