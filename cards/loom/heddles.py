"""Heddles: how many each shaft needs at each side of the middle, has, lacks, and can spare.

The warp is centred in the loom, so the ends of its first half hang at one side of the middle and
those of its second half at the other; of an odd number of ends one hangs in the middle itself.
Floating selvedges go through no heddle.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from cards.loom.heddle_moves import HeddleMove, heddle_moves


@dataclass(frozen=True, slots=True)
class ShaftHeddles:
    """The heddles of one shaft, counted from 1, seen from the front of the loom.

    `left`, `middle` and `right` hold an end each. `there` is what hangs on the shaft, None where
    nobody has said; `moved` come from other shafts, or go there where the number is below nought;
    `added` are bought or tied.
    """

    shaft: int
    left: int
    middle: int
    right: int
    there: int | None = None
    moved: int = 0
    added: int = 0

    @property
    def needed(self) -> int:
        """How many heddles hold an end."""
        return self.left + self.middle + self.right

    @property
    def over(self) -> int | None:
        """What hangs on the shaft beyond the need, before any is moved; short if below nought."""
        return None if self.there is None else self.there - self.needed

    @property
    def spare(self) -> int | None:
        """How many heddles hold no end once all are moved and added."""
        return None if self.over is None else self.over + self.moved + self.added

    @property
    def edges(self) -> tuple[int, int] | None:
        """The spare heddles to push to the left and to the right edge.

        Half and half (common practice, no source), so that the shaft hangs level; an odd one goes
        to the side where fewer ends hang.
        """
        if self.spare is None:
            return None
        half, odd = divmod(self.spare, 2)
        return (half + odd, half) if self.left <= self.right else (half, half + odd)


@dataclass(frozen=True, slots=True)
class HeddlePlan:
    """The heddles of every shaft, shaft 1 first, and what is to be moved before threading.

    `fewest` is False where fewer moves might do.
    """

    shafts: tuple[ShaftHeddles, ...]
    moves: tuple[HeddleMove, ...] = ()
    fewest: bool = True

    @property
    def known(self) -> bool:
        """Whether it is known what hangs on the shafts."""
        return self.there is not None

    @property
    def there(self) -> tuple[int, ...] | None:
        """What hangs on each shaft, shaft 1 first."""
        found = [each.there for each in self.shafts if each.there is not None]
        return tuple(found) if len(found) == len(self.shafts) else None

    @property
    def added(self) -> int:
        """How many heddles the loom has too few in all."""
        return sum(each.added for each in self.shafts)


def heddles_needed(threading: Iterable[int], shafts: int) -> tuple[int, ...]:
    """Return the number of ends on each shaft, shaft 1 first.

    >>> heddles_needed([1, 2, 3, 2], 4)
    (1, 2, 1, 0)
    """
    count = Counter(threading)
    return tuple(count[shaft] for shaft in range(1, shafts + 1))


def heddle_plan(
    threading: Sequence[int], shafts: int, first_end: str, there: int | Sequence[int] | None = None
) -> HeddlePlan:
    """Return the heddles of a threading, its first end at the side `first_end`, left or right.

    `there` is what hangs on every shaft, or on each, shaft 1 first. Raises ValueError when it does
    not name every shaft.

    >>> plan = heddle_plan([1, 2, 3, 1, 2], 3, "right", (1, 2, 4))
    >>> [(each.left, each.middle, each.right, each.edges) for each in plan.shafts]
    [(1, 0, 1, (0, 0)), (1, 0, 1, (0, 0)), (0, 1, 0, (1, 1))]
    >>> plan.moves
    (HeddleMove(source=3, target=1, heddles=1),)
    """
    half = len(threading) // 2
    first = heddles_needed(threading[:half], shafts)
    middle = heddles_needed(threading[half : len(threading) - half], shafts)
    last = heddles_needed(threading[len(threading) - half :], shafts)
    left, right = (last, first) if first_end == "right" else (first, last)
    sides = list(zip(range(1, shafts + 1), left, middle, right, strict=True))
    if there is None:
        return HeddlePlan(tuple(ShaftHeddles(*each) for each in sides))
    hung = (there,) * shafts if isinstance(there, int) else tuple(there)
    settled = heddle_moves([sum(each[1:]) for each in sides], hung)
    come = Counter[int]()
    for move in settled.moves:
        come[move.target] += move.heddles
        come[move.source] -= move.heddles
    rows = tuple(
        ShaftHeddles(*each, has, come[each[0]], added)
        for each, has, added in zip(sides, hung, settled.added, strict=True)
    )
    return HeddlePlan(rows, settled.moves, settled.proved)
