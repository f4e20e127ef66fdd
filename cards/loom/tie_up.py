"""Tie-ups from the lifts of a piece: a treadle for each lift, or a skeleton of fewer treadles.

A skeleton is a tie-up of which two treadles (three where the weaver allows it) pressed together
make every lift. What is tied are the shafts that rise, on a sinking-shed loom the shafts that sink
(the complement of the lift), on a countermarch both; on a countermarch a treadle pressed for a
lift ties no shaft against it, so that no shaft is pulled both ways. The three are one question,
asked of different cells: see `cards.loom.skeleton`.

Each answer says how sure it is: `smallest` or `easiest` when nothing better is possible,
`best found` when the search was stopped before it knew.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import reduce
from itertools import combinations, count
from math import comb
from operator import or_
from typing import Final, Literal

from cards.loom.pressing import Action, Treadle
from cards.loom.skeleton import Found, search

Lift = frozenset[int]
Proof = Literal["smallest", "easiest", "best found", "impossible", "none found"]

# How long one answer may be looked for: about two seconds at most for 16 lifts on 12 shafts.
PATIENCE: Final = 5_000


@dataclass(frozen=True, slots=True)
class TieUp:
    """Treadles numbered from 1, and for each lift those pressed for it, lifts in the order given.

    A lift that ties nothing (no shaft rises, on a sinking-shed loom none sinks) presses none.
    """

    treadles: tuple[Treadle, ...]
    pressed: Mapping[Lift, tuple[int, ...]]

    @property
    def cords(self) -> int:
        """How many cords are to be tied."""
        return sum(treadle.cords for treadle in self.treadles)


@dataclass(frozen=True, slots=True)
class Answer:
    """The tie-up found, and what is known of it.

    `smallest`: no tie-up has fewer treadles. `easiest`: none with so many treadles presses a second
    or third treadle less often. `impossible`: there is none with so many treadles. `best found` and
    `none found`: the search stopped at its bound.
    """

    tie_up: TieUp | None
    proved: Proof


def one_each(lifts: Sequence[Lift], shafts: int, action: Action) -> TieUp:
    """Return the tie-up with a treadle for each of the distinct `lifts` (raised shafts, from 1).

    Raises ValueError for a shaft that the loom has not.

    >>> one_each([frozenset({1, 3})], 4, "sinking").treadles
    (Treadle(number=1, rise=(), sink=(2, 4)),)
    """
    cells = _cells(lifts, shafts, action)
    own = tuple(shed for shed in cells if shed)
    number = count()
    pressed = tuple((next(number),) if shed else () for shed in cells)
    return _tie_up(tuple(lifts), own, pressed, shafts)


def smallest(
    lifts: Sequence[Lift], shafts: int, action: Action, feet: int = 2, patience: int = PATIENCE
) -> Answer:
    """Return the tie-up with the fewest treadles, at most `feet` of them pressed together.

    `lifts` are distinct, each the raised shafts from 1. Raises ValueError for a shaft that the
    loom has not, or no foot.

    >>> lifts = [frozenset(lift) for lift in ({1, 2}, {1, 3}, {2, 3}, {1}, {2}, {3})]
    >>> answer = smallest(lifts, 3, "rising")
    >>> len(answer.tie_up.treadles), answer.proved
    (3, 'smallest')
    """
    _check_feet(feet)
    cells = _cells(lifts, shafts, action)
    sheds = [shed for shed in cells if shed]
    best = Found(
        tuple(sheds), tuple((each,) for each in range(len(sheds))), exhausted=True, looked=0
    )
    least = _least(len(sheds), feet)
    while len(best.parts) > least and patience > 0:
        found = search(sheds, [0] * len(sheds), len(best.parts) - 1, feet, patience)
        patience -= found.looked
        if not found.parts:
            least = len(best.parts) if found.exhausted else least
            break
        best = _lightest(found, sheds, feet)
    sure = len(best.parts) == least
    return Answer(_answer(best, lifts, cells, shafts), "smallest" if sure else "best found")


def easiest(
    uses: Mapping[Lift, int],
    shafts: int,
    action: Action,
    treadles: int,
    feet: int = 2,
    patience: int = PATIENCE,
) -> Answer:
    """Return the tie-up on at most `treadles` that presses a second treadle least often.

    `uses` is how many picks each lift (raised shafts from 1) is used for, at least one. A loom
    with enough treadles has one for each lift. Raises ValueError for a shaft that the loom has
    not, a lift without picks, or no foot.

    >>> twill_and_plain = {frozenset(lift): 8 for lift in ({1, 2}, {2, 3}, {3, 4}, {1, 4})}
    >>> twill_and_plain |= {frozenset({1, 2, 3}): 1}
    >>> answer = easiest(twill_and_plain, 4, "rising", 4)
    >>> answer.tie_up.pressed[frozenset({1, 2, 3})], answer.proved
    ((1, 2), 'easiest')
    """
    _check_feet(feet)
    if min(uses.values(), default=1) < 1:
        raise ValueError("every lift is used for at least one pick")
    lifts = tuple(uses)
    cells = _cells(lifts, shafts, action)
    if sum(map(bool, cells)) <= treadles:
        return Answer(one_each(lifts, shafts, action), "easiest")
    sheds = [shed for shed in cells if shed]
    weights = [uses[lift] for lift, shed in zip(lifts, cells, strict=True) if shed]
    if treadles < _least(len(sheds), feet):
        return Answer(None, "impossible")
    best = search(sheds, [0] * len(sheds), treadles, feet, patience)
    if not best.parts:
        return Answer(None, "impossible" if best.exhausted else "none found")
    best = _lightest(best, sheds, feet)
    cost = sum(
        weight * (len(pressed) - 1) for weight, pressed in zip(weights, best.pressed, strict=True)
    )
    better = search(sheds, weights, treadles, feet, patience - best.looked, cost)
    if better.parts:
        best = _lightest(better, sheds, feet)
    sure = better.exhausted
    return Answer(_answer(best, lifts, cells, shafts), "easiest" if sure else "best found")


def _check_feet(feet: int) -> None:
    if feet < 1:
        raise ValueError(f"treadles are pressed by at least one foot, not {feet}")


def _least(sheds: int, feet: int) -> int:
    """Return how many treadles it takes at the very least to have so many different presses."""
    return next(
        treadles
        for treadles in count()
        if sum(comb(treadles, pressed) for pressed in range(1, feet + 1)) >= sheds
    )


def _cells(lifts: Sequence[Lift], shafts: int, action: Action) -> tuple[int, ...]:
    """Return what is tied for each lift: bits 0.. are shafts that rise, bits `shafts`.. sink."""
    every = (1 << shafts) - 1
    found = []
    for lift in lifts:
        strange = sorted(shaft for shaft in lift if not 1 <= shaft <= shafts)
        if strange:
            raise ValueError(f"a lift raises shaft {strange[0]}; the loom has 1 to {shafts}")
        rise = sum(1 << (shaft - 1) for shaft in lift)
        sink = (every & ~rise) << shafts
        found.append({"rising": rise, "sinking": sink, "countermarch": rise | sink}[action])
    if len(set(found)) < len(found):
        raise ValueError("a lift is given twice")
    return tuple(found)


def _lightest(found: Found, sheds: Sequence[int], feet: int) -> Found:
    """Return the same treadles with as few of them pressed for each shed as will make it.

    The search settles what is pressed before it knows all treadles. One left idle is left out.
    """
    parts = tuple(enumerate(found.parts))
    pressed = []
    for shed in sheds:
        fitting = [each for each in parts if not each[1] & ~shed]
        groups = (group for size in range(1, feet + 1) for group in combinations(fitting, size))
        group = next(g for g in groups if reduce(or_, (cells for _, cells in g)) == shed)
        pressed.append(tuple(treadle for treadle, _ in group))
    used = sorted({treadle for together in pressed for treadle in together})
    return Found(
        tuple(found.parts[treadle] for treadle in used),
        tuple(tuple(used.index(treadle) for treadle in together) for together in pressed),
        found.exhausted,
        found.looked,
    )


def _answer(found: Found, lifts: Sequence[Lift], cells: Sequence[int], shafts: int) -> TieUp:
    presses = iter(found.pressed)
    pressed = tuple(next(presses) if shed else () for shed in cells)
    parts = _spared(found.parts, [each for each in pressed if each], cells)
    return _tie_up(tuple(lifts), parts, pressed, shafts)


def _spared(
    parts: Sequence[int], pressed: Sequence[tuple[int, ...]], cells: Sequence[int]
) -> tuple[int, ...]:
    """Leave out every cord that a lift has twice, first from the treadle with the most cords."""
    left = list(parts)
    sheds = [shed for shed in cells if shed]
    order = sorted(range(len(left)), key=lambda treadle: (-left[treadle].bit_count(), treadle))
    for treadle in order:
        needed = 0
        for shed, together in zip(sheds, pressed, strict=True):
            if treadle in together:
                others = 0
                for other in together:
                    others |= left[other] if other != treadle else 0
                needed |= shed & ~others
        left[treadle] = needed
    return tuple(left)


def _tie_up(
    lifts: tuple[Lift, ...],
    parts: Sequence[int],
    pressed: Sequence[tuple[int, ...]],
    shafts: int,
) -> TieUp:
    """Return the tie-up, its treadles numbered in the order in which lifts first press them."""
    order = list(dict.fromkeys(treadle for together in pressed for treadle in together))
    number = {treadle: place for place, treadle in enumerate(order, start=1)}
    treadles = tuple(
        Treadle(
            number[treadle],
            tuple(shaft for shaft in range(1, shafts + 1) if parts[treadle] >> (shaft - 1) & 1),
            tuple(s for s in range(1, shafts + 1) if parts[treadle] >> (shafts + s - 1) & 1),
        )
        for treadle in order
    )
    together = {
        lift: tuple(sorted(number[treadle] for treadle in each))
        for lift, each in zip(lifts, pressed, strict=True)
    }
    return TieUp(treadles, together)
