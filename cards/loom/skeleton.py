"""The search for a skeleton tie-up: few sets of cells whose unions are given sets of cells.

A shed is a set of cells, kept as the bits of a whole number: a cell is a shaft to be tied, or, on
a countermarch, a shaft and the way that it goes. Every shed must be the union of the treadles
pressed for it, at most one for each foot.

Why it is enough to look at intersections: a treadle pressed for the sheds A lies within each of
them, so putting their intersection in its place changes no union. A treadle therefore begins as
the first shed that it is pressed for and shrinks with every further one; a treadle pressed for
one shed only may as well be that whole shed, pressed alone. So a shed either has a treadle of its
own or is made of treadles that it shares, and the search decides which, shed by shed, the shed
with the fewest ways first. It gives up a branch when
- a shed made already would lose a cell,
- a treadle begun for one shed has no other that it could still be pressed for,
- more treadles must be saved than there are sheds that could save one, or
- more sheds than treadles are left that cannot be made of what is there and cannot share.
Treadles that are pressed for the same sheds so far are alike; the first of them is used first.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import comb
from typing import NamedTuple


@dataclass(frozen=True, slots=True)
class Found:
    """What a search found: cells of each treadle and, for each shed, the treadles pressed, from 0.

    Both are empty when nothing was found. `exhausted` says that the search came to its end, so
    that what it found is the best there is; `looked` is how much of its patience it took.
    """

    parts: tuple[int, ...]
    pressed: tuple[tuple[int, ...], ...]
    exhausted: bool
    looked: int


class _Way(NamedTuple):
    """One way to make a shed: treadles there already, and how many new ones."""

    held: tuple[int, ...]
    new: int

    @property
    def presses(self) -> int:
        return len(self.held) + self.new


class _Ways(NamedTuple):
    """All ways to make a shed, and the sheds that could share a new treadle with it, as bits."""

    ways: list[_Way]
    sharers: int

    @property
    def free(self) -> bool:
        return any(way.new == 0 for way in self.ways)


class _Held(NamedTuple):
    """A treadle that may be pressed for a shed: what it would keep, and whether it can shrink.

    `like` says that it is like the treadle before it, and only to be pressed beside that one.
    """

    treadle: int
    cells: int
    fixed: bool
    like: bool


# Treadles pressed together, from 0, the cells that they give, and whether none can shrink.
_Group = tuple[tuple[int, ...], int, bool]

OWN = _Way((), 1)

# How many steps make up for a place looked at, and how many a step that is a call.
_STEPS = 1_200
_A_CALL = 12


class _OutOfPatienceError(Exception):
    """The search has looked at as many places as it was allowed to."""


def search(
    sheds: Sequence[int],
    uses: Sequence[int],
    most: int,
    feet: int = 2,
    patience: int = 5_000,
    below: int | None = None,
) -> Found:
    """Find at most `most` treadles that make all `sheds`, distinct and not empty, bits of cells.

    Of all such tie-ups the one with the lowest sum of uses x (treadles pressed - 1) is wanted;
    with all `uses` 0 the first that is found will do. With `below` only a lower sum is looked for.
    `patience` bounds the places looked at, not the time, so that the same question always has the
    same answer; a place that takes many steps to look at counts for several.

    >>> search([0b011, 0b101, 0b110], [0, 0, 0], 3).pressed
    ((0,), (1,), (2,))
    """
    looker = _Search(sheds, uses, most, feet, patience, below)
    try:
        looker.look(0, 0)
    except _OutOfPatienceError:
        return Found(*looker.best, exhausted=False, looked=patience - max(looker.patience, 0))
    return Found(*looker.best, exhausted=True, looked=patience - looker.patience)


class _Search:
    """One depth-first search; see the module's docstring."""

    def __init__(
        self,
        sheds: Sequence[int],
        uses: Sequence[int],
        most: int,
        feet: int,
        patience: int,
        below: int | None,
    ) -> None:
        self.sheds, self.uses, self.most, self.feet = sheds, uses, most, feet
        self.patience, self.steps = patience, 0
        self.any_will_do = not any(uses)
        self.best: tuple[tuple[int, ...], tuple[tuple[int, ...], ...]] = ((), ())
        self.below = below
        self.parts: list[int] = []
        self.users: list[list[int]] = []
        self.pressed: list[tuple[int, ...]] = [()] * len(sheds)
        self.open = (1 << len(sheds)) - 1
        every = list(enumerate(sheds))
        self.within = [
            sum(1 << other for other, there in every if there != shed and not shed & ~there)
            for shed in sheds
        ]
        self.common = [
            [(1 << other, there & shed) for other, there in every if there & shed != shed]
            for shed in sheds
        ]

    def look(self, cost: int, joined: int) -> None:
        """Look at everything below this place; `joined` sheds have two or more treadles so far."""
        self._tire(_STEPS + self.open.bit_count() ** 2)
        if not self.open:
            self._keep(cost)
            return
        needed = [self._needed(treadle) for treadle in range(len(self.parts))]
        found = {}
        for shed in _bits(self.open):
            found[shed] = self._ways(shed, needed)
            if not found[shed].ways:
                return
        if self._hopeless(found, cost, joined):
            return
        shed = min(found, key=lambda each: len(found[each].ways))
        for way in sorted(found[shed].ways, key=self._promise):
            self._try(shed, way, cost, joined)
            if self.below == 0:
                return

    def _tire(self, steps: int) -> None:
        """Take steps off the patience, before they are gone."""
        self.steps += steps
        self.patience -= self.steps // _STEPS
        self.steps %= _STEPS
        if self.patience < 0:
            raise _OutOfPatienceError

    def _keep(self, cost: int) -> None:
        if self.below is None or cost < self.below:
            self.best, self.below = (tuple(self.parts), tuple(self.pressed)), cost

    def _promise(self, way: _Way) -> tuple[int, int]:
        return (way.new, 0) if self.any_will_do else (way.presses, way.new)

    def _try(self, shed: int, way: _Way, cost: int, joined: int) -> None:
        """Make a shed in one way, look on, and undo it."""
        before = [self.parts[treadle] for treadle in way.held]
        there = len(self.parts)
        for treadle in way.held:
            self.parts[treadle] &= self.sheds[shed]
            self.users[treadle].append(shed)
        self.parts += [self.sheds[shed]] * way.new
        self.users += [[shed] for _ in range(way.new)]
        self.pressed[shed] = (*way.held, *range(there, there + way.new))
        self.open &= ~(1 << shed)
        if self._whole(way.held):
            more = way.presses - 1
            self.look(cost + self.uses[shed] * more, joined + (more > 0))
        self.open |= 1 << shed
        self.pressed[shed] = ()
        del self.parts[there:], self.users[there:]
        for treadle, cells in zip(way.held, before, strict=True):
            self.parts[treadle] = cells
            self.users[treadle].pop()

    def _whole(self, treadles: Iterable[int]) -> bool:
        """Whether every shed for which one of `treadles` is pressed still has all its cells."""
        users = {shed for treadle in treadles for shed in self.users[treadle]}
        return all(self._union(self.pressed[shed]) == self.sheds[shed] for shed in users)

    def _union(self, treadles: Iterable[int]) -> int:
        union = 0
        for treadle in treadles:
            union |= self.parts[treadle]
        return union

    def _needed(self, treadle: int) -> int:
        """Return the cells that a treadle cannot lose: no other gives them to a shed."""
        needed = 0
        for shed in self.users[treadle]:
            others = self._union(each for each in self.pressed[shed] if each != treadle)
            needed |= self.sheds[shed] & ~others
        return needed

    def _ways(self, shed: int, needed: Sequence[int]) -> _Ways:
        """Return all ways to make a shed that are not plainly worse than another."""
        self._tire(4 * (len(self.sheds) + len(self.parts)))
        cells = self.sheds[shed]
        held = self._held(cells, needed)
        alone = [each for each in held if each.cells == cells]
        for each in alone:
            if each.fixed:
                return _Ways([_Way((each.treadle,), 0)], 0)
        ways = [_Way((each.treadle,), 0) for each in alone]
        others = self.open & ~(1 << shed)
        sharers = self.within[shed] & others
        room = self.most - len(self.parts)
        if room:
            ways.append(OWN)
        common = [each for each in self.common[shed] if each[0] & others]
        for treadles, given, fixed in self._groups(held, cells):
            if given == cells and len(treadles) > 1:
                if fixed and self.any_will_do:
                    return _Ways([_Way(treadles, 0)], 0)
                ways.append(_Way(treadles, 0))
            if given != cells or not fixed:
                most = min(room, self.feet - len(treadles))
                for new in range(1 if treadles else 2, most + 1):
                    self._tire(_A_CALL + comb(len(common), new))
                    found = _sharers(cells & ~given, common, new)
                    if found:
                        ways.append(_Way(treadles, new))
                        sharers |= found
        return _Ways(ways, sharers)

    def _held(self, cells: int, needed: Sequence[int]) -> list[_Held]:
        """Return the treadles that may be pressed for a shed with no loss to another shed."""
        return [
            _Held(treadle, part & cells, part == need, self._like_the_one_before(treadle))
            for treadle, (part, need) in enumerate(zip(self.parts, needed, strict=True))
            if part & cells and not need & ~cells
        ]

    def _groups(self, held: list[_Held], cells: int) -> list[_Group]:
        """Return the groups of treadles for the feet; of full groups those that give all cells."""
        layer: list[_Group] = [((), 0, True)]
        groups = layer
        for size in range(1, self.feet + 1):
            self._tire(len(layer) * len(held))
            layer = [
                ((*there, treadle), given | more, fixed and still)
                for there, given, fixed in layer
                for treadle, more, still, like in held
                if (not like or treadle - 1 in there)
                and (not there or there[-1] < treadle)
                and (size < self.feet or given | more == cells)
            ]
            groups = groups + layer
        return groups

    def _like_the_one_before(self, treadle: int) -> bool:
        return treadle > 0 and self.users[treadle] == self.users[treadle - 1]

    def _hopeless(self, found: dict[int, _Ways], cost: int, joined: int) -> bool:
        room = self.most - len(self.parts)
        able = [shed for shed, each in found.items() if each.ways != [OWN]]
        if len(able) < len(found) - room:
            return True
        if self.below is not None and cost + self._dues(found, joined) >= self.below:
            return True
        return self._idle(found) or self._apart(found, room)

    def _dues(self, found: dict[int, _Ways], joined: int) -> int:
        """Return the least that the sheds still to be joined cost.

        Every shed pressed alone has its own treadle, so at least as many sheds are joined as there
        are more sheds than treadles.
        """
        more = len(self.sheds) - self.most - joined
        uses = sorted(
            self.uses[shed]
            for shed, each in found.items()
            if any(way.presses > 1 for way in each.ways)
        )
        return sum(uses[: max(more, 0)])

    def _idle(self, found: dict[int, _Ways]) -> bool:
        """Whether a treadle begun for one shed can be pressed for no other."""
        wanted = {treadle for each in found.values() for way in each.ways for treadle in way.held}
        return any(
            len(users) == 1
            and len(self.pressed[users[0]]) > 1
            and treadle not in wanted
            and not self._like_the_one_before(treadle)
            for treadle, users in enumerate(self.users)
        )

    @staticmethod
    def _apart(found: dict[int, _Ways], room: int) -> bool:
        """Whether more sheds than there is room for need a new treadle each, no two the same."""
        left = {shed: each.sharers for shed, each in found.items() if not each.free}
        count = 0
        while len(left) + count > room and left:
            open_sheds = sum(1 << shed for shed in left)
            shed = min(left, key=lambda each: (left[each] & open_sheds).bit_count())
            sharers = left.pop(shed)
            count += 1
            for other in _bits(sharers & open_sheds):
                if other in left and left[other] >> shed & 1:
                    del left[other]
        return count > room


