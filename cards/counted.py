"""A counted list: lines to work through in order, repeats bracketed, boxes to tick, running totals.

Warping, threading and treadling are the same thing to the hand: so many of this, so many of that,
this group so many times. The list is made from a sequence with nested repeats and keeps the
author's grouping.
"""

from __future__ import annotations

from collections.abc import Callable
from collections.abc import Sequence as Values
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Generic, TypeVar

from cards.sequence import Repeat, Run, Sequence

T = TypeVar("T")
Item = Run[T] | Repeat[T]

# Brackets within brackets that a card can show beside its lines; deeper ones are written out.
DEEPEST = 3

# More boxes than this in one bracket are no longer counted at a glance: a box then stands for
# several repeats.
MOST_BOXES = 60

# A box for every two threads would break the rhythm: a box stands for at least so many.
LEAST_IN_A_BOX = 4

_HANDY = (1, 2, 4, 5, 10, 20, 25, 50, 100, 200, 250, 500, 1000)


@dataclass(frozen=True, slots=True)
class Boxes:
    """Boxes to tick: how many, the repeats that each stands for, and those of the last one."""

    number: int
    each: int
    last: int


@dataclass(frozen=True, slots=True)
class Line(Generic[T]):
    """One line: what to take in order, how many threads, and the running total after it.

    `so_far` is None inside a bracket, where the total is another at every repeat. `name` says
    what the line is where it is not of the body, such as a selvedge.
    """

    number: int
    runs: tuple[Run[T], ...]
    count: int
    so_far: int | None
    name: str = ""


@dataclass(frozen=True, slots=True)
class Bracket:
    """Lines `first` to `last` (indexes, inclusive) taken `times` times; depth 1 is the outermost.

    `once` threads are in one repeat, `total` in all; `before` and `after` are the running totals
    at both sides, None inside another bracket.
    """

    first: int
    last: int
    times: int
    depth: int
    once: int
    boxes: Boxes
    before: int | None

    @property
    def total(self) -> int:
        """Threads in all repeats."""
        return self.once * self.times

    @property
    def after(self) -> int | None:
        """The running total when all repeats are done."""
        return None if self.before is None else self.before + self.total


@dataclass(frozen=True, slots=True)
class CountedList(Generic[T]):
    """All lines and brackets in order, and the total."""

    lines: tuple[Line[T], ...]
    brackets: tuple[Bracket, ...]
    total: int

    def blocks(self) -> list[tuple[int, int]]:
        """Return spans of line indexes (first, last) that should stay together on a page."""
        outer = {each.first: each.last for each in self.brackets if each.depth == 1}
        spans = []
        index = 0
        while index < len(self.lines):
            last = outer.get(index, index)
            spans.append((index, last))
            index = last + 1
        return spans


