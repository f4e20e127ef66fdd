"""Draws the measuring ribbon: strips that stand upright, read from the foot as the cloth grows."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from cards.figures import INCH, count
from cards.measuring_ribbon import MeasuringRibbon, RibbonMark
from layouts.drawing import Drawing, Figure, Line, Mark, Weight
from layouts.paper import Frame
from layouts.sheets.page import PageFlow
from layouts.sheets.parts import INK, SOFT, Block, paragraph, stack, yarn_patch
from layouts.sheets.strips import (
    FLAP,
    Note,
    Strip,
    badge,
    cut_line,
    flap,
    letter_of,
    spread,
    true_size_words,
)
from layouts.typeface import BODY, NOTE, cap_height, label, measure

SLUG = "measuring-ribbon"

# A strip is as wide as the paper allows: no narrower than its words like, or at least need, in mm.
_NARROWEST = (33.0, 31.0)
# What a strip must hold at least before the next page is better, in mm of the page.
_SHORTEST = 48.0

_TICKS = 6.5
_WORDS = 10.0
_NUMBERS = 8.8
_PATCH = (7.0, 5.0)
_BADGE = 7.4
_AT_THE_FOOT = 3.0
_MOST_LINES = 4
# The order in which words are left out where marks crowd: the first go first.
_NEED = ("count", "look", "weft", "hem", "section", "fringe", "next", "end")


def draw_measuring_ribbon(card: MeasuringRibbon, frame: Frame) -> Drawing:
    """Return the pages of a measuring ribbon: wide strips, or narrower ones that save a page."""
    drawings = [_drawn(card, frame, narrowest) for narrowest in _NARROWEST]
    return min(drawings, key=lambda drawing: len(drawing.pages))


def _drawn(card: MeasuringRibbon, frame: Frame, narrowest: float) -> Drawing:
    flow = PageFlow(frame, card.heading, true_size_words(metric=card.figures.metric))
    sheet = _Ribbon(card, flow.width, narrowest, 1.0 / frame.magnify)
    flow.add(sheet.intro())
    flow.gap(2.0)
    at, number = 0.0, 0
    while at < card.length:
        if flow.room < _SHORTEST:
            flow.turn()
        strips = sheet.strips(at, number, flow.room)
        flow.add(sheet.row(strips))
        at, number = strips[-1].stop, number + len(strips)
    if sheet.left_out:
        words = f"{sheet.left_out} marks stand too close for words: the pick tally tells them."
        flow.add(paragraph(words, flow.width, NOTE, colour=SOFT))
    return flow.drawing("Measuring ribbon", SLUG)


@dataclass(frozen=True, slots=True)
class _Words:
    """What stands at a mark, and how much of the strip it takes in mm."""

    mark: RibbonMark
    block: Block


class _Ribbon:
    """Lays strips out side by side; `scale` is mm of the page to a mm of the ribbon."""

    def __init__(self, card: MeasuringRibbon, width: float, narrowest: float, scale: float) -> None:
        self._card = card
        self._scale = scale
        self._width = width
        self._columns = max(1, int(width // narrowest))
        self._breadth = width / self._columns
        self._unit = 10.0 if card.figures.metric else INCH
        self._parts = 2 if card.figures.metric else 4
        self._head = self._words(card.marks[-1]).height
        self.left_out = 0

    def intro(self) -> Block:
        """Return what to do with the strips."""
        figures, card = self._card.figures, self._card
        first = (
            "Cut the strips out; paste each on the flap of the one before, its edge on the "
            "line. Pin the foot of A at the first pick and the ribbon along the cloth as it grows, "
            "the warp under tension: what stands above a mark begins there."
        )
        words = f"{figures.both('tape', card.piece_length)}, {count(card.picks)} picks a piece."
        if card.pieces > 1:
            words += f" Use it again for each of {card.pieces} pieces."
        if card.before:
            woven = figures.both("tape", card.before)
            words += f" What is woven before the first piece, {woven}, is not on it."
        if card.looks:
            words += " At the word look, raise a layer and look between."
        return stack([paragraph(line, self._width, BODY) for line in (first, words)])

    def strips(self, start: float, number: int, room: float) -> list[Strip]:
        """Return the strips of a page that has `room` mm in height, from `start` on."""
        strips: list[Strip] = []
        for column in range(self._columns):
            free = room - (FLAP if start == 0.0 else 0.0)
            last = (self._card.length - start) * self._scale + self._head <= free
            # Strips end on a tick, so that the line to be pasted on is one.
            step = self._unit / self._parts
            reach = max(1, int((free - FLAP) / self._scale / step)) * step
            # One that is almost the last leaves something for the next.
            stop = self._card.length if last else min(start + reach, self._card.length - step)
            strips.append(Strip(number + column, start, stop, last))
            if last:
                break
            start = stop
        return strips

    def row(self, strips: Sequence[Strip]) -> Block:
        """Return strips side by side, their upper edges level."""
        heights = [self._height(strip) for strip in strips]

        def draw(x: float, y: float) -> Iterable[Mark]:
            for column, strip in enumerate(strips):
                left = x + column * self._breadth
                yield self._figure(strip, left, y)

        return Block(max(heights), draw)

    def _height(self, strip: Strip) -> float:
        flaps = self._above(strip) + (FLAP if strip.first else 0.0)
        return (strip.stop - strip.start) * self._scale + flaps

    def _above(self, strip: Strip) -> float:
        """Return what stands above the rule: a flap to be pasted on, or the words of the end."""
        return self._head if strip.last else FLAP

    def _figure(self, strip: Strip, x: float, y: float) -> Figure:
        foot = y + self._above(strip) + (strip.stop - strip.start) * self._scale
        marks = [*self._flaps(strip, x, y, foot), *self._rule(strip, x, foot)]
        marks += self._marks(strip, x, foot)
        marks.append(cut_line(x, y, self._breadth, self._height(strip)))
        figures = self._card.figures
        words = f"{figures.tape(strip.start)} to {figures.tape(strip.stop)}"
        return Figure(tuple(marks), f"Strip {strip.letter} of the ribbon", words)

    def _flaps(self, strip: Strip, x: float, y: float, foot: float) -> Iterable[Mark]:
        wide = self._breadth
        if not strip.last:
            after = letter_of(strip.number + 1)
            yield from flap(x, y, wide, FLAP, f"paste under {after}")
            yield Line(x, y + FLAP, x + wide, y + FLAP, 0.3, INK)
        if strip.first:
            yield from flap(x, foot, wide, FLAP, "pin here, first pick on the line")
            yield Line(x, foot, x + wide, foot, 0.3, INK)

    def _rule(self, strip: Strip, x: float, foot: float) -> Iterable[Mark]:
        """Yield the ticks at both edges, and the number of every cm or inch."""
        parts = self._parts
        step = self._unit / parts
        right = x + self._breadth
        place = round(strip.start / step)
        while place * step <= strip.stop + 1e-9:
            y = foot - (place * step - strip.start) * self._scale
            whole = place % parts == 0
            long = _TICKS if place % (10 * parts) == 0 else 4.5 if whole else 2.5
            yield Line(x, y, x + long, y, 0.2, INK)
            yield Line(right - (1.8 if whole else 1.0), y, right, y, 0.2, INK)
            if whole and place and (place * step < strip.stop - 1e-9 or strip.last):
                yield self._number(place // parts, right, min(y, foot - cap_height(NOTE) / 2 - 0.5))
            place += 1

    def _number(self, number: int, right: float, y: float) -> Mark:
        """Return the number of a cm or inch, its middle at y: that of a join a little above it."""
        weight: Weight = "regular" if number % 10 else "bold"
        at = y + cap_height(NOTE) / 2
        return label(right - 2.4, at, str(number), NOTE, weight, "end", INK)

    def _marks(self, strip: Strip, x: float, foot: float) -> Iterable[Mark]:
        """Yield the marks of a strip with their words, moved apart where they crowd."""
        there = [mark for mark in self._card.marks if strip.holds(mark.at)]
        said = [_Words(mark, self._words(mark)) for mark in there]
        notes = []
        for each in said:
            want = (each.mark.at - strip.start) * self._scale
            notes.append(Note(want, each.block.height, _NEED.index(each.mark.kind)))
        # The letter of the strip stands at its foot, or above the mark that is there.
        above = sum(1 for note in notes if note.want < _AT_THE_FOOT)
        notes.insert(above, Note(0.0, _BADGE, len(_NEED)))
        high = (strip.stop - strip.start) * self._scale + (self._head if strip.last else 0.0)
        places = spread(notes, 0.0, high)
        begins = places.pop(above)
        if begins is not None:
            yield from badge(x + _WORDS + 3.5, foot - begins - _BADGE / 2, strip.letter)
        for each, place in zip(said, places, strict=True):
            at = foot - (each.mark.at - strip.start) * self._scale
            weight = {"count": 0.2, "look": 0.4, "weft": 0.4}.get(each.mark.kind, 0.8)
            yield Line(x, at, x + _TICKS + 1.5, at, weight, INK)
            if place is None:
                self.left_out += each.mark.kind != "count"
                continue
            under = foot - place
            yield Line(x + _TICKS + 1.5, at, x + _WORDS - 0.5, under, 0.15, SOFT)
            end = x + self._breadth - _NUMBERS
            yield Line(x + _WORDS - 0.5, under, end, under, 0.15, SOFT)
            yield from each.block.draw(x + _WORDS, under - each.block.height)

    def _words(self, mark: RibbonMark) -> Block:
        """Return what stands above a mark."""
        width = self._breadth - _WORDS - _NUMBERS
        parts = []
        if mark.words:
            parts.append(_shortened(mark.words, width))
        if mark.yarns:
            if mark.look:
                parts.append(paragraph("look", width, NOTE, "bold"))
            parts.append(self._wefts(mark, width))
        elif mark.look:
            parts.append(paragraph(f"look · {count(mark.picks or 0)}", width, NOTE, "bold"))
        elif mark.picks:
            parts.append(_picks(mark.picks, width))
        inner = stack(parts)
        return Block(inner.height + 0.9, lambda x, y: inner.draw(x, y + 0.3))

    def _wefts(self, mark: RibbonMark, width: float) -> Block:
        """Return the wefts that begin, by their patches, and the picks so far beside or below."""
        wide, high = _PATCH
        fit = max(1, int((width + 1.0) // (wide + 1.0)))
        shown = mark.yarns[:fit]
        left = len(shown) * (wide + 1.0)
        picks = paragraph(count(mark.picks), width - left, NOTE) if mark.picks else None
        beside = picks is not None and left + 7.0 <= width

        def draw(x: float, y: float) -> Iterable[Mark]:
            for place, yarn in enumerate(shown):
                yield from yarn_patch(yarn, x + place * (wide + 1.0), y, wide, high)
            if picks is not None and beside:
                yield from picks.draw(x + left, y + (high - picks.height) / 2)

        row = Block(high + 0.4, draw)
        if mark.picks and not beside:
            return stack([row, _picks(mark.picks, width)])
        return row


def _picks(picks: int, width: float) -> Block:
    """Return the picks so far, the figure alone where the word has no room."""
    words = f"{count(picks)} picks"
    return paragraph(words if measure(words, NOTE) <= width else count(picks), width, NOTE)


def _shortened(words: str, width: float) -> Block:
    """Return a name in a few lines; one that is longer ends in dots, the tally has all of it."""
    text = words
    block = paragraph(text, width, BODY, "bold")
    line = paragraph("x", width, BODY, "bold").height
    while block.height > _MOST_LINES * line + 1e-6:
        text = text[:-1]
        block = paragraph(f"{text.rstrip()}…", width, BODY, "bold")
    return block
