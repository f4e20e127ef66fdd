"""A picture of the reed: where its middle is, where the first end lies, and the dents at the edges.

Seen by the weaver from the front. Every end is a mark in its dent, of the shape of its layer; a
floating selvedge is a cross and the line in a fold a bar, so that nothing is told by colour alone.
A warp of more dents than fit shows its two edges and its middle.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from cards.sley_card import ReedEdge, SleyCard
from layouts.drawing import BLACK, Disc, Figure, Line, Mark, Path
from layouts.sheets.layer_mark import layer_mark
from layouts.sheets.parts import HEAVY, INK, SOFT, Block, baseline, leading
from layouts.typeface import BODY, LABEL, label, measure

_PITCH: Final = 5.8
_MARK: Final = 3.3
_ROW: Final = 4.0
_MOST_ROWS: Final = 8  # ends in a dent
_BEYOND: Final = 2  # empty dents shown at each side
_GAP: Final = 10.0
_MOST_AT_AN_EDGE: Final = 11
_WIRE: Final = 0.3


@dataclass(frozen=True, slots=True)
class _Span:
    """Dents side by side from `left` mm on, by their place from the left of the warp."""

    left: float
    start: int
    stop: int

    @property
    def right(self) -> float:
        """Where the span ends, in mm."""
        return self.left + (self.stop - self.start) * _PITCH

    def at(self, place: float) -> float:
        """Return the x in mm of the left wire of a dent."""
        return self.left + (place - self.start) * _PITCH


def reed_picture(card: SleyCard, width: float) -> Block:
    """Return the picture of a reed, `width` mm wide at most."""
    picture = _Picture(card, width)
    return Block(picture.height, picture.draw)


class _Picture:
    def __init__(self, card: SleyCard, width: float) -> None:
        self._card = card
        self._spans = _spans(card, width)
        self._width = width
        # Where a dent holds more than can be drawn, only the figures tell.
        self._drawn = max(card.per_dent) <= _MOST_ROWS
        self._rows = max(card.per_dent) if self._drawn else 1
        self._dent = self._rows * _ROW + 2.0
        self._top = leading(BODY) + 4.0
        counts = leading(LABEL) + 0.6
        self._words = _side_words(card)
        widths = [measure(each, BODY, "bold") for each in (*self._words, _middle_words(card))]
        # The words at the sides stand in a row with those of the middle, or else in their own.
        self._one_row = 2 * max(widths[:2]) + widths[2] + 6.0 <= width
        rows = 1 if self._one_row else 2
        self.height = self._top + self._dent + counts + rows * leading(BODY) + 4.5

    def draw(self, x: float, y: float) -> Iterable[Mark]:
        card = self._card
        marks = [*self._reed(x, y), *self._ends(x, y), *self._beyond(x, y)]
        marks += [*self._middle(x, y), *self._measure(x, y), *self._sides(x, y)]
        words = f"{card.dents} dents, the first end at the {card.first_end}"
        yield Figure(tuple(marks), "The reed from the front", words)

    def _index(self, place: int) -> int:
        """Return which dent, from that of the first end, lies at a place from the left."""
        return self._card.dents - 1 - place if self._card.first_end == "right" else place

    def _reed(self, x: float, y: float) -> Iterable[Mark]:
        top, bottom = y + self._top, y + self._top + self._dent
        for span in self._spans:
            for rail in (top, bottom):
                yield Line(x + span.left, rail, x + span.right, rail, HEAVY, INK)
            for place in range(span.start, span.stop + 1):
                at = x + span.at(place)
                yield Line(at, top, at, bottom, _WIRE, INK)
        for one, other in zip(self._spans, self._spans[1:], strict=False):
            for rail in (top, bottom):
                left, right = x + one.right + 1.0, x + other.left - 1.0
                yield Line(left, rail, right, rail, HEAVY, SOFT, (0.8, 1.6))

    def _ends(self, x: float, y: float) -> Iterable[Mark]:
        card = self._card
        top = y + self._top
        under = top + self._dent + 0.6 + baseline(LABEL)
        for span in self._spans:
            for place in range(max(0, span.start), min(card.dents, span.stop)):
                ends = card.ends_in(self._index(place))
                middle = x + span.at(place + 0.5)
                shown = ends if self._drawn else range(0)
                free = (self._dent - len(shown) * _ROW) / 2
                for row, end in enumerate(shown):
                    yield self._end(end, middle, top + free + (row + 0.5) * _ROW)
                yield label(middle, under, str(len(ends)), LABEL, "bold", "middle", INK)

    def _end(self, end: int, x: float, y: float) -> Mark:
        if not self._card.lanes:
            return Disc(x, y, _MARK / 2, INK, None)
        (mark,) = layer_mark(self._card.lanes[end], x, y, _MARK)
        return mark

    def _beyond(self, x: float, y: float) -> Iterable[Mark]:
        """Draw what stands beyond the outermost ends: the line of a fold, then what floats."""
        for edge, outwards in zip(_left_right(self._card), (-1, 1), strict=True):
            span = self._spans[0 if outwards < 0 else -1]
            place = -1 if outwards < 0 else self._card.dents
            things = [draw for there, draw in ((edge.line, bar), (edge.floating, cross)) if there]
            for step, draw in enumerate(things):
                middle = x + span.at(place + step * outwards + 0.5)
                yield draw(middle, y + self._top + self._dent / 2)

    def _middle_x(self) -> float:
        place = self._card.dents / 2
        span = next(each for each in self._spans if each.start <= place <= each.stop)
        return span.at(place)

    def _middle(self, x: float, y: float) -> Iterable[Mark]:
        """Point at the middle of the warp, a wire or a dent, and say which it is."""
        at, tip = x + self._middle_x(), y + self._top - 0.9
        steps = (("M", at, tip), ("L", at - 1.7, tip - 2.9), ("L", at + 1.7, tip - 2.9), ("Z",))
        yield Path(steps, INK, None)
        yield label(at, y + baseline(BODY), _middle_words(self._card), BODY, "bold", "middle", INK)

    def _measure(self, x: float, y: float) -> Iterable[Mark]:
        """Draw the way from the middle to the outer wire of the first end's dent."""
        card = self._card
        if not card.first.count:
            return
        right = card.first_end == "right"
        start = x + self._middle_x()
        span = self._spans[-1 if right else 0]
        stop = x + span.at(card.dents if right else 0)
        line = y + self._top + self._dent + leading(LABEL) + 3.2
        yield Line(start, line, stop, line, 0.3, INK)
        for at in (start, stop):
            yield Line(at, line - 1.4, at, line + 1.4, 0.3, INK)
        inwards = -1.0 if right else 1.0
        head = (("M", stop, line), ("L", stop + inwards * 2.6, line - 1.1),
                ("L", stop + inwards * 2.6, line + 1.1), ("Z",))  # fmt: skip
        yield Path(head, INK, None)
        words = f"{card.first.count} dent{'s' if card.first.count > 1 else ''}"
        anchor = (start + stop) / 2
        yield label(anchor, line + baseline(BODY) + 0.4, words, BODY, "bold", "middle", INK)

    def _sides(self, x: float, y: float) -> Iterable[Mark]:
        at = y + baseline(BODY)
        if not self._one_row:
            at += self.height - leading(BODY) - 0.6
        left, right = self._words
        yield label(x, at, left, BODY, "bold", colour=INK)
        yield label(x + self._width, at, right, BODY, "bold", "end", INK)


