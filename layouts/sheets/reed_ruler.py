"""Draws the rulers of reed and raddle, as wide as the warp and as it is seen by the weaver."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from cards.reed_ruler import RaddleRule, ReedRule, ReedRuler
from layouts.drawing import Drawing
from layouts.paper import Frame
from layouts.sheets.long_rule import LongRule, Number, Said, Ticks, rule_strips
from layouts.sheets.page import PageFlow
from layouts.sheets.parts import Block, heading_line, paragraph, stack
from layouts.sheets.strips import true_size_words
from layouts.typeface import BODY, NOTE, measure

SLUG = "reed-ruler"

_DENT, _FIVE, _TEN = 3.2, 4.6, 6.4
_FINE, _BROAD = 0.15, 0.3
# Dents, or spaces of the raddle, between figures: as few as leave room for them.
_EVERY = (10, 20, 50, 100)


def draw_reed_ruler(card: ReedRuler, frame: Frame) -> Drawing:
    """Return the pages of the rulers."""
    flow = PageFlow(frame, card.heading, true_size_words(metric=card.figures.metric))
    scale = 1.0 / frame.magnify
    words = (
        "Cut the strips out; paste each on the flap of the one before, its edge on the line. "
        "Lay the upper edge along the reed or the raddle, seen from the front, the middle of the "
        "ruler on the middle of the loom."
    )
    flow.add(paragraph(words, flow.width, BODY))
    flow.gap(2.0)
    _rule(flow, _reed_rule(card, scale), "For the reed", _reed_words(card), scale)
    flow.gap(3.0)
    _rule(flow, _raddle_rule(card, scale), "For the raddle", _raddle_words(card), scale)
    return flow.drawing("Reed and raddle rulers", SLUG)


def _rule(flow: PageFlow, rule: LongRule, title: str, words: str, scale: float) -> None:
    first, *rest = rule_strips(rule, flow.width, scale)
    heading = stack([heading_line(title, flow.width, words), Block(1.2, lambda x, y: ())])
    flow.keep([heading, first])
    for strip in rest:
        flow.add(strip)


def _reed_words(card: ReedRuler) -> str:
    figures, reed = card.figures, card.reed
    words = (
        f"{reed.dents} dents of a reed of {figures.reed(float(reed.reed))}, "
        f"{figures.both('width', reed.length)}. The large figures count dents, the small ones ends."
    )
    if card.floating:
        words += " The floating selvedges lie beyond both ends."
    return words


def _raddle_words(card: ReedRuler) -> str:
    figures, raddle = card.figures, card.raddle
    return (
        f"{len(raddle.ends)} spaces of {figures.both('width', raddle.spacing)}, "
        f"{figures.both('width', raddle.length)}. Above, the ends in each space; below, the ends "
        "so far."
    )


def _from_left(card: ReedRuler, length: float) -> Callable[[float], float]:
    """Return what turns mm from the first end's side into mm from the left."""
    if card.first_end == "right":
        return lambda at: length - at
    return lambda at: at


def _edges(card: ReedRuler, length: float) -> Iterable[tuple[float, str]]:
    """Yield both edges, by mm from the first end's side, with what they are."""
    other = "left" if card.first_end == "right" else "right"
    for at, words, side, fold in (
        (0.0, "first end", card.first_end, card.folds[0]),
        (length, "last end", other, card.folds[1]),
    ):
        yield at, f"{words}, {side} {'fold' if fold else 'edge'}"


def _reed_rule(card: ReedRuler, scale: float) -> LongRule:
    reed = card.reed
    place = _from_left(card, reed.length)
    every = _every(reed, scale)
    lengths = {_TEN: _BROAD, _FIVE: _FINE, _DENT: _FINE}
    ticks = []
    for length, weight in lengths.items():
        there = [dent for dent in range(reed.dents + 1) if _long(dent) == length]
        ticks.append(Ticks(tuple(place(reed.at(dent)) for dent in there), length, weight))
    numbers = []
    for dent in range(every, reed.dents + 1, every):
        at = place(reed.at(dent))
        numbers.append(Number(at, str(dent), 0, bold=True))
        numbers.append(Number(at, str(reed.ends_after[dent]), 1))
    said = [Said(place(at), words) for at, words in _edges(card, reed.length)]
    said += [Said(place(part.at), part.words) for part in reed.parts]
    kind = "dent" if reed.dents % 2 else "wire"
    said.append(Said(reed.length / 2, f"middle, a {kind}"))
    joins = sorted(place(reed.at(dent)) for dent in range(every, reed.dents, every))
    name = f"reed ruler, {card.figures.reed(float(reed.reed))}"
    return LongRule(name, reed.length, tuple(ticks), tuple(numbers), tuple(said), tuple(joins))


def _long(dent: int) -> float:
    return _TEN if dent % 10 == 0 else _FIVE if dent % 5 == 0 else _DENT


def _every(reed: ReedRule, scale: float) -> int:
    """Return after how many dents a figure has room, also where it is moved in at a join."""
    widest = measure(str(reed.ends_after[-1]), NOTE, "bold")
    room = float(scale / reed.reed)
    return next((each for each in _EVERY if each * room >= 1.5 * widest + 1.5), _EVERY[-1])


def _raddle_rule(card: ReedRuler, scale: float) -> LongRule:
    raddle = card.raddle
    place = _from_left(card, raddle.length)
    pegs = tuple(place(raddle.spacing * peg) for peg in range(len(raddle.ends) + 1))
    said = [Said(place(at), words) for at, words in _edges(card, raddle.length)]
    kind = "space" if len(raddle.ends) % 2 else "peg"
    said.append(Said(raddle.length / 2, f"middle, a {kind}"))
    joins = tuple(sorted(pegs))[1:-1]
    name = f"raddle ruler, spaces of {card.figures.width(raddle.spacing)}"
    numbers = tuple(_raddle_numbers(card, raddle, scale))
    return LongRule(name, raddle.length, (Ticks(pegs, _TEN, _BROAD),), numbers, tuple(said), joins)


def _raddle_numbers(card: ReedRuler, raddle: RaddleRule, scale: float) -> Iterable[Number]:
    """Yield the ends of each space, and below the ends so far, in as many rows as that takes."""
    place = _from_left(card, raddle.length)
    widest = measure(str(card.ends), NOTE) + 1.2
    rows = max(1, -int(-widest // (raddle.spacing * scale)))
    for space, (ends, after) in enumerate(zip(raddle.ends, raddle.ends_after, strict=True)):
        at = place(raddle.spacing * (space + 0.5))
        yield Number(at, str(ends), 0, bold=True)
        yield Number(at, str(after), 1 + space % rows)
