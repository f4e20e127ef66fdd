"""On which paper a tie-up can be drawn, where the paper at hand is too small for its picture."""

from __future__ import annotations

from typing import Final

from cards.spec import parse_paper_size
from cards.tie_up_card import TieUpCard
from cards.tied_treadles import CordPlan
from layouts.paper import Frame, Orientation, PaperTooSmall, frame_for, to_enlarge
from layouts.sheets.page import PageFlow
from layouts.sheets.tie_up_tiles import MOST_PARTS, tiles_for

# From the smallest on; which of A4 and Letter comes first depends on where the weaver buys paper.
_PAPERS: Final = {"metric": ("A5", "A4", "Letter", "A3"), "imperial": ("A5", "Letter", "A4", "A3")}
_ORIENTATIONS: tuple[Orientation, ...] = ("portrait", "landscape")


def tie_up_legend(card: TieUpCard) -> str:
    """Return what stands at the foot of every page."""
    near = "nearest the weaver" if card.shaft_1 == "front" else "farthest from the weaver"
    words = f"Shaft 1 is {near}."
    if card.cords is not None:
        words += f" Treadle 1 is at the {card.treadle_1}."
    return words


def larger_paper(card: TieUpCard, cords: CordPlan, frame: Frame) -> str:
    """Return in one line why there is no picture, and the smallest paper that has room for it."""
    why = f"No picture: on this paper the cords would fall into more than {MOST_PARTS} parts."
    for name in _PAPERS["metric" if card.heading.units == "metric" else "imperial"]:
        for orientation in _ORIENTATIONS:
            if _draws(card, cords, frame, name, orientation):
                return f"{why} {name} {orientation} draws them."
    sizes = "A5, A4, Letter nor A3"
    return f"{why} Neither {sizes} draws them in fewer."


def _draws(
    card: TieUpCard, cords: CordPlan, frame: Frame, name: str, orientation: Orientation
) -> bool:
    """Whether a paper that is bound and punched as `frame` is has room for the picture."""
    try:
        other = frame_for(parse_paper_size(name), orientation, frame.binding, frame.holes)
    except PaperTooSmall:
        return False
    other = to_enlarge(other, frame.magnify)
    flow = PageFlow(other, card.heading, tie_up_legend(card))
    room = flow.full_room
    return bool(tiles_for(card, cords, flow.width, room, room))