def _left_right(card: SleyCard) -> tuple[ReedEdge, ReedEdge]:
    """Return the edge at the left and that at the right."""
    first, last = card.edges
    return (first, last) if card.first_end == "left" else (last, first)


def _side_words(card: SleyCard) -> tuple[str, str]:
    """Return what is at the left and at the right."""
    left, right = (
        f"{edge.side}: {'first end, ' if edge.side == card.first_end else ''}"
        f"{'fold' if edge.fold else 'open edge'}"
        for edge in _left_right(card)
    )
    return left, right


def _middle_words(card: SleyCard) -> str:
    return f"middle: a {card.first.middle}"


def _spans(card: SleyCard, width: float) -> list[_Span]:
    """Return the dents to show: all of them, or those at both edges and in the middle."""
    fit = int(width // _PITCH)
    if card.dents + 2 * _BEYOND <= fit:
        left = (width - (card.dents + 2 * _BEYOND) * _PITCH) / 2
        return [_Span(left, -_BEYOND, card.dents + _BEYOND)]
    start = (card.dents - 1) // 2 - 1 if card.dents % 2 else card.dents // 2 - 2
    stop = card.dents - start
    middle = stop - start
    room = int((width - 2 * _GAP) // _PITCH) - middle
    each = min(_MOST_AT_AN_EDGE + _BEYOND, room // 2)
    wide = each * _PITCH
    return [
        _Span(0.0, -_BEYOND, each - _BEYOND),
        _Span((width - middle * _PITCH) / 2, start, stop),
        _Span(width - wide, card.dents - each + _BEYOND, card.dents + _BEYOND),
    ]


def cross(x: float, y: float) -> Mark:
    """Return the mark of a floating selvedge about (x, y) mm."""
    r = _MARK / 2
    steps = (("M", x - r, y - r), ("L", x + r, y + r), ("M", x - r, y + r), ("L", x + r, y - r))
    return Path(steps, None, BLACK, 0.7)


def bar(x: float, y: float) -> Mark:
    """Return the mark of the line that lies in a fold about (x, y) mm."""
    return Line(x, y - _MARK / 2 - 0.6, x, y + _MARK / 2 + 0.6, 1.3, BLACK)
