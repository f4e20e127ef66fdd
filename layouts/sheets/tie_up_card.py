"""Draws the tie-up card: for each kind of loom what is done before the first pick."""

from __future__ import annotations

from cards.cloth_words import listed
from cards.tie_up_card import TieUpCard
from cards.tied_treadles import CordPlan
from layouts.drawing import Drawing
from layouts.paper import Frame
from layouts.sheets.dobby_picture import draw_bars
from layouts.sheets.layer_key import layer_key
from layouts.sheets.lever_picture import draw_lifts
from layouts.sheets.page import PageFlow
from layouts.sheets.parts import SOFT, Block, key_figures, paragraph, stack
from layouts.sheets.tie_up_picture import picture
from layouts.sheets.tie_up_tiles import tiles_for
from layouts.sheets.tie_up_words import (
    confirm_words,
    feet_words,
    hung_words,
    knot_key,
    tie_table,
    together_words,
)
from layouts.typeface import BODY, LABEL

SLUG = "tie-up-card"

# Common practice, no source.
_CAUTION = (
    "Before you lie under the loom: lock the brake, secure shafts and beater so that nothing can "
    "drop, and let nobody tread."
)


def draw_tie_up_card(card: TieUpCard, frame: Frame) -> Drawing:
    """Return the pages of a tie-up card."""
    flow = PageFlow(frame, card.heading, _legend(card))
    if card.cords is not None:
        _cords(flow, card, card.cords)
    elif card.bars is not None:
        draw_bars(flow, card, card.bars)
    else:
        draw_lifts(flow, card)
    flow.notes()
    return flow.drawing("Tie-up card", SLUG)


def _legend(card: TieUpCard) -> str:
    near = "nearest the weaver" if card.shaft_1 == "front" else "farthest from the weaver"
    words = f"Shaft 1 is {near}."
    if card.cords is not None:
        words += f" Treadle 1 is at the {card.treadle_1}."
    return words


def _cords(flow: PageFlow, card: TieUpCard, cords: CordPlan) -> None:
    """Lay out the card of a loom whose treadles are tied."""
    flow.add(key_figures(_key_figures(card, cords), flow.width))
    flow.add(paragraph(_CAUTION, flow.width, BODY, "bold"))
    flow.add(paragraph(_seen(card), flow.width, BODY, colour=SOFT))
    if card.layers:
        flow.gap(1.0)
        flow.add(layer_key(card.layers, flow.width))
    flow.gap(1.0)
    flow.add(knot_key(cords, flow.width))
    if len(cords.lamms) > 1:
        flow.gap(0.8)
        flow.add(confirm_words(cords, flow.width))
    flow.gap(1.5)
    tiles = tiles_for(card, cords, flow.width, flow.room, flow.full_room)
    further = _further(card, cords, flow.width)
    # Where the first picture has no room on the first page, that is given to the table instead,
    # with what else goes onto the page where it ends.
    table_first = not tiles or tiles[0].height > flow.room
    if table_first:
        _table(flow, card, cords, together=False)
        further = _what_fits_not(flow, further)
        flow.gap(4.0)
        tiles = tiles_for(card, cords, flow.width, flow.room, flow.full_room)
    for tile in tiles:
        flow.add(picture(card, cords, tile, flow.width))
        flow.gap(4.0)
    if not tiles:
        words = "This paper is too small for a picture of the cords; A5 has room for it."
        flow.add(paragraph(words, flow.width, LABEL, "bold"))
    if not table_first:
        _table(flow, card, cords, together=True)
    for blocks in further:
        flow.gap(_BEFORE)
        flow.keep(blocks)


_BEFORE = 3.0


def _further(card: TieUpCard, cords: CordPlan, width: float) -> list[list[Block]]:
    """Return what is to be known besides the table, each part as blocks that belong together."""
    parts = []
    if cords.together:
        parts.append(together_words(card, cords, width))
    if card.hung is not None:
        parts.append(hung_words(card.hung, width))
    if card.walk is not None:
        head, rows = feet_words(card.walk, width)
        parts.append([stack([head, rows[0]]), *rows[1:]])
    return parts


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


def _table(flow: PageFlow, card: TieUpCard, cords: CordPlan, *, together: bool) -> None:
    """Add the table, on one page if it is to be kept `together`."""
    head, rows, total = tie_table(card, cords, flow.width)
    rows[-1] = stack([rows[-1], total])
    blocks = [stack([head, rows[0]]), *rows[1:]]
    if together:
        flow.keep(blocks, head)
        return
    flow.add(blocks[0])
    flow.running_head = head
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


def _seen(card: TieUpCard) -> str:
    nearest = card.used[0] if card.shaft_1 == "front" else card.used[-1]
    lowest = f"The lowest bar of each set hangs nearest to you: shaft {nearest}."
    words = (
        f"Seen from the front. {lowest} Every cord runs straight down from its lamm to its "
        "treadle; it passes in front of a lamm that has a gap there."
    )
    free = [shaft for shaft in range(1, card.shafts + 1) if shaft not in card.used]
    if free:
        hang = "hangs free and is" if len(free) == 1 else "hang free and are"
        plural = "Shaft" if len(free) == 1 else "Shafts"
        words += f" {plural} {listed([str(shaft) for shaft in free])} {hang} not drawn."
    return words