def boxes_for(times: int, once: int, least: int = LEAST_IN_A_BOX, most: int = MOST_BOXES) -> Boxes:
    """Return the boxes for `times` repeats of `once` threads each, at most `most` of them.

    >>> boxes_for(6, 36)
    Boxes(number=6, each=1, last=1)
    >>> boxes_for(243, 2)
    Boxes(number=49, each=5, last=3)
    """
    each = next(
        (one for one in _HANDY if one * once >= least and -(-times // one) <= most),
        -(-times // most),
    )
    each = min(each, times)
    number = -(-times // each)
    return Boxes(number, each, times - (number - 1) * each)


@dataclass(frozen=True, slots=True)
class Counting(Generic[T]):
    """How a sequence becomes a list.

    `split` parts neighbouring runs of one level into lines; `least` is the smallest number of
    threads that a box stands for, `most` the largest number of boxes of one bracket.
    """

    split: Callable[[Values[Run[T]]], Values[Values[Run[T]]]]
    least: int = LEAST_IN_A_BOX
    most: int = MOST_BOXES


def counted_list(sequence: Sequence[T], counting: Counting[T]) -> CountedList[T]:
    """Return the counted list of a complete sequence."""
    return counted_parts([("", sequence)], counting)


def counted_parts(parts: Values[tuple[str, Sequence[T]]], counting: Counting[T]) -> CountedList[T]:
    """Return the counted list of several sequences one after another, each with a name or ""."""
    builder: _Builder[T] = _Builder(counting)
    done = 0
    for name, sequence in parts:
        builder.name = name
        builder.walk(_shallow(sequence.items, 1), depth=1, before=done)
        done += sequence.length
    return CountedList(tuple(builder.lines), tuple(builder.brackets), done)


def clearer(found: Sequence[T], flat: Sequence[T], counting: Counting[T]) -> Sequence[T]:
    """Return the sequence with found repeats only if that saves a good part of the lines.

    A repeat that saves nothing is only in the way of someone who reads on and on.
    """
    lines = len(counted_list(found, counting).lines)
    without = len(counted_list(flat, counting).lines)
    return found if lines <= _SAVED * without else flat


_SAVED = 0.6


def _shallow(items: tuple[Item[T], ...], depth: int) -> tuple[Item[T], ...]:
    """Write out repeats deeper than a card can bracket, and those that are not repeated at all."""
    kept: list[Item[T]] = []
    for item in items:
        if isinstance(item, Run):
            kept.append(item)
        elif item.times == 1:
            kept.extend(_shallow(item.items, depth))
        elif depth > DEEPEST:
            kept.extend(_shallow(item.items, depth + 1) * (item.times or 0))
        else:
            kept.append(replace(item, items=_shallow(item.items, depth + 1)))
    return tuple(kept)


class _Builder(Generic[T]):
    def __init__(self, counting: Counting[T]) -> None:
        self._counting = counting
        self.name = ""
        self.lines: list[Line[T]] = []
        self.brackets: list[Bracket] = []

    def walk(self, items: tuple[Item[T], ...], depth: int, before: int | None) -> None:
        """Append the lines of `items`; `before` is the running total, None within a bracket."""
        stretch: list[Run[T]] = []
        for item in items:
            if isinstance(item, Run):
                stretch.append(item)
                continue
            before = self._append(stretch, before)
            stretch = []
            self._bracket(item, depth, before)
            before = None if before is None else before + item.length
        self._append(stretch, before)

    def _append(self, stretch: list[Run[T]], before: int | None) -> int | None:
        for runs in self._counting.split(stretch) if stretch else ():
            many = sum(run.count for run in runs)
            before = None if before is None else before + many
            number = len(self.lines) + 1
            self.lines.append(Line(number, tuple(runs), many, before, self.name))
        return before

    def _bracket(self, item: Repeat[T], depth: int, before: int | None) -> None:
        first = len(self.lines)
        place = len(self.brackets)
        self.walk(item.items, depth + 1, None)
        times = item.times or 0
        boxes = boxes_for(times, item.once, self._counting.least, self._counting.most)
        last = len(self.lines) - 1
        self.brackets.insert(place, Bracket(first, last, times, depth, item.once, boxes, before))


def each_run(runs: Values[Run[T]]) -> list[list[Run[T]]]:
    """Split into a line for every run: neighbouring runs of one value become one."""
    merged: list[Run[T]] = []
    for run in runs:
        if merged and merged[-1].value == run.value:
            merged[-1] = replace(merged[-1], count=merged[-1].count + run.count)
        else:
            merged.append(run)
    return [[run] for run in merged]


def in_groups(most: int) -> Callable[[Values[Run[T]]], list[list[Run[T]]]]:
    """Return a split into lines of at most `most` single values, as even as can be."""

    def split(runs: Values[Run[T]]) -> list[list[Run[T]]]:
        singles = [replace(run, count=1) for run in runs for _ in range(run.count)]
        lines = -(-len(singles) // most)
        marks = [len(singles) * place // lines for place in range(lines + 1)]
        return [singles[before:after] for before, after in pairwise(marks)]

    return split
