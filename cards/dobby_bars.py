"""The bars of a dobby: a chain for each section, pegged from one repeat of its lifts.

A peg raises its shaft (a positive dobby). A bar gives one pick or two. The chain is the shortest
repeat of the section, pegged as often as makes it long enough for the cylinder, and a whole
number of bars where it goes round more than once.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from itertools import count

from cards.project.model import Project

Lift = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar: its number from 1, and the pegs of each of its rows, a row a pick."""

    number: int
    rows: tuple[Lift, ...]


@dataclass(frozen=True, slots=True)
class Chain:
    """Bars in order; `once` picks are the pattern, which is pegged `pegged` times over.

    Sections with the same bars have the same chain.
    """

    number: int
    bars: tuple[Bar, ...]
    once: int
    pegged: int

    @property
    def picks(self) -> int:
        """Picks of one whole turn."""
        return self.once * self.pegged


@dataclass(frozen=True, slots=True)
class TurnedSection:
    """A section: its picks, counted from 1, the number of its chain, and how often that turns.

    After the whole `turns` another `rest` picks are woven from the beginning of the chain.
    """

    name: str
    first: int
    last: int
    chain: int
    turns: int
    rest: int


@dataclass(frozen=True, slots=True)
class BarPlan:
    """All chains of a piece, and its sections in weaving order."""

    picks_a_bar: int
    least_bars: int
    chains: tuple[Chain, ...]
    sections: tuple[TurnedSection, ...]


def bar_plan(project: Project) -> BarPlan:
    """Return the bars for a piece."""
    loom = project.loom
    chains: dict[tuple[Bar, ...], Chain] = {}
    sections = []
    for section in project.weft.sections:
        begin = section.first_pick
        sheds = project.draft.lifts[begin : begin + section.picks]
        lifts = [tuple(sorted(shed)) for shed in sheds]
        once = period(lifts)
        pegged = _pegged(once, len(lifts), loom.picks_a_bar, loom.least_bars)
        bars = _bars(lifts[:once] * pegged, loom.picks_a_bar)
        chain = chains.setdefault(bars, Chain(len(chains) + 1, bars, once, pegged))
        turns, rest = divmod(len(lifts), chain.picks)
        last = begin + section.picks
        sections.append(TurnedSection(section.name, begin + 1, last, chain.number, turns, rest))
    return BarPlan(loom.picks_a_bar, loom.least_bars, tuple(chains.values()), tuple(sections))


def period(values: Sequence[Hashable]) -> int:
    """Return the least distance at which a list repeats itself to its end, its length at most.

    Found from its longest border (Knuth, Morris and Pratt, 1977; from memory).

    >>> period("abcabcab"), period("abc")
    (3, 3)
    """
    border = [0] * len(values)
    for place in range(1, len(values)):
        length = border[place - 1]
        while length and values[place] != values[length]:
            length = border[length - 1]
        border[place] = length + 1 if values[place] == values[length] else 0
    return len(values) - border[-1] if values else 0


def _pegged(once: int, picks: int, picks_a_bar: int, least: int) -> int:
    """Return how often a pattern is pegged: long enough, and whole bars if it goes round again."""
    for pegged in count(1):
        chain = once * pegged
        woven_once = pegged == 1 and picks <= once
        if -(-chain // picks_a_bar) >= least and (woven_once or chain % picks_a_bar == 0):
            return pegged
    raise AssertionError


def _bars(lifts: Sequence[Lift], picks_a_bar: int) -> tuple[Bar, ...]:
    rows = [tuple(lifts[at : at + picks_a_bar]) for at in range(0, len(lifts), picks_a_bar)]
    return tuple(Bar(number, each) for number, each in enumerate(rows, start=1))
