"""Draws the draft sheet: each kind of section as a draft of its own, with its key on every page."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from cards.draft_sheet import DraftSheet, SectionDraft
from layouts.drawing import Drawing, Mark
from layouts.paper import Frame
from layouts.sheets.draft_chart import LARGEST_CELL, SMALLEST_CELL, Chart
from layouts.sheets.draft_part import OVERLAP
from layouts.sheets.draft_picture import coloured, draw_chart, draw_colours
from layouts.sheets.draft_tiles import (
    Ranges,
    Tile,
    Tiling,
    chart_of,
    map_width,
    on_one_page,
    tile_map,
    tiling,
)
from layouts.sheets.draft_words import foot_words, key, section_title, section_words
from layouts.sheets.page import PageFlow
from layouts.sheets.parts import SOFT, Block, beside, heading_line, paragraph, stack
from layouts.typeface import BODY

SLUG = "draft-sheet"

# A draft of more tiles than this is nothing to hang up: only its first tile is drawn.
MOST_TILES = 60

_AFTER_WORDS = 2.0
_AFTER_CHART = 5.0
_BELOW = 4.0
_BESIDE = 8.0
# Cells are not made smaller than this only to show the colours too.
_CELL_WITH_COLOURS = 2.6
_CAPTION_LEAST = 44.0


def draw_draft_sheet(card: DraftSheet, frame: Frame) -> Drawing:
    """Return the pages of a draft sheet. Raises PaperTooSmall where no few threads fit."""
    flow = PageFlow(frame, card.heading, foot_words(card))
    head = key(card, flow.width)
    flow.add(head)
    flow.running_head = head
    room = flow.room  # the first page has the larger title, and so a little less than the others
    for section in card.sections:
        _section(flow, card, section, room)
        room = flow.full_room
    flow.notes()
    return flow.drawing("Draft sheet", SLUG)


def _section(flow: PageFlow, card: DraftSheet, section: SectionDraft, page: float) -> None:
    """Place a section's draft on one page with `page` mm of room, or tile by tile."""
    reserve = 0.0
    while True:
        room = page - reserve - _AFTER_WORDS
        ranges = on_one_page(card, section, flow.width, room)
        if ranges is None:
            _tiles(flow, card, section, page)
            return
        words = _words(card, section, ranges, flow.width)
        if words.height <= reserve:
            break
        reserve = words.height
    picture = _picture(chart_of(card, section, ranges), flow.width, room)
    flow.add(stack([words, Block(_AFTER_WORDS, _nothing), picture]))
    flow.gap(_AFTER_CHART)


def _nothing(_x: float, _y: float) -> Iterable[Mark]:
    return ()


def _words(card: DraftSheet, section: SectionDraft, ranges: Ranges, width: float) -> Block:
    words = section_words(card, section, ranges)
    return heading_line(section_title(section), width, words)


def _picture(chart: Chart, width: float, height: float) -> Block:
    """Return the draft with the largest cells that fit, and its colours beside or below it."""
    cells = [
        tenths / 10 for tenths in range(round(LARGEST_CELL * 10), round(SMALLEST_CELL * 10) - 1, -1)
    ]
    for cell in cells if coloured(chart) else ():
        sized = replace(chart, cell=cell)
        if sized.width > width or sized.height > height:
            continue
        below = cell >= _CELL_WITH_COLOURS
        both = _colours_beside(sized, width) or (below and _colours_below(sized, width, height))
        if both:
            return both
    return _block(chart.grown(width, height) or chart)


def _colours_beside(chart: Chart, width: float) -> Block | None:
    left = chart.width + _BESIDE
    if max(_CAPTION_LEAST, chart.ends.count * chart.cell) > width - left:
        return None
    return beside([(0.0, _block(chart)), (left, _beside_cloth(chart, width - left))])


def _colours_below(chart: Chart, width: float, height: float) -> Block | None:
    left = chart.lefts()["cloth"][0]
    colours = _colours(chart, width - left)
    if chart.height + _BELOW + colours.height > height:
        return None
    return stack([_block(chart), beside([(left, colours)])], _BELOW)


def _beside_cloth(chart: Chart, width: float) -> Block:
    """Return the colours level with the drawdown that they stand beside."""
    top = chart.tops()["cloth"][0]
    caption = _caption(width)
    cloth = chart.picks.count * chart.cell

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield from draw_colours(chart, x, y + top)
        yield from caption.draw(x, y + top + cloth + 1.2)

    return Block(top + cloth + 1.2 + caption.height, draw)


def _colours(chart: Chart, width: float) -> Block:
    caption = _caption(width)
    cloth = chart.picks.count * chart.cell
    picture = Block(cloth + 1.2, lambda x, y: draw_colours(chart, x, y))
    return stack([picture, caption])


def _caption(width: float) -> Block:
    words = "In the yarns\u2019 colours; in grey print the first drawing shows the structure."
    return paragraph(words, width, BODY, colour=SOFT)


def _block(chart: Chart) -> Block:
    return Block(chart.height, lambda x, y: draw_chart(chart, x, y))


def _tiles(flow: PageFlow, card: DraftSheet, section: SectionDraft, page: float) -> None:
    """Place a draft of which no page holds a repeat, tile by tile, each with a map."""
    reserve = 0.0
    while True:
        room = min(page, flow.full_room) - reserve - _AFTER_WORDS
        whole = tiling(card, section, flow.width, room, MOST_TILES)
        heads = [_tile_head(section, whole, tile, flow.width) for tile in whole.tiles]
        highest = max(head.height for head in heads)
        if highest <= reserve:
            break
        reserve = highest
    shown = whole.tiles if whole.pages <= MOST_TILES else whole.tiles[:1]
    for tile, head in zip(shown, heads, strict=False):
        flow.add(stack([head, Block(_AFTER_WORDS, _nothing), _block(tile.chart)]))
        flow.gap(_AFTER_CHART)
    if whole.pages > MOST_TILES:
        return
    words = section_words(card, section, whole.ranges, framed=False)
    flow.add(paragraph(words, flow.width, BODY, colour=SOFT))
    flow.gap(_AFTER_CHART)


def _tile_head(section: SectionDraft, whole: Tiling, tile: Tile, width: float) -> Block:
    if whole.pages == 1:
        return heading_line(section_title(section), width)
    text_width = width - map_width(whole) - _BESIDE
    head = heading_line(section_title(section), text_width, _place(whole, tile))
    return beside([(0.0, head), (width - map_width(whole), tile_map(whole, tile))])


def _place(whole: Tiling, tile: Tile) -> str:
    """Return which tile this is, and what it has in common with its neighbours."""
    ends, picks = tile.chart.ends, tile.chart.picks
    parts = []
    for part, name in ((ends, "ends"), (picks, "picks")):
        if part.count:
            parts.append(f"{name} {part.threads[0] + 1} to {part.threads[-1] + 1}")
    if whole.pages > MOST_TILES:
        return (
            f"This draft would take {whole.pages} tiles of this paper; only the first is drawn: "
            f"{', '.join(parts)}. The threading chart and the pick tally have all of it."
        )
    number = whole.tiles.index(tile) + 1
    words = f"Tile {number} of {whole.pages}: {', '.join(parts) or 'tie-up'}."
    if not ends.shared and not picks.shared:
        return words
    return f"{words} Beyond a dashed line the next tile has the same {OVERLAP} threads."
