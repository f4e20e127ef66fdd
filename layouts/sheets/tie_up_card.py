"""Draws the tie-up card: for each kind of loom what is done before the first pick."""

from __future__ import annotations

from cards.cloth_words import listed
from cards.tie_up_card import TieUpCard
from cards.tied_treadles import CordPlan
from layouts.drawing import Drawing
from layouts.paper import Frame
from layouts.sheets.dobby_picture import draw_bars
from layouts.sheets.feet_words import feet_words
from layouts.sheets.layer_key import layer_key
from layouts.sheets.lever_picture import draw_lifts
from layouts.sheets.page import PageFlow
from layouts.sheets.parts import SOFT, Block, key_figures, paragraph, stack
from layouts.sheets.tie_up_paper import larger_paper, tie_up_legend
from layouts.sheets.tie_up_picture import picture
from layouts.sheets.tie_up_tiles import AFTER, tiles_for
from layouts.sheets.tie_up_words import (
    confirm_words,
    hung_words,
    knot_key,
    tie_table,
    together_words,
)
from layouts.typeface import BODY

SLUG = "tie-up-card"

_SEEN = (
    "Seen from the front; the lowest bar hangs nearest to you. Where a lamm has a gap, a cord "
    "passes before it."
)


def draw_tie_up_card(card: TieUpCard, frame: Frame) -> Drawing:
    """Return the pages of a tie-up card."""
    flow = PageFlow(frame, card.heading, tie_up_legend(card))
    if card.cords is not None:
        _cords(flow, card, card.cords, frame)
    elif card.bars is not None:
        draw_bars(flow, card, card.bars)
    else:
        draw_lifts(flow, card)
    flow.notes()
    return flow.drawing(card.title, SLUG)


def _cords(flow: PageFlow, card: TieUpCard, cords: CordPlan, frame: Frame) -> None:
    """Lay out the card of a loom whose treadles are tied."""
    drawn = bool(tiles_for(card, cords, flow.width, flow.full_room, flow.full_room))
    _opening(flow, card, cords, drawn=drawn)
    further = _further(card, cords, flow.width)
    if not drawn:
        flow.add(paragraph(larger_paper(card, cords, frame), flow.width, BODY, colour=SOFT))
        flow.gap(1.5)
        table = tie_table(card, cords, flow.width, large=True, left_handed=flow.left_handed)
        _table(flow, table, together=False)
    else:
        further = _pictures(flow, card, cords, further)
    for blocks in further:
        flow.gap(_BEFORE)
        flow.keep(blocks)


_BEFORE = 3.0


def _opening(flow: PageFlow, card: TieUpCard, cords: CordPlan, *, drawn: bool) -> None:
    """Add what is to be known before the first cord is tied."""
    flow.add(key_figures(_key_figures(card, cords), flow.width))
    flow.add(paragraph(card.caution, flow.width, BODY, "bold"))
    for words in (_SEEN if drawn else "", _hang_free(card)):
        if words:
            flow.add(paragraph(words, flow.width, BODY, colour=SOFT))
    if card.layers:
        flow.gap(1.0)
        flow.add(layer_key(card.layers, flow.width))
    if drawn:
        flow.gap(1.0)
        flow.add(knot_key(cords, flow.width))
    if len(cords.lamms) > 1:
        flow.gap(0.8)
        flow.add(confirm_words(cords, flow.width))
    flow.gap(1.5)


def _pictures(
    flow: PageFlow, card: TieUpCard, cords: CordPlan, further: list[list[Block]]
) -> list[list[Block]]:
    """Add pictures and table, and return what is still to be added."""
    table = tie_table(card, cords, flow.width, left_handed=flow.left_handed)
    after = [sum(block.height for block in _table_blocks(table)), *_heights(further)]
    tiles = tiles_for(card, cords, flow.width, flow.room, flow.full_room, after)
    # Where the first picture has no room on the first page, that is given to the table instead,
    # with what else goes onto the page where it ends.
    table_first = tiles[0].height > flow.room
    if table_first:
        _table(flow, table, together=False)
        further = _what_fits_not(flow, further)
        flow.gap(AFTER)
        after = _heights(further)
        tiles = tiles_for(card, cords, flow.width, flow.room, flow.full_room, after)
    for tile in tiles:
        flow.add(picture(card, cords, tile, flow.width))
        flow.gap(AFTER)
    if not table_first:
        _table(flow, table, together=True)
    return further


def _heights(parts: list[list[Block]]) -> list[float]:
    """Return the heights in mm of parts, with the gap before each."""
    return [_BEFORE + sum(block.height for block in blocks) for blocks in parts]


def _further(card: TieUpCard, cords: CordPlan, width: float) -> list[list[Block]]:
    """Return what is to be known besides the table, each part as blocks that belong together."""
    parts = []
    if cords.together:
        parts.append(together_words(card, cords, width))
    if card.hung is not None:
        parts.append(hung_words(card.hung, width))
    if card.walk is not None:
        parts.append(feet_words(card.walk, width))
    return [part for part in parts if part]


def _what_fits_not(flow: PageFlow, parts: list[list[Block]]) -> list[list[Block]]:
    """Add the parts that fit on this page, and return the others."""
    left = []
    for blocks in parts:
        if _BEFORE + sum(block.height for block in blocks) <= flow.room:
            flow.gap(_BEFORE)
            flow.keep(blocks)
        else:
            left.append(blocks)
    return left


def _table_blocks(table: tuple[Block, list[Block], Block]) -> list[Block]:
    """Return the rows of a table, the first with its head and the last with the total."""
    head, rows, total = table
    rows = [*rows[:-1], stack([rows[-1], total])]
    return [stack([head, rows[0]]), *rows[1:]]


def _table(flow: PageFlow, table: tuple[Block, list[Block], Block], *, together: bool) -> None:
    """Add the table, on one page if it is to be kept `together`."""
    blocks = _table_blocks(table)
    if together:
        flow.keep(blocks, table[0])
        return
    flow.add(blocks[0])
    flow.running_head = table[0]
    for block in blocks[1:]:
        flow.add(block)
    flow.running_head = None


def _key_figures(card: TieUpCard, cords: CordPlan) -> list[tuple[str, str]]:
    tied = len(cords.treadles)
    of = f" of {card.treadles}" if card.treadles else ""
    return [
        (f"{tied}{of}", "treadles tied"),
        (str(cords.cords), "cords"),
        (_of(len(card.used), card.shafts), "shafts"),
    ]


def _of(some: int, all_of_them: int) -> str:
    return str(some) if some == all_of_them else f"{some} of {all_of_them}"


def _hang_free(card: TieUpCard) -> str:
    free = [shaft for shaft in range(1, card.shafts + 1) if shaft not in card.used]
    if not free:
        return ""
    hang = "hangs free and is" if len(free) == 1 else "hang free and are"
    plural = "Shaft" if len(free) == 1 else "Shafts"
    return f"{plural} {listed([str(shaft) for shaft in free])} {hang} not drawn."
