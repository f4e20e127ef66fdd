"""A rule of true size that lies across the page, in strips one below the other.

Its upper edge is laid against the loom: ticks begin there, figures stand below them, and under
those the words of single marks, each with a point that shows where it belongs.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from layouts.drawing import Figure, Line, Mark, Path, Weight
from layouts.sheets.parts import HEAVY, INK, SOFT, Block, baseline, leading
from layouts.sheets.strips import Strip, badge, cut_line, flap, letter_of
from layouts.typeface import BODY, NOTE, label, measure, wrap

SIDE_FLAP = 11.0
# A short rule is cut out with more paper beside it, for its words, in mm of the page.
_NARROWEST = 60.0
_TICKS = 7.0
_ROW = leading(NOTE)
_POINT = 2.4
_CAPTION = 8.0
_MOST_ROWS = 8
_CLEAR = 0.7


@dataclass(frozen=True, slots=True)
class Ticks:
    """Ticks at `places` mm from the left end, so long and so heavy in mm of the page."""

    places: tuple[float, ...]
    length: float
    weight: float


@dataclass(frozen=True, slots=True)
class Number:
    """A figure about `at` mm from the left end, in a row counted from 0."""

    at: float
    text: str
    row: int
    bold: bool = False


@dataclass(frozen=True, slots=True)
class Said:
    """Words at a mark `at` mm from the left end."""

    at: float
    words: str


@dataclass(frozen=True, slots=True)
class LongRule:
    """A rule `length` mm long, true size, with all that stands on it, and where it may be joined.

    `name` stands on every strip. `joins` are mm from the left end, in order.
    """

    name: str
    length: float
    ticks: tuple[Ticks, ...]
    numbers: tuple[Number, ...]
    said: tuple[Said, ...]
    joins: tuple[float, ...]


def rule_strips(rule: LongRule, width: float, scale: float) -> list[Block]:
    """Return a rule in strips for a page `width` mm wide, `scale` mm of the page to a mm of it."""
    return [_Drawn(rule, strip, scale).block() for strip in _strips(rule, width, scale)]


def _strips(rule: LongRule, width: float, scale: float) -> list[Strip]:
    """Return strips that are about as long as one another, and as few as there can be."""
    room = (width - SIDE_FLAP) / scale
    number = 1 if rule.length * scale <= width else math.ceil(rule.length / room)
    strips: list[Strip] = []
    start = 0.0
    while True:
        left = rule.length - start
        if left * scale <= width:
            return [*strips, Strip(len(strips), start, rule.length, last=True)]
        wanted = start + left / max(2, number - len(strips))
        stop = _join(rule, start, wanted, start + room)
        strips.append(Strip(len(strips), start, stop, last=False))
        start = stop


def _join(rule: LongRule, start: float, wanted: float, most: float) -> float:
    """Return the join nearest to what is wanted that the paper has room for."""
    fits = [join for join in rule.joins if start < join <= most + 1e-9]
    return min(fits, key=lambda join: abs(join - wanted)) if fits else most


@dataclass(frozen=True, slots=True)
class _Placed:
    """Words in a row below the figures: their lines, left end and width in mm of the strip.

    `at` is where their mark is, `line` where the line from it goes down.
    """

    at: float
    line: float
    lines: tuple[str, ...]
    left: float
    width: float
    row: int


class _Drawn:
    """One strip; places are mm of the page from its left end."""

    def __init__(self, rule: LongRule, strip: Strip, scale: float) -> None:
        self._rule = rule
        self._strip = strip
        self._scale = scale
        self._long = (strip.stop - strip.start) * scale
        # Only a rule in one strip may be short; what is beside it has no ticks.
        self._wide = max(self._long, _NARROWEST) if strip.first and strip.last else self._long
        self._figures = 1 + max((number.row for number in rule.numbers), default=0)
        self._placed = self._place()

    def block(self) -> Block:
        """Return the strip, as high as its words need."""
        words = _POINT + 1.0 + sum(self._heights()) * _ROW if self._placed else 0.0
        height = _TICKS + self._figures * _ROW + words + _CAPTION

        def draw(x: float, y: float) -> Iterable[Mark]:
            marks = [*self._flap(x, y, height), *self._ticks(x, y), *self._numbers(x, y)]
            marks += [*self._words(x, y), *self._caption(x, y + height - _CAPTION)]
            wide = self._wide + (0.0 if self._strip.last else SIDE_FLAP)
            marks.append(cut_line(x, y, wide, height))
            name = f"Strip {self._strip.letter} of the {self._rule.name}"
            yield Figure(tuple(marks), name)

        return Block(height + 2.0, draw)

    def _x(self, at: float) -> float:
        return (at - self._strip.start) * self._scale

    def _here(self, at: float) -> bool:
        return self._strip.start - 1e-9 <= at <= self._strip.stop + 1e-9

    def _flap(self, x: float, y: float, height: float) -> Iterable[Mark]:
        if self._strip.last:
            return
        words = f"paste under {letter_of(self._strip.number + 1)}"
        yield from flap(x + self._wide, y, SIDE_FLAP, height, words)
        yield Line(x + self._wide, y, x + self._wide, y + height, 0.3, INK)

    def _ticks(self, x: float, y: float) -> Iterable[Mark]:
        for ticks in self._rule.ticks:
            steps: list[tuple[str, float, float]] = []
            for at in filter(self._here, ticks.places):
                place = x + self._x(at)
                steps += [("M", place, y), ("L", place, y + ticks.length)]
            if steps:
                yield Path(tuple(steps), None, INK, ticks.weight)

    def _numbers(self, x: float, y: float) -> Iterable[Mark]:
        """Yield figures; one at an end of the strip is moved in, one at a join stands after it."""
        for number in self._rule.numbers:
            if not (self._strip.holds(number.at) and self._here(number.at)):
                continue
            weight: Weight = "bold" if number.bold else "regular"
            half = measure(number.text, NOTE, weight) / 2
            place = min(max(self._x(number.at), half + 0.6), self._wide - half - 0.6)
            at = y + _TICKS + number.row * _ROW + baseline(NOTE)
            colour = INK if number.bold else SOFT
            yield label(x + place, at, number.text, NOTE, weight, "middle", colour)

    def _place(self) -> list[_Placed]:
        """Place the words of the marks in rows, so that none lies on another or on its line.

        Those nearest the middle of the strip come first; nearer an end, words point inwards and
        stand lower.
        """
        said: dict[float, list[str]] = {}
        for each in self._rule.said:
            if self._strip.holds(each.at):
                said.setdefault(self._x(each.at), []).append(each.words)
        placed: list[_Placed] = []
        for at in sorted(said, key=lambda at: abs(at - self._wide / 2)):
            texts = [wrap(words, self._wide - 2.0, NOTE, "bold") for words in said[at]]
            lines = tuple(line for text in texts for line in text)
            width = max(measure(line, NOTE, "bold") for line in lines)
            left = self._left(at, width, [other for other in said if other != at])
            line = self._inner(at)
            free = (row for row in range(_MOST_ROWS) if _is_free(placed, line, left, width, row))
            row = next(free, None)
            if row is None:  # on a short rule lines cannot but cross words
                row = 1 + max(each.row for each in placed)
            placed.append(_Placed(at, line, lines, left, width, row))
        return placed

    def _left(self, at: float, width: float, others: Sequence[float]) -> float:
        """Return where words begin: about their mark, or inwards from it if others are near."""
        left = at - width / 2
        if any(left - 2.0 <= other <= left + width + 2.0 for other in others):
            inner = self._inner(at)
            left = inner if at < self._wide / 2 else inner - width
        return min(max(left, 1.0), self._wide - width - 1.0)

    def _inner(self, at: float) -> float:
        """Return where the line of a mark goes down: that of an edge within the strip."""
        return min(max(at, 1.2), self._wide - 1.2)

    def _heights(self) -> list[int]:
        """Return how many lines each row of words has."""
        rows = 1 + max((each.row for each in self._placed), default=-1)
        return [max(len(e.lines) for e in self._placed if e.row == row) for row in range(rows)]

    def _words(self, x: float, y: float) -> Iterable[Mark]:
        """Yield the marks with their points and words."""
        tip = y + _TICKS + self._figures * _ROW + 0.4
        heights = self._heights()
        for each in self._placed:
            at = x + each.at
            yield Line(at, y, at, y + _TICKS - 0.6, HEAVY, INK)
            inner = x + self._inner(each.at)
            foot = tip + _POINT
            yield Path((("M", at, tip), ("L", inner - 1.2, foot), ("L", inner + 1.2, foot),
                        ("Z",)), INK, None)  # fmt: skip
            top = foot + 0.6 + sum(heights[: each.row]) * _ROW
            if each.row:
                yield Line(inner, foot, inner, top, 0.15, SOFT)
            for place, line in enumerate(each.lines):
                base = top + place * _ROW + baseline(NOTE)
                yield label(x + each.left, base, line, NOTE, "bold", colour=INK)

    def _caption(self, x: float, y: float) -> Iterable[Mark]:
        yield from badge(x + 5.0, y + _CAPTION / 2 - 0.2, self._strip.letter)
        lines = wrap(self._rule.name, self._wide - 12.0, BODY)
        yield label(x + 10.5, y + _CAPTION / 2 + 1.0, lines[0], BODY, colour=SOFT)


def _is_free(placed: Sequence[_Placed], at: float, left: float, width: float, row: int) -> bool:
    """Whether words have room in a row, their line in the rows above, and other lines beside."""
    for each in placed:
        beside = each.left + each.width + 1.5 <= left or left + width + 1.5 <= each.left
        if each.row == row and not beside:
            return False
        crosses = each.left - _CLEAR <= at <= each.left + each.width + _CLEAR
        if each.row < row and crosses:
            return False
        if each.row > row and left - _CLEAR <= each.line <= left + width + _CLEAR:
            return False
    return True
