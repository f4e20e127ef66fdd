"""The bars of a dobby: as few chains as the sections of a piece can be woven from.

A peg raises its shaft (a positive dobby). A bar gives one pick or two. The chain of a section is
its shortest repeat, pegged as often as makes it long enough for the cylinder, and a whole number
of bars where it goes round more than once. A section that is a part of another's chain, or that
only begins at another of its bars, is woven from that chain.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass, replace
from itertools import count

from cards.chain_steps import Bar, Chain, ChainSection, Lift, Step, starts_in, step_to, woven
from cards.project.model import Project


@dataclass(frozen=True, slots=True)
class BarPlan:
    """All chains of a piece, and its sections in weaving order.

    `again` is what is done with the chain before the next of several pieces, None after the only
    one.
    """

    picks_a_bar: int
    least_bars: int
    chains: tuple[Chain, ...]
    sections: tuple[ChainSection, ...]
    again: Step | None


def bar_plan(project: Project) -> BarPlan:
    """Return the bars for a piece."""
    loom = project.loom
    every = [
        [tuple(sorted(shed)) for shed in project.draft.lifts[at : at + section.picks]]
        for section in project.weft.sections
        for at in (section.first_pick,)
    ]
    chains = _chains(every, loom.picks_a_bar, loom.least_bars)
    sections: list[ChainSection] = []
    for section, lifts in zip(project.weft.sections, every, strict=True):
        before = sections[-1].stands if sections else None
        sections.append(woven(section.name, section.first_pick + 1, lifts, chains, before))
    used = {number: place for place, number in enumerate(_used(sections), start=1)}
    chains = [replace(each, number=used[each.number]) for each in chains if each.number in used]
    chains.sort(key=lambda each: each.number)
    renamed = tuple(each.renumbered(used) for each in sections)
    again = None
    if project.weft.pieces > 1:
        by_number = {each.number: each for each in chains}
        first = renamed[0]
        again = step_to(by_number[first.chain], first.start, renamed[-1].stands)
    return BarPlan(loom.picks_a_bar, loom.least_bars, tuple(chains), renamed, again)


def _used(sections: Sequence[ChainSection]) -> list[int]:
    """Return the numbers of chains in the order in which they are first woven from."""
    return list(dict.fromkeys(each.chain for each in sections))


def _chains(every: Sequence[list[Lift]], picks_a_bar: int, least: int) -> list[Chain]:
    """Return chains from which every section can be woven, none of them to spare."""
    kept: list[Chain] = []
    for lifts in every:
        once = period(lifts)
        pegged = _pegged(once, len(lifts), picks_a_bar, least)
        bars = _bars(lifts[:once] * pegged, picks_a_bar)
        if all(each.bars != bars for each in kept):
            kept.append(Chain(len(kept) + 1, bars, once, pegged, picks_a_bar))
    for chain in sorted(kept, key=lambda each: (each.once, each.picks, -each.number)):
        others = [each for each in kept if each is not chain]
        if all(any(starts_in(lifts, each) for each in others) for lifts in every):
            kept = others
    return kept


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
