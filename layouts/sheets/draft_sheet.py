"""Draws the draft sheet: each kind of section as a draft of its own, with its key on every page."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from cards.draft_sheet import DraftSheet, SectionDraft
from layouts.drawing import Drawing, Mark
from layouts.paper import Frame
from layouts.sheets.draft_block import block_of
from layouts.sheets.draft_chart import CELLS, Chart
from layouts.sheets.draft_pages import add_tiles
from layouts.sheets.draft_tiles import chart_of, on_one_page
from layouts.sheets.draft_words import foot_words, key, section_title, section_words
from layouts.sheets.page import PageFlow
from layouts.sheets.parts import Block, heading_line, stack

SLUG = "draft-sheet"

_AFTER_KEY = 1.5
_AFTER_WORDS = 2.0
_AFTER_CHART = 5.0
# Of a page that the key leaves no more than this share of, nothing is asked but the key.
_LEAST_LEFT = 0.5
# Tiles keep to the room of the first page if that is no smaller a share of the others'.
_LEAST_FOR_TILES = 0.75
# A key is said again on every page if it takes no more than this share of one.
_RUNNING = 0.2
# Cells are not made smaller than this only to save a page.
_SAVING = tuple(cell for cell in CELLS if cell >= 2.4)


@dataclass(frozen=True, eq=False, slots=True)
class _Part:
    """What is drawn of a section on a page with `page` mm of room: in tiles if it has no chart."""

    section: SectionDraft
    words: Block
    chart: Chart | None
    page: float


def draw_draft_sheet(card: DraftSheet, frame: Frame) -> Drawing:
    """Return the pages of a draft sheet. Raises PaperTooSmall where no few threads fit."""
    flow = PageFlow(frame, card.heading, foot_words(card))
    _key(flow, card)
    page = flow.full_room
    if flow.room < _LEAST_LEFT * page:
        flow.turn()
    # A first section that a page has room for does not leave the key alone on its own.
    rooms = [min(flow.room, page), *(page for _ in card.sections[1:])]
    parts = [
        _part(card, section, flow.width, room)
        for section, room in zip(card.sections, rooms, strict=True)
    ]
    cell, colours = _look(parts, flow.width, flow.room, page)
    for part in parts:
        if part.chart is None:
            room = part.page if part.page >= _LEAST_FOR_TILES * page else page
            add_tiles(flow, frame, card, part.section, room)
        else:
            flow.add(_block(part, part.chart, flow.width, cell, colours=colours))
        flow.gap(_AFTER_CHART)
    flow.notes()
    return flow.drawing("Draft sheet", SLUG)


def _key(flow: PageFlow, card: DraftSheet) -> None:
    """Place the key, and have it said again on every further page, the yarns if they are few."""
    meanings, yarns = key(card, flow.width)
    after = Block(_AFTER_KEY, _nothing)
    whole = stack([*meanings, *yarns, after])
    few = whole.height <= _RUNNING * flow.full_room
    for block in [whole] if few else [*meanings, *yarns, after]:
        flow.add(block)
    flow.running_head = whole if few else stack([*meanings, after])


def _nothing(_x: float, _y: float) -> Iterable[Mark]:
    return ()


def _part(card: DraftSheet, section: SectionDraft, width: float, page: float) -> _Part:
    """Choose what is drawn of a section on a page with `page` mm of room, words and all."""
    reserve = 0.0
    while True:
        ranges = on_one_page(card, section, width, page - reserve - _AFTER_WORDS)
        if ranges is None:
            return _Part(section, Block(0.0, _nothing), None, page)
        said = section_words(card, section, ranges)
        words = heading_line(section_title(section), width, said)
        if words.height <= reserve:
            return _Part(section, words, chart_of(card, section, ranges), page)
        reserve = words.height


def _block(part: _Part, chart: Chart, width: float, cell: float, *, colours: bool) -> Block:
    room = part.page - part.words.height - _AFTER_WORDS
    picture = block_of(chart, width, room, cell, colours=colours)
    return stack([part.words, Block(_AFTER_WORDS, _nothing), picture])


def _look(parts: Sequence[_Part], width: float, first: float, page: float) -> tuple[float, bool]:
    """Return the largest size of cells, and whether colours are shown, that take fewest pages.

    All drafts of a sheet have cells of one size where their pages hold it.
    """
    looks = [(cell, colours) for colours in (True, False) for cell in _SAVING]

    def pages(cell: float, *, colours: bool) -> int:
        heights = [
            _block(part, part.chart, width, cell, colours=colours).height if part.chart else None
            for part in parts
        ]
        return _pages(heights, first, page)

    fewest = pages(_SAVING[-1], colours=False)
    found = (look for look in looks if pages(look[0], colours=look[1]) <= fewest)
    return next(found, looks[-1])


def _pages(heights: Iterable[float | None], first: float, page: float) -> int:
    """Return how many pages blocks take one below another; None stands for tiles, which end one."""
    pages, left, fresh = 1, first, True
    for height in heights:
        if not fresh and (height is None or height > left):
            pages, left = pages + 1, page
        left = (0.0 if height is None else left - height) - _AFTER_CHART
        fresh = False
    return pages
