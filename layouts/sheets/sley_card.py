"""Draws the sley card: the pattern, where to begin, the edges, and boxes to tick while sleying."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from cards.calculation.sley import pattern_text
from cards.figures import plain
from cards.sley_card import SleyCard
from layouts.drawing import Drawing, Mark
from layouts.paper import Frame
from layouts.sheets.layer_key import layer_key
from layouts.sheets.page import PageFlow
from layouts.sheets.parts import (
    INK,
    SOFT,
    Block,
    beside,
    heading_line,
    key_figures,
    paragraph,
    rule,
    stack,
)
from layouts.sheets.reed_picture import reed_picture
from layouts.sheets.sley_ticks import sley_checks, sley_ticks
from layouts.typeface import BODY, LABEL, MM_PER_PT, cap_height, label, measure

SLUG = "sley-card"

# The pattern is read at arm's length; a long one takes the next smaller size.
_PATTERN_SIZES: Final = (60.0, 48.0, 36.0, 28.0, 22.0)
_KEY_LEAST: Final = 62.0  # width in mm below which the figures stand under the pattern
_WITHIN: Final = 0.0005


def draw_sley_card(card: SleyCard, frame: Frame) -> Drawing:
    """Return the pages of a sley card."""
    flow = PageFlow(frame, card.heading, _legend(card))
    for block in _opening(card, flow.width):
        flow.add(block)
    flow.gap(1.0)
    flow.add(_ruled(flow.width))
    flow.add(_begin(card, flow.width))
    flow.gap(1.5)
    flow.add(reed_picture(card, flow.width))
    if card.layers:
        flow.gap(1.5)
        flow.add(_layers(card, flow.width))
    flow.gap(2.5)
    sley_ticks(flow, card)
    flow.gap(3.0)
    flow.add(sley_checks(card, flow.width))
    flow.notes()
    return flow.drawing("Sley card", SLUG)


def _legend(card: SleyCard) -> str:
    return f"First end at the {card.first_end}, the reed seen from the front."


def _ruled(width: float) -> Block:
    return Block(2.0, lambda x, y: [rule(x, y + 0.6, width, 0.3, INK)])


def _opening(card: SleyCard, width: float) -> list[Block]:
    """Return the pattern as large as it fits, with the key figures beside or under it."""
    text = pattern_text(card.pattern)
    size = next(
        (each for each in _PATTERN_SIZES if measure(text, each, "bold") <= 0.62 * width),
        _PATTERN_SIZES[-1],
    )
    wide = measure(text, size, "bold")
    words = "ends in every dent" if len(card.pattern) == 1 else "ends in the dents, in turn"
    if card.pattern == (1,):
        words = "end in every dent"
    room = width - max(wide, measure(words, BODY)) - 9.0
    if size == _PATTERN_SIZES[-1] and wide > width:
        pattern = _wrapped_pattern(card, width, size)
    else:
        pattern = _large(text, size)
    left = stack([pattern, paragraph(words, width, BODY, colour=SOFT)])
    if room >= _KEY_LEAST:
        return [beside([(0.0, left), (width - room, key_figures(_key(card), room))])]
    return [left, key_figures(_key(card), width)]


def _large(text: str, size: float) -> Block:
    tall = cap_height(size) + 0.08 * size * MM_PER_PT + 0.6

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield label(x, y + cap_height(size) + 0.6, text, size, "bold", colour=INK)

    return Block(tall, draw)


def _wrapped_pattern(card: SleyCard, width: float, size: float) -> Block:
    """Return a long pattern in lines that break after a hyphen."""
    lines: list[str] = [""]
    for place, ends in enumerate(card.pattern):
        part = f"{ends}-" if place + 1 < len(card.pattern) else str(ends)
        if lines[-1] and measure(lines[-1] + part, size, "bold") > width:
            lines.append("")
        lines[-1] += part
    return stack([_large(line, size) for line in lines], 1.6)


def _key(card: SleyCard) -> list[tuple[str, str]]:
    figures, other = card.figures, card.figures.other()
    ends = f"{card.ends} + {card.floating}" if card.floating else str(card.ends)
    word = "ends + floating" if card.floating else "ends"
    wide = f"in the reed ({other.width(card.width)})"
    return [
        (figures.reed(card.reed), f"reed ({other.reed(card.reed)})"),
        (ends, f"{word}, given" if card.ends_given else word),
        (str(card.dents), "dents"),
        (figures.width(card.width), f"{wide}, given" if card.width_given else wide),
        (figures.density(card.true_sett), f"true sett ({_off(card)})"),
    ]


def _off(card: SleyCard) -> str:
    if abs(card.error) < _WITHIN:
        return card.figures.other().density(card.true_sett)
    return f"{plain(abs(card.error) * 100, 1)} % {'closer' if card.error > 0 else 'more open'}"


def _begin(card: SleyCard, width: float) -> Block:
    """Return in words where the first end goes."""
    parts = [heading_line("Where to begin", width), paragraph(_first(card), width, LABEL, "bold")]
    aside = _aside(card)
    if aside:
        parts.append(paragraph(aside, width, BODY, colour=SOFT))
    return stack(parts, 0.6)


def _first(card: SleyCard) -> str:
    """Return how to find the dent of the first end from the middle of the reed."""
    first, side = card.first, card.first_end
    reach = card.figures.both("width", first.edge_mm)
    if not first.count:
        return "Mark the dent in the middle of the reed: it is the only one."
    tail = f"{reach} from the middle to its outer wire"
    if first.middle == "wire":
        return (
            f"Mark the wire in the middle of the reed. Count {first.count} "
            f"dent{'s' if first.count > 1 else ''} from it to the {side}: the last one counted is "
            f"for the first end, {tail}."
        )
    return (
        f"Mark the dent in the middle of the reed. Beginning with the dent beside it, count "
        f"{first.count} to the {side}: the last one counted is for the first end, {tail}."
    )


def _aside(card: SleyCard) -> str:
    """Return what to do with a reed whose middle is of the other kind, and the dents left empty."""
    other = "dent" if card.first.middle == "wire" else "wire"
    beside_it = "a wire beside it" if other == "dent" else "the dent beside it"
    words = (
        f"If a {other} is in the middle of your reed, mark {beside_it}: half a dent does no harm."
    )
    if card.empty is None or card.reed_length is None:
        return words
    far = "left" if card.first_end == "right" else "right"
    near_empty, far_empty = card.empty
    length = card.figures.both("width", card.reed_length)
    return (
        f"{words} In a reed of {length}, {near_empty} dents stay empty at the {card.first_end} "
        f"and {far_empty} at the {far}."
    )


def _layers(card: SleyCard, width: float) -> Block:
    """Return the marks of the layers, and whether each dent holds all of them alike."""
    letters = " ".join(mark.letter for mark in card.layers)
    body, edges = card.whole
    if not body:
        words = (
            f"The layers {letters} are not whole in each dent: keep to the order of the heddles."
        )
    elif edges:
        words = f"Every full dent holds the layers {letters} alike."
    else:
        words = (
            f"Every full dent holds {letters} alike, save where an edge is sleyed "
            "otherwise: keep to the heddles."
        )
    return stack([layer_key(card.layers, width), paragraph(words, width, BODY)])
