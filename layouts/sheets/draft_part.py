"""What stands along one side of a drawn draft: its threads, their counts, repeats and yarns.

A part may be a tile of a longer side; its numbers are those of the whole cloth all the same.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from cards.draft.stretches import Stretch
from cards.draft_sheet import Range, Side
from cards.project.model import ProjectYarn
from layouts.drawing import BLACK, Cells, Line, Mark, Path, Step
from layouts.sheets.parts import HAIR, INK
from layouts.typeface import NOTE, measure

# Threads that two neighbouring tiles have in common.
OVERLAP = 4

_HAIR_GRID = 0.1
_COUNT_GRID = 0.4


@dataclass(frozen=True, slots=True)
class Bracket:
    """Places `first` to `last` (exclusive) of a part under one bracket, and what it says."""

    first: int
    last: int
    words: str


@dataclass(frozen=True, eq=False)
class Part:
    """Threads side by side: numbers from 0, where heavy rules and cuts stand, brackets, yarns.

    `rules` and `cuts` are places before which they stand; `frame` is the first repeat where more
    of it is drawn; `yarns` is empty where their order is not that of all repeats. `shared` are
    the places before which, and after which, the neighbouring tiles have the threads too.
    """

    threads: NDArray[np.intp]
    rules: tuple[int, ...]
    cuts: tuple[int, ...]
    brackets: tuple[Bracket, ...]
    frame: tuple[int, int] | None
    yarns: tuple[ProjectYarn, ...]
    shared: tuple[int, ...] = ()

    @property
    def count(self) -> int:
        """How many threads are drawn."""
        return len(self.threads)

    @cached_property
    def used(self) -> tuple[ProjectYarn, ...]:
        """Each yarn once, in the order of the spec."""
        found = {yarn.key: yarn for yarn in self.yarns}
        return tuple(sorted(found.values(), key=lambda yarn: yarn.hatch))

    @cached_property
    def letter_width(self) -> float:
        """Width in mm of the widest letter of a yarn."""
        return max((measure(yarn.letter, NOTE, "bold") for yarn in self.used), default=0.0)

    @cached_property
    def words_width(self) -> float:
        """Width in mm of the longest words of a bracket."""
        return max((measure(each.words, NOTE, "bold") for each in self.brackets), default=0.0)

    @cached_property
    def count_width(self) -> float:
        """Width in mm of the widest number of a thread."""
        return measure(str(int(self.threads.max()) + 1), NOTE) if self.count else 0.0


def bracket_words(stretch: Stretch) -> str:
    """Return what a bracket says: `4 × 95 + 1` is 4 threads 95 times and the first once more."""
    rest = f" + {stretch.rest}" if stretch.rest else ""
    return f"{stretch.once} × {stretch.times}{rest}"


def part_of(shown: Range, side: Side, span: range | None = None) -> Part:
    """Return the part of a side that is drawn, or of that only the places in `span`."""
    span = span or range(shown.count)
    threads = shown.threads
    beat = _beat(shown)
    rules: list[int] = []
    cuts: list[int] = []
    brackets: list[Bracket] = []
    frame: tuple[int, int] | None = None
    at = 0
    for each in shown.drawn:
        rules.extend(range(at + beat, at + each.count, beat))
        if at:
            cuts.append(at)
        if each.stretch.times > 1:
            brackets.append(Bracket(at, at + each.count, bracket_words(each.stretch)))
            if each.repeats > 1 and frame is None:
                frame = at, at + each.stretch.once
        at += each.count
    shared = [span.start + OVERLAP] if span.start else []
    if span.stop < shown.count:
        shared.append(span.stop - OVERLAP)
    return Part(
        threads=threads[span.start : span.stop],
        rules=_within(rules, span),
        cuts=_within(cuts, span),
        brackets=tuple(_clipped(brackets, span)),
        frame=frame if len(span) == shown.count else None,
        yarns=tuple(side.yarns[place] for place in threads[span.start : span.stop])
        if shown.coloured
        else (),
        shared=tuple(place - span.start for place in shared),
    )


def empty_part() -> Part:
    """Return a part of no threads, for a page that has the treadling alone."""
    return Part(np.empty(0, dtype=np.intp), (), (), (), None, ())


def _beat(shown: Range) -> int:
    """Return after how many threads a heavy rule stands: 4, 5 or 6, as the repeat goes by it."""
    once = max(shown.drawn, key=lambda each: each.stretch.total).stretch.once
    return next((beat for beat in (4, 5, 6) if once % beat == 0), 4)


def _within(places: Iterable[int], span: range) -> tuple[int, ...]:
    return tuple(place - span.start for place in places if span.start < place < span.stop)


def _clipped(brackets: Iterable[Bracket], span: range) -> Iterable[Bracket]:
    for each in brackets:
        first, last = max(each.first, span.start), min(each.last, span.stop)
        if first < last:
            yield Bracket(first - span.start, last - span.start, each.words)


@dataclass(frozen=True, slots=True)
class Ruler:
    """Places along one direction of the page: `count` cells from `origin` on, in mm.

    With `turned` the first place is the last cell, at the right or at the bottom.
    """

    origin: float
    cell: float
    count: int
    turned: bool

    @property
    def length(self) -> float:
        """Length of all cells in mm."""
        return self.cell * self.count

    def edge(self, place: int) -> float:
        """Return where the cell of a place begins, as it is read."""
        along = self.count - place if self.turned else place
        return self.origin + along * self.cell

    def low(self, place: int) -> float:
        """Return the left or upper edge of the cell of a place."""
        return min(self.edge(place), self.edge(place + 1))

    def middle(self, place: int) -> float:
        """Return the middle of the cell of a place."""
        return self.low(place) + self.cell / 2

    def span(self, first: int, last: int) -> tuple[float, float]:
        """Return the lower and the upper edge of the places `first` to `last`, exclusive."""
        low, high = sorted((self.edge(first), self.edge(last)))
        return low, high


def cells(
    marks: NDArray[np.bool_], across: Ruler, down: Ruler, colour: str = BLACK
) -> tuple[Mark, ...]:
    """Return the cells of an array of shape (down, across), turned as its rulers are."""
    turned = marks[:: -1 if down.turned else 1, :: -1 if across.turned else 1]
    if not turned.any():
        return ()
    filled = np.ascontiguousarray(turned)
    return (Cells(across.origin, down.origin, across.cell, down.cell, filled, colour),)


def grid(
    across: Ruler, down: Ruler, rules: Iterable[int], levels: Iterable[int]
) -> tuple[Mark, ...]:
    """Return the lines between cells, heavier before the places `rules` and `levels`, and round."""
    left, right = across.origin, across.origin + across.length
    top, bottom = down.origin, down.origin + down.length
    thin = [_upright(across.edge(place), top, bottom) for place in range(1, across.count)]
    thin += [_level(down.edge(place), left, right) for place in range(1, down.count)]
    heavy = [_upright(across.edge(place), top, bottom) for place in (0, *rules, across.count)]
    heavy += [_level(down.edge(place), left, right) for place in (0, *levels, down.count)]
    return (
        Path(_strokes(thin), None, HAIR, _HAIR_GRID),
        Path(_strokes(heavy), None, INK, _COUNT_GRID),
    )


Stroke = tuple[float, float, float, float]


def _upright(x: float, top: float, bottom: float) -> Stroke:
    return x, top, x, bottom


def _level(y: float, left: float, right: float) -> Stroke:
    return left, y, right, y


def _strokes(lines: Iterable[Stroke]) -> tuple[Step, ...]:
    steps: list[Step] = []
    for x1, y1, x2, y2 in lines:
        steps.append(("M", x1, y1))
        steps.append(("L", x2, y2))
    return tuple(steps)


def counted(part: Part, needs: float | None, cell: float) -> list[int]:
    """Return the places whose number is printed: before the heavy rules, the first and the last.

    `needs` is the height of a number that stands beside its row, None for numbers side by side
    above their columns. No two numbers come nearer than they can be read.
    """
    if not part.count:
        return []
    kept: list[int] = []
    wanted = (0, part.count - 1, *(place - 1 for place in (*part.cuts, *part.rules)))
    for place in wanted:
        if all(_apart(part, place, other, needs) <= abs(place - other) * cell for other in kept):
            kept.append(place)
    return sorted(kept)


def _apart(part: Part, one: int, other: int, needs: float | None) -> float:
    if needs is not None:
        return needs
    widths = [measure(str(part.threads[place] + 1), NOTE) for place in (one, other)]
    return sum(widths) / 2 + 1.0


def cut_lines(part: Part, ruler: Ruler, start: float, stop: float, *, upright: bool) -> list[Mark]:
    """Return white and black strokes where threads are left out, a little longer than the grid."""
    marks: list[Mark] = []
    for place in part.cuts:
        at = ruler.edge(place)
        ends = (at, start, at, stop) if upright else (start, at, stop, at)
        marks += [Line(*ends, width=1.2, colour="#ffffff"), Line(*ends, width=0.35, colour=INK)]
    return marks