def _sharers(lacking: int, common: list[tuple[int, int]], new: int) -> int:
    """Return the sheds, as bits, that could share `new` treadles which give the `lacking` cells.

    `common` is, for every shed that could share, its bit and the cells in common. When fewer
    sheds than `new` give all that is lacking, the last treadle may be shared with any.
    """
    if new == 1:
        return _joined(bit for bit, cells in common if not lacking & ~cells)
    if _sharers(lacking, common, new - 1):
        return _joined(bit for bit, _ in common)
    return _in_groups(lacking, [each for each in common if each[1] & lacking], new)


def _in_groups(lacking: int, common: list[tuple[int, int]], size: int) -> int:
    """Return the sheds, as bits, of all groups of a size, at least 2, that give what is lacking."""
    sharers = 0
    for place, (bit, cells) in enumerate(common, start=1):
        rest = lacking & ~cells
        if size == 2:
            others = _joined(other for other, more in common[place:] if not rest & ~more)
        else:
            others = _in_groups(rest, common[place:], size - 1)
        if others:
            sharers |= bit | others
    return sharers


def _joined(cells: Iterable[int]) -> int:
    union = 0
    for each in cells:
        union |= each
    return union


def _bits(cells: int) -> Iterator[int]:
    while cells:
        lowest = cells & -cells
        yield lowest.bit_length() - 1
        cells ^= lowest
