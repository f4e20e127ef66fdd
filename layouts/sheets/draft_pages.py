"""A draft that no page holds, tile by tile, each with a map and what it has of the whole."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace

from cards.draft_sheet import DraftSheet, SectionDraft
from cards.figures import count
from layouts.drawing import Mark
from layouts.paper import Frame, PaperTooSmall
from layouts.sheets.draft_block import chart_block
from layouts.sheets.draft_chart import Chart
from layouts.sheets.draft_map import map_width, tile_map
from layouts.sheets.draft_part import OVERLAP
from layouts.sheets.draft_tiles import Tile, Tiling, tiling
from layouts.sheets.draft_words import section_title, section_words
from layouts.sheets.page import PageFlow
from layouts.sheets.parts import Block, beside, heading_line, stack

# A draft of more tiles than this is nothing to hang up: only its first corner is drawn.
MOST_TILES = 60

# What is said of a draft stands before its tiles, if it takes more of a page than this share.
_MOST_WORDS = 0.2

_AFTER_HEAD = 2.0
_AFTER_TILE = 5.0
_BESIDE = 8.0
# Larger paper, in mm, that may do where the sheet's own does not: A sizes, ISO 216:2007.
_LARGER = (
    ("A3", 297.0, 420.0),
    ("420 x 594 mm", 420.0, 594.0),
    ("594 x 841 mm", 594.0, 841.0),
    ("841 x 1189 mm", 841.0, 1189.0),
    ("1189 x 1682 mm", 1189.0, 1682.0),
)


def add_tiles(
    flow: PageFlow, frame: Frame, card: DraftSheet, section: SectionDraft, page: float
) -> None:
    """Place a draft tile by tile, on pages with `page` mm of room.

    Raises PaperTooSmall where not even a few threads fit.
    """
    reserve = 0.0
    while True:
        room = page - reserve - _AFTER_HEAD
        whole = tiling(card, section, flow.width, room)
        many = whole.pages > MOST_TILES
        shown = whole.corner() if many else whole.tiles()
        said = section_words(card, section, whole.ranges, framed=False)
        said = _too_many(flow, frame, whole, room) if many else said
        before = heading_line(section_title(section), flow.width, said)
        apart = before.height > _MOST_WORDS * page
        heads = [
            _head(whole, shown, place, flow.width, "" if apart else said)
            for place in range(len(shown))
        ]
        highest = max(head.height for head in heads)
        if highest <= reserve:
            break
        reserve = highest
    cell = _cell([tile.chart for tile in shown], frame, flow.width, room)
    if apart:
        flow.add(before)
        flow.gap(_AFTER_TILE)
    for tile, head in zip(shown, heads, strict=True):
        chart = chart_block(replace(tile.chart, cell=cell))
        flow.add(stack([head, Block(_AFTER_HEAD, _nothing), chart]))
        flow.gap(_AFTER_TILE)


def _nothing(_x: float, _y: float) -> Iterable[Mark]:
    return ()


def _cell(charts: Sequence[Chart], frame: Frame, width: float, height: float) -> float:
    """Return the largest size of cells that fits all charts. Raises PaperTooSmall if none does."""
    grown = [chart.grown(width, height) for chart in charts]
    fitting = [chart.cell for chart in grown if chart is not None]
    if len(fitting) == len(charts):
        return min(fitting)
    wide, high = max(each.width for each in charts), max(each.height for each in charts)
    across = math.ceil(frame.width + max(0.0, wide - width))
    along = math.ceil(frame.height + max(0.0, high - height))
    raise PaperTooSmall(
        f"a part of the draft needs {wide:.0f} × {high:.0f} mm, and this paper leaves "
        f"{width:.0f} × {height:.0f} mm beside its words; {across} x {along} mm would do"
    )


def _head(whole: Tiling, shown: Sequence[Tile], place: int, width: float, said: str) -> Block:
    """Return the head of a tile with its map, on the first also what is said of the draft."""
    title, first = section_title(whole.chart.section), "" if place else said
    if whole.pages == 1:
        return heading_line(title, width, first)
    beside_map = width - map_width(whole) - _BESIDE
    head = heading_line(title, beside_map, f"{_place(whole, shown, place)} {first}".rstrip())
    return beside([(0.0, head), (width - map_width(whole), tile_map(whole, shown[place]))])


def _place(whole: Tiling, shown: Sequence[Tile], place: int) -> str:
    """Return which tile this is, and what it has in common with its neighbours."""
    chart = shown[place].chart
    ends, picks = chart.ends, chart.picks
    parts = [
        f"{name} {part.threads[0] + 1} to {part.threads[-1] + 1}"
        for part, name in ((ends, "ends"), (picks, "picks"))
        if part.count
    ]
    if not picks.count and whole.rows_apart > 1:
        parts.append(f"shafts {chart.shafts.start + 1} to {chart.shafts.stop}")
    if not ends.count and whole.columns_apart > 1:
        name = "treadles" if chart.section.by_treadle else "raised shafts"
        parts.append(f"{name} {chart.numbers[0]} to {chart.numbers[-1]}")
    numbered = f"Tile {place + 1} of {whole.pages}"
    many = whole.pages > len(shown)
    words = f"{'First corner' if many else numbered}: {', '.join(parts) or 'tie-up'}."
    if ends.shared or picks.shared:
        words += f" Beyond a dashed line the next tile has the same {OVERLAP} threads."
    return words


def _too_many(flow: PageFlow, frame: Frame, whole: Tiling, room: float) -> str:
    """Say that only a corner of a draft is drawn, and what to do about it."""
    ranges, section = whole.ranges, whole.chart.section
    words = (
        f"Only the first corner is drawn: {count(ranges.ends.count)} ends by "
        f"{count(ranges.picks.count)} picks without a repeat would take {count(whole.pages)} "
        "tiles of this paper. "
    )
    for name, across, along in _LARGER:
        width, height = flow.width + across - frame.width, room + along - frame.height
        if min(width, height) < min(flow.width, room):
            continue
        pages = tiling(whole.chart.card, section, width, height).pages
        if pages <= MOST_TILES:
            words += f"To have all of it, print on larger paper: {name} takes {pages} tiles. "
            break
    return f"{words}The threading chart and the pick tally have every end and pick."
