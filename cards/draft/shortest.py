"""The shortest way to write a list with bracketed repeats, as a weaver would group it.

Short means: fewest written values (a run of one value is written once), then fewest levels of
brackets, then fewest pieces that stop although they could go on, then fewest brackets. What a
repeat leaves over stands after it rather than before, so that it starts at the first value.

Writing goes from left to right: the best way up to a place ends either with a run, or with a group
inside one of the list's maximal repetitions, each group in turn written its own shortest way. Of a
long group only a few places are tried as its beginning, so a long list may now and then be
written less shortly than it could be.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from collections.abc import Sequence as Listing
from dataclasses import dataclass
from typing import Final, NamedTuple, TypeVar

import numpy as np
from numpy.typing import NDArray

from cards.draft.repetitions import Codes, repetitions
from cards.sequence import Repeat, Run, Sequence

T = TypeVar("T", bound=Hashable)
Item = Run[int] | Repeat[int]
# Repetitions, shape (k, 3): start, stop, period; shortest period first.
Found = NDArray[np.int64]

# Groups of up to this many values are tried from every place, longer ones from the most telling.
EVERY_START: Final = 12
TELLING_STARTS: Final = 6
# Once so many values and groups have been weighed, groups are tried from one place only, so that
# the most entangled list takes a few seconds and not minutes.
PATIENCE: Final = 200_000


class _Cost(NamedTuple):
    """What a way of writing costs, the weightiest first."""

    values: int = 0
    levels: int = 0
    cut: int = 0
    brackets: int = 0

    def with_run(self) -> _Cost:
        return _Cost(self.values + 1, self.levels, self.cut, self.brackets)

    def with_group(self, unit: _Cost) -> _Cost:
        return _Cost(
            self.values + unit.values,
            max(self.levels, unit.levels + 1),
            self.cut + unit.cut,
            self.brackets + unit.brackets + 1,
        )

    def cut_short(self) -> _Cost:
        return _Cost(self.values, self.levels, self.cut + 1, self.brackets)


class _Written(NamedTuple):
    """A stretch written out: its cost and its tree."""

    cost: _Cost
    items: tuple[Item, ...]


FREE: Final = _Cost()


@dataclass(slots=True)
class _Group:
    """A group that may stand two or more times up to `last`, and its cheapest beginning so far."""

    period: int
    last: int
    unit: _Written
    begin: int = -1
    cost: _Cost = FREE

    def ending_at(self, place: int, cost_at: Callable[[int], _Cost]) -> _Step:
        """Return the best way to `place` that ends with this group; places come in rising order."""
        begin = place - 2 * self.period
        cost = cost_at(begin).with_group(self.unit.cost)
        if self.begin < 0 or cost < self.cost:
            self.begin, self.cost = begin, cost
        goes_on = place + self.period <= self.last
        return _Step(self.cost.cut_short() if goes_on else self.cost, self.begin, self.unit.items)


class _Step(NamedTuple):
    """How the best way up to a place ends: from `begin`, with a run, or with repeats of `unit`."""

    cost: _Cost
    begin: int
    unit: tuple[Item, ...]


def shortest(values: Listing[T]) -> Sequence[T]:
    """Write `values` as a short tree of nested repeats, whose values are exactly those given.

    >>> sequence = shortest([1, 2, 3, 4] * 30 + [1])
    >>> [item.length for item in sequence.items], sequence.items[0].times
    ([120, 1], 30)
    """
    names: dict[T, int] = {}
    codes = np.array([names.setdefault(value, len(names)) for value in values], dtype=np.int64)
    small: Codes = codes.astype(np.uint8) if len(names) <= 256 else codes
    return Sequence(_Writer(small).written(0, len(codes)).items).map(list(names).__getitem__)


class _Writer:
    """Writes any stretch of one list, keeping what it has written."""

    def __init__(self, codes: Codes) -> None:
        self._codes = codes
        self._list: list[int] = codes.tolist()
        found = [each for each in repetitions(codes) if each.period > 1]
        self._found: Found = np.array(found, dtype=np.int64).reshape(-1, 3)
        self._kept: dict[bytes, _Written] = {}
        self._patience = PATIENCE

    def written(self, start: int, stop: int) -> _Written:
        """Return the shortest writing found of the stretch [start, stop)."""
        key = self._codes[start:stop].tobytes()
        if key not in self._kept:
            self._patience -= stop - start
            self._kept[key] = self._write(start, stop)
        return self._kept[key]

    def _write(self, start: int, stop: int) -> _Written:
        groups_at = self._groups(start, stop)
        steps = [_Step(FREE, start, ())]

        def cost_at(place: int) -> _Cost:
            return steps[place - start].cost

        run_from = start
        for place in range(start + 1, stop + 1):
            begins = place - 1 == start or self._list[place - 1] != self._list[place - 2]
            if begins or cost_at(place - 1) < cost_at(run_from):
                run_from = place - 1
            cost = cost_at(run_from).with_run()
            goes_on = place < stop and self._list[place] == self._list[place - 1]
            best = _Step(cost.cut_short() if goes_on else cost, run_from, ())
            for group in groups_at.get(place, ()):
                step = group.ending_at(place, cost_at)
                if step.cost < best.cost:
                    best = step
            steps.append(best)
        return _Written(steps[-1].cost, self._items(steps, start))

    def _items(self, steps: list[_Step], start: int) -> tuple[Item, ...]:
        """Walk the best steps back from the end."""
        items: list[Item] = []
        place = start + len(steps) - 1
        while place > start:
            step = steps[place - start]
            length = place - step.begin
            if step.unit:
                once = sum(item.length for item in step.unit)
                items.append(Repeat(step.unit, length // once))
            else:
                items.append(Run(self._list[step.begin], length))
            place = step.begin
        return tuple(reversed(items))

    def _groups(self, start: int, stop: int) -> dict[int, list[_Group]]:
        """Return, for each place in a stretch, the groups of which one may end there."""
        inside = self._inside(start, stop)
        ends: dict[int, list[_Group]] = {}
        for first, last, period in inside.tolist():
            for begin in self._starts(first, last, period, inside):
                group = _Group(period, last, self.written(begin, begin + period))
                places = range(begin + 2 * period, last + 1, period)
                self._patience -= len(places)
                for place in places:
                    ends.setdefault(place, []).append(group)
        return ends

    def _inside(self, start: int, stop: int) -> Found:
        """Return the repetitions of a stretch, which are those of the list cut to its length."""
        short = np.searchsorted(self._found[:, 2], (stop - start) // 2, side="right")
        inside = self._found[:short]
        begins = np.maximum(inside[:, 0], start)
        ends = np.minimum(inside[:, 1], stop)
        whole = ends - begins >= 2 * inside[:, 2]
        return np.stack((begins[whole], ends[whole], inside[whole, 2]), axis=1)

    def _starts(self, first: int, last: int, period: int, inside: Found) -> list[int]:
        """Return the places where the group of a repetition may begin for the first time."""
        places = range(first, min(first + period, last - 2 * period + 1))
        if self._patience < 0:
            return [first]
        if period <= EVERY_START:
            return list(places)
        at_the_end = first + (last - first) % period
        return _telling(places, [first, at_the_end], period, inside)


def _telling(places: range, always: list[int], period: int, inside: Found) -> list[int]:
    """Return the places `always` tried, and where the longest shorter repetitions begin and end."""
    shorter = inside[: np.searchsorted(inside[:, 2], period)]
    edges = shorter[:, :2].T.ravel()
    saved = np.tile(shorter[:, 1] - shorter[:, 0] - shorter[:, 2], 2)
    within = (edges >= places.start) & (edges < places.stop)
    order = np.argsort(-saved[within], kind="stable")
    wanted = dict.fromkeys((*always, *edges[within][order].tolist()))
    return [place for place in wanted if place in places][:TELLING_STARTS]
