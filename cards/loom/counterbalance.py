"""Counterbalance looms: which sheds are uneven, and what is customarily done about it.

The shafts hang in pairs over rollers, pulleys or horses, and the pairs over others: as many shafts
rise as sink, or the shed is uneven, the warp of the fewer shafts drawn hard and the shed small.
Such a shed is woven with care or with a remedy; it is never refused. The remedies are common
practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final, Literal

Remedy = Literal[
    "sink over two treadles",
    "shed regulator",
    "pulleys and horses",
    "lower tension",
    "shallow shuttle",
    "clear with a batten",
    "another loom",
]

# Common practice, no source; the first only where more than one shaft sinks.
REMEDIES: Final[tuple[Remedy, ...]] = (
    "sink over two treadles",
    "shed regulator",
    "pulleys and horses",
    "lower tension",
    "shallow shuttle",
    "clear with a batten",
    "another loom",
)


@dataclass(frozen=True, slots=True)
class Balance:
    """How a shed hangs: the shafts raised and sunk, from 1, and the pairs that go the same way.

    A pair that goes one way is carried by what the pairs hang on, so with `pairs` alone, each over
    its own roller, such a shed does not open.
    """

    lift: frozenset[int]
    sunk: frozenset[int]
    same_way: tuple[tuple[int, int], ...]

    @property
    def even(self) -> bool:
        """Whether as many shafts rise as sink."""
        return len(self.lift) == len(self.sunk)

    @property
    def opens(self) -> bool:
        """Whether there is a shed at all: some shafts rise and some sink."""
        return bool(self.lift) and bool(self.sunk)

    @property
    def remedies(self) -> tuple[Remedy, ...]:
        """The customary remedies, in the order of their ease; none for an even shed, or for none.

        One shaft that sinks cannot be spread over two treadles.
        """
        if self.even or not self.opens:
            return ()
        return REMEDIES if len(self.sunk) > 1 else REMEDIES[1:]


def usual_pairs(shafts: int) -> tuple[tuple[int, int], ...]:
    """Return the shafts that hang together: 1 and 2, 3 and 4, and so on (common practice).

    >>> usual_pairs(4)
    ((1, 2), (3, 4))
    """
    return tuple((shaft, shaft + 1) for shaft in range(1, shafts, 2))


def balance(
    lift: Iterable[int],
    shafts: int,
    pairs: Sequence[tuple[int, int]] | None = None,
    threaded: Iterable[int] = (),
) -> Balance:
    """Return how a shed hangs on a counterbalance of `shafts` shafts, `lift` those that rise.

    `pairs` are the shafts that hang together, the usual ones unless given; `threaded` those that
    are threaded, all unless given: the others hang free, and so do pairs with one of them.
    Raises ValueError for a shaft that the loom has not, or one in two pairs.

    >>> balance({1, 2, 3}, 4).even, balance({1, 3}, 4).even
    (False, True)
    """
    every = frozenset(range(1, shafts + 1))
    raised = frozenset(lift)
    hung = usual_pairs(shafts) if pairs is None else tuple(pairs)
    named = [shaft for pair in hung for shaft in pair]
    for shaft in sorted(raised | set(named)):
        if shaft not in every:
            raise ValueError(f"there is no shaft {shaft}; the loom has 1 to {shafts}")
    if len(set(named)) < len(named):
        raise ValueError("a shaft hangs in one pair only")
    moved = frozenset(threaded) or every
    up, down = raised & moved, moved - raised
    both = (pair for pair in hung if moved.issuperset(pair))
    same_way = tuple(pair for pair in both if (pair[0] in up) == (pair[1] in up))
    return Balance(up, down, same_way)


def uneven_sheds(
    lifts: Iterable[frozenset[int]],
    shafts: int,
    pairs: Sequence[tuple[int, int]] | None = None,
    threaded: Iterable[int] = (),
) -> tuple[Balance, ...]:
    """Return the sheds of which more shafts rise than sink or fewer, each once, in the order used.

    Arguments are as in `balance`, which says what is raised.
    """
    moved = frozenset(threaded)
    hung = (balance(lift, shafts, pairs, moved) for lift in dict.fromkeys(lifts))
    return tuple(dict.fromkeys(each for each in hung if not each.even))


def open_uneven_sheds(
    lifts: Iterable[frozenset[int]],
    shafts: int,
    pairs: Sequence[tuple[int, int]] | None = None,
    threaded: Iterable[int] = (),
) -> tuple[Balance, ...]:
    """Return the uneven sheds that open, for which there are remedies; as `uneven_sheds`."""
    return tuple(each for each in uneven_sheds(lifts, shafts, pairs, threaded) if each.opens)


def remedies_for(uneven: Iterable[Balance]) -> tuple[Remedy, ...]:
    """Return the remedies of several sheds, each once, in the order of their ease."""
    helpful = {remedy for each in uneven for remedy in each.remedies}
    return tuple(remedy for remedy in REMEDIES if remedy in helpful)
