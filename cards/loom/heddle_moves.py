"""Heddles moved between shafts: as few heddles as can be, then as few moves, then the nearest.

Spare heddles of some shafts make good what others lack. Where all that is lacking is there, every
lack is filled; else every spare heddle is moved and the rest is to be added. Either way one side
must come out whole (the lacks, or the spares) and the other may keep something over.

Of the fewest moves there is always a plan without a ring of moves, and such a plan is made by
taking one pair of shafts after another and moving all that either allows (the corner of a
transportation problem: G. B. Dantzig, Linear Programming and Extensions, 1963, ch. 14, from
memory). The search below goes through such plans, best first.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate

# Steps of the search, about half a second: enough for eight shafts short of any number, and for
# looms of 24 whose threading is regular.
_MOST_STEPS = 20_000

# A shaft, from 1, and a number of heddles.
_Lot = tuple[int, int]
# Of the shafts that must come out whole and of the others, what is still to be moved.
_State = tuple[tuple[int, ...], tuple[int, ...]]
_Pairs = dict[tuple[int, int], int]


@dataclass(frozen=True, slots=True, order=True)
class HeddleMove:
    """So many heddles from one shaft to another; shafts count from 1."""

    source: int
    target: int
    heddles: int


@dataclass(frozen=True, slots=True)
class Moves:
    """The moves by source and target, the heddles to add on each shaft, shaft 1 first.

    `proved` is False where the search was given up, so that fewer moves might do.
    """

    moves: tuple[HeddleMove, ...]
    added: tuple[int, ...]
    proved: bool = True


def heddle_moves(needed: Sequence[int], there: Sequence[int]) -> Moves:
    """Return how to move heddles so that every shaft has those it needs, shaft 1 first.

    Raises ValueError when the two are not of one length.

    >>> heddle_moves((10, 20, 5, 5), (15, 14, 9, 5)).moves
    (HeddleMove(source=1, target=2, heddles=5), HeddleMove(source=3, target=2, heddles=1))
    """
    over = [has - need for need, has in zip(needed, there, strict=True)]
    spare = [(shaft, each) for shaft, each in enumerate(over, start=1) if each > 0]
    lack = [(shaft, -each) for shaft, each in enumerate(over, start=1) if each < 0]
    enough = _sum(spare) >= _sum(lack)
    pairs, proved = _fewest(lack, spare) if enough else _fewest(spare, lack)
    moves = sorted(
        HeddleMove(other, one, number) if enough else HeddleMove(one, other, number)
        for (one, other), number in pairs.items()
    )
    left = [max(0, -each) for each in over]
    for move in moves:
        left[move.target - 1] -= move.heddles
    return Moves(tuple(moves), tuple(left), proved)


def _sum(lots: Sequence[_Lot]) -> int:
    return sum(number for _, number in lots)


def _fewest(must: Sequence[_Lot], may: Sequence[_Lot]) -> tuple[_Pairs, bool]:
    """Return heddles by pair so that each of `must` comes out whole, and whether none is better."""
    if not must or not may:
        return {}, True
    whole = _Whole(must, may).solve()
    if whole is not None:
        return whole
    found = _Parted(must, may).solve()
    return (found, True) if found is not None else (_greedy(must, may), False)


class _Whole:
    """The search for plans in which each of `must` is paired with one shaft only.

    No plan can have fewer moves, so the nearest of these is the best there is.
    """

    def __init__(self, must: Sequence[_Lot], may: Sequence[_Lot]) -> None:
        self.must = sorted(must, key=lambda lot: (-lot[1], lot[0]))
        self.may = list(may)
        self.steps = 0
        # The least that those from a place on cost, were each alone.
        near = [
            min((n * abs(one - other) for other, room in may if room >= n), default=-1)
            for one, n in self.must
        ]
        self.possible = min(near) >= 0
        self.rest = [*accumulate(reversed(near), initial=0)][::-1]
        self.best: tuple[int, list[int]] | None = None
        self.least = _least_way(must, may)

    def solve(self) -> tuple[_Pairs, bool] | None:
        """Return the best plan and whether it is proved, None where there is none or none found."""
        if self.possible:
            self._place(0, [room for _, room in self.may], 0, [])
        if self.best is None:
            return None
        chosen = zip(self.must, self.best[1], strict=True)
        pairs = {(one, self.may[at][0]): n for (one, n), at in chosen}
        return pairs, self.steps < _MOST_STEPS or self.best[0] == self.least

    def _place(self, place: int, room: list[int], cost: int, chosen: list[int]) -> None:
        self.steps += 1
        if self.steps >= _MOST_STEPS:
            return
        least = max(self.least, cost + self.rest[place])
        if self.best is not None and least >= self.best[0]:
            return
        if place == len(self.must):
            self.best = cost, list(chosen)
            return
        shaft, number = self.must[place]
        for far, at in sorted((abs(shaft - lot[0]), at) for at, lot in enumerate(self.may)):
            if room[at] >= number:
                room[at] -= number
                chosen.append(at)
                self._place(place + 1, room, cost + far * number, chosen)
                chosen.pop()
                room[at] += number


def _least_way(must: Sequence[_Lot], may: Sequence[_Lot]) -> int:
    """Return a way that no plan is shorter than: what each shaft must let pass to the next."""
    every = [*must, *may]
    way = 0
    for shaft in range(min(every)[0], max(every)[0]):
        left = sum(n for one, n in must if one <= shaft) - sum(n for one, n in may if one <= shaft)
        right = sum(n for one, n in must if one > shaft) - sum(n for one, n in may if one > shaft)
        way += max(0, left, right)
    return way


class _Parted:
    """The search for plans in which some of `must` are paired with several shafts."""

    def __init__(self, must: Sequence[_Lot], may: Sequence[_Lot]) -> None:
        self.must, self.may = must, may
        self.far = [[abs(one - other) for other, _ in may] for one, _ in must]

    def solve(self) -> _Pairs | None:
        """Return the best plan, None when the search is given up."""
        start: _State = tuple(n for _, n in self.must), tuple(n for _, n in self.may)
        best = {start: (0, 0)}
        before: dict[_State, tuple[_State, int, int, int]] = {}
        queue = [(self._least(start), start)]
        steps = 0
        while queue:
            _, state = heapq.heappop(queue)
            if not any(state[0]):
                return self._pairs(state, before)
            moves, cost = best[state]
            for one, other, number, after in self._steps(state):
                steps += 1
                so_far = moves + 1, cost + number * self.far[one][other]
                if after not in best or so_far < best[after]:
                    best[after] = so_far
                    before[after] = state, one, other, number
                    least = self._least(after)
                    total = so_far[0] + least[0], so_far[1] + least[1]
                    heapq.heappush(queue, (total, after))
            if steps > _MOST_STEPS:
                return None
        return None

    @staticmethod
    def _steps(state: _State) -> Iterator[tuple[int, int, int, _State]]:
        must, may = state
        for one, lack in enumerate(must):
            for other, room in enumerate(may):
                number = min(lack, room)
                if number:
                    yield (
                        one,
                        other,
                        number,
                        (
                            (*must[:one], lack - number, *must[one + 1 :]),
                            (*may[:other], room - number, *may[other + 1 :]),
                        ),
                    )

    def _least(self, state: _State) -> tuple[int, int]:
        """Return the moves and the way that are left at least: each of `must` were alone."""
        must, may = state
        sums = list(accumulate(sorted(may, reverse=True)))
        moves = cost = 0
        for one, lack in enumerate(must):
            if lack:
                moves += 1 + sum(1 for each in sums if each < lack)
                cost += lack * min(
                    far for far, room in zip(self.far[one], may, strict=True) if room
                )
        return moves, cost

    def _pairs(self, state: _State, before: dict[_State, tuple[_State, int, int, int]]) -> _Pairs:
        pairs: _Pairs = {}
        while state in before:
            state, one, other, number = before[state]
            key = self.must[one][0], self.may[other][0]
            pairs[key] = pairs.get(key, 0) + number
        return pairs


def _greedy(must: Sequence[_Lot], may: Sequence[_Lot]) -> _Pairs:
    """Return a plan that is good, if not the best: the largest first, from where most is."""
    lacks, rooms = dict(must), dict(may)
    pairs: _Pairs = {}
    while any(lacks.values()):
        one = max(lacks, key=lambda shaft: (lacks[shaft], -shaft))
        fitting = [other for other, room in rooms.items() if room >= lacks[one]]
        if fitting:
            other = min(fitting, key=lambda shaft: (abs(shaft - one), shaft))
        else:
            other = max(rooms, key=lambda shaft: (rooms[shaft], -abs(shaft - one)))
        number = min(lacks[one], rooms[other])
        pairs[one, other] = number
        lacks[one] -= number
        rooms[other] -= number
    return pairs
