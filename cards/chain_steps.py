"""Where the chain of a dobby stands, and what is done with it at every change of section.

A section begins at a bar, its upper row first, unless it goes on just where the chain stands. Of
the bars at which it can begin that one is taken which is nearest, the way that the chain turns.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

Lift = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar: its number from 1, and the pegs of each of its rows, a row a pick."""

    number: int
    rows: tuple[Lift, ...]


@dataclass(frozen=True, slots=True)
class Chain:
    """Bars in order; `once` picks are the pattern, which is pegged `pegged` times over."""

    number: int
    bars: tuple[Bar, ...]
    once: int
    pegged: int
    picks_a_bar: int

    @property
    def picks(self) -> int:
        """Picks of one whole turn."""
        return self.once * self.pegged

    @property
    def rows(self) -> list[Lift]:
        """The pegs of every pick of a turn."""
        return [row for bar in self.bars for row in bar.rows]

    @property
    def goes_round(self) -> bool:
        """Whether bar 1 follows on the last bar: not so where half of that is not used."""
        return self.picks % self.picks_a_bar == 0


@dataclass(frozen=True, slots=True)
class Place:
    """A bar of a chain that lies on the cylinder, and whether its lower row is the next."""

    chain: int
    bar: int
    lower: bool = False


@dataclass(frozen=True, slots=True)
class Step:
    """What is done with the chain before a section, so that it begins at the place `to`.

    - put on: no chain lay on the loom.
    - go on: the chain stands there.
    - turn: it stands at `stood` and is turned on by so many `bars`.
    - change: another chain lay on the loom, at `stood`.

    Where `stood` is a lower row, that is left unwoven.
    """

    kind: Literal["put on", "go on", "turn", "change"]
    to: Place
    stood: Place | None = None
    bars: int = 0


@dataclass(frozen=True, slots=True)
class ChainSection:
    """A section, its picks counted from 1, as it is woven from the chain of that number.

    It begins at the place `start` after the `step`, and weaves so many whole `turns` and another
    `rest` picks. `ends` is its last row; `stands` is where the chain stands after it.
    """

    name: str
    first: int
    last: int
    step: Step
    start: Place
    turns: int
    rest: int
    ends: Place
    stands: Place

    @property
    def chain(self) -> int:
        """The number of its chain."""
        return self.start.chain

    def renumbered(self, numbers: Mapping[int, int]) -> ChainSection:
        """Return the same with other numbers for the chains; chains without one are not used."""

        def of(place: Place) -> Place:
            return replace(place, chain=numbers[place.chain])

        step = self.step
        stood = of(step.stood) if step.stood else None
        return replace(
            self,
            step=replace(step, to=of(step.to), stood=stood),
            start=of(self.start),
            ends=of(self.ends),
            stands=of(self.stands),
        )


def starts_in(lifts: Sequence[Lift], chain: Chain) -> list[int]:
    """Return the bars of a chain at which these lifts can begin."""
    rows = chain.rows
    found = range(0, chain.picks, chain.picks_a_bar)
    return [at // chain.picks_a_bar + 1 for at in found if _fits(lifts, chain, rows, at)]


def _fits(lifts: Sequence[Lift], chain: Chain, rows: Sequence[Lift], at: int) -> bool:
    """Whether lifts are those of the `rows` of a chain, from row `at` on, counted from 0."""
    picks = chain.picks
    if not chain.goes_round and at + len(lifts) > picks:
        return False
    if any(lift != rows[(at + step) % picks] for step, lift in enumerate(lifts[:picks])):
        return False
    return list(lifts[picks:]) == list(lifts[: max(0, len(lifts) - picks)])


def woven(
    name: str, first: int, lifts: Sequence[Lift], chains: Sequence[Chain], before: Place | None
) -> ChainSection:
    """Return how a section is woven that begins at the pick `first`, after the chain stood there.

    One of `chains` must have its lifts.
    """
    chain, start = _begin(lifts, chains, before)
    each = chain.picks_a_bar
    row = (start.bar - 1) * each + start.lower
    turns, rest = divmod(len(lifts), chain.picks)
    return ChainSection(
        name=name,
        first=first,
        last=first + len(lifts) - 1,
        step=step_to(chain, start, before),
        start=start,
        turns=turns,
        rest=rest,
        ends=_place(chain, row + len(lifts) - 1),
        stands=_stands(chain, row + len(lifts)),
    )


def _begin(
    lifts: Sequence[Lift], chains: Sequence[Chain], before: Place | None
) -> tuple[Chain, Place]:
    """Return the chain and the place where a section begins: on the chain that lies on the loom."""
    ordered = sorted(chains, key=lambda each: before is None or each.number != before.chain)
    for chain in ordered:
        here = before if before and before.chain == chain.number else None
        if here and _can_go_on(lifts, chain, here):
            return chain, here
        found = [Place(chain.number, bar) for bar in starts_in(lifts, chain)]
        if found:
            return chain, min(found, key=lambda to: _way(chain, here, to) if here else to.bar)
    raise ValueError("no chain has these lifts")


def _can_go_on(lifts: Sequence[Lift], chain: Chain, here: Place) -> bool:
    at = (here.bar - 1) * chain.picks_a_bar + here.lower
    return at < chain.picks and _fits(lifts, chain, chain.rows, at)


def step_to(chain: Chain, to: Place, before: Place | None) -> Step:
    """Return what is done with the chain that it stands at `to`, a place of `chain`."""
    if before is None:
        return Step("put on", to)
    if before.chain != to.chain:
        return Step("change", to, before)
    if before == to:
        return Step("go on", to)
    return Step("turn", to, before, _way(chain, before, to))


def _way(chain: Chain, stood: Place, to: Place) -> int:
    """Return how many bars a chain is turned on; from a lower row to its own bar a whole turn."""
    bars = (to.bar - stood.bar) % len(chain.bars)
    return len(chain.bars) if not bars and stood.lower and not to.lower else bars


def _place(chain: Chain, row: int) -> Place:
    bar, lower = divmod(row % chain.picks, chain.picks_a_bar)
    return Place(chain.number, bar + 1, bool(lower))


def _stands(chain: Chain, row: int) -> Place:
    """Return where a chain stands before its row `row`, which may be the half not used at its end.

    A chain that does not go round is never woven beyond its end.
    """
    if chain.goes_round:
        return _place(chain, row)
    bar, lower = divmod(row, chain.picks_a_bar)
    return Place(chain.number, bar + 1, bool(lower))
