"""The best places for treadles: the least walking, and the most changes from foot to foot.

Both are asked of weights between treadles, not of picks, so a long piece costs no more than a
short one. Up to a dozen or so treadles the best is found by looking at every set of treadles;
beyond that by changing a good beginning until no single change makes it better, and the answer
says so.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import combinations
from typing import Final

Weights = Sequence[Sequence[int]]
"""How much two treadles, from 0, have to do with one another; symmetric, the diagonal unread."""

# Up to so many treadles every set of them is looked at: 2^14 sets take about a quarter second.
EVERY_SET: Final = 14


def walk(places: Sequence[int], weights: Weights) -> int:
    """Return the walking of an order: weight x distance in treadles, over all pairs of treadles.

    >>> walk([0, 1, 2], [[0, 1, 1], [1, 0, 0], [1, 0, 0]])
    3
    """
    return sum(
        weights[one][other] * (right - left)
        for (left, one), (right, other) in combinations(enumerate(places), 2)
    )


def least_walk(weights: Weights) -> tuple[tuple[int, ...], bool]:
    """Return treadles from left to right with the least walking, and whether it is the least.

    Of orders as good as one another the same is always taken.

    >>> least_walk([[0, 0, 1], [0, 0, 1], [1, 1, 0]])
    ((0, 2, 1), True)
    """
    if len(weights) <= EVERY_SET:
        return _least_walk_of_all(weights), True
    start = tuple(range(len(weights)))
    return _improved(start, _moved, lambda order: walk(order, weights)), False


def _least_walk_of_all(weights: Weights) -> tuple[int, ...]:
    """Find the least walking by the sets of treadles that may stand at the left.

    Every gap between two places is walked over once for each weight across it, so the walking is
    the sum, over the sets at the left of each gap, of the weights that leave the set (dynamic
    programming over subsets, after Held and Karp, 1962; from memory).
    """
    count = len(weights)
    across = _across(weights)
    least = [0] * (1 << count)
    last = [0] * (1 << count)
    for left in range(1, 1 << count):
        before = [(least[left ^ 1 << each], -each) for each in range(count) if left >> each & 1]
        best, each = min(before)
        least[left], last[left] = best + across[left], -each
    order = []
    left = (1 << count) - 1
    while left:
        order.append(last[left])
        left ^= 1 << last[left]
    return _first_at_left(tuple(reversed(order)))


def _across(weights: Weights) -> list[int]:
    """Return the weight between each set of treadles, as bits, and all others."""
    count = len(weights)
    across = [0] * (1 << count)
    for inside in range(1, 1 << count):
        each = inside.bit_length() - 1
        rest = inside ^ 1 << each
        change = sum(
            -weights[each][other] if rest >> other & 1 else weights[each][other]
            for other in range(count)
            if other != each
        )
        across[inside] = across[rest] + change
    return across


def _first_at_left(order: tuple[int, ...]) -> tuple[int, ...]:
    """Return the order or its mirror image, whichever begins with the treadle used earlier."""
    return min(order, order[::-1])


def most_changes(weights: Weights) -> tuple[frozenset[int], bool]:
    """Return the treadles of the left foot for most weight between the feet, and if it is the most.

    Treadle 0 is the left foot's. Of divisions as good, one that gives the feet as many treadles as
    can be is taken, then one that gives the left foot the treadles used earlier.

    >>> sorted(most_changes([[0, 3, 0], [3, 0, 2], [0, 2, 0]])[0])
    [0, 2]
    """
    count = len(weights)
    if count == 0:
        return frozenset(), True
    if count <= EVERY_SET:
        across = _across(weights)
        left = max(range(1, 1 << count, 2), key=lambda feet: _merit(across, feet, count))
        return frozenset(each for each in range(count) if left >> each & 1), True
    start = tuple(each % 2 for each in range(count))
    sides = _improved(start, _turned, lambda side: -_between(side, weights))
    return frozenset(each for each in range(count) if sides[each] == sides[0]), False


def _merit(across: list[int], left: int, count: int) -> tuple[int, int, tuple[int, ...]]:
    uneven = abs(2 * left.bit_count() - count)
    return across[left], -uneven, tuple(left >> each & 1 for each in range(count))


def _between(sides: Sequence[int], weights: Weights) -> int:
    pairs = combinations(range(len(sides)), 2)
    return sum(weights[one][other] for one, other in pairs if sides[one] != sides[other])


def _improved(
    start: tuple[int, ...],
    changes: Callable[[tuple[int, ...]], Iterator[tuple[int, ...]]],
    cost: Callable[[tuple[int, ...]], int],
) -> tuple[int, ...]:
    """Take the best single change as long as there is one that costs less."""
    best = start
    while True:
        better = min(changes(best), key=cost)
        if cost(better) >= cost(best):
            return best
        best = better


def _moved(order: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
    """Every order with one stretch turned round (2-opt), or one treadle put elsewhere."""
    for begin, end in combinations(range(len(order) + 1), 2):
        yield order[:begin] + order[begin:end][::-1] + order[end:]
    for place, treadle in enumerate(order):
        rest = order[:place] + order[place + 1 :]
        for other in range(len(order)):
            yield (*rest[:other], treadle, *rest[other:])


def _turned(sides: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
    """Every division with one treadle given to the other foot, or two exchanged."""
    for each in range(len(sides)):
        yield (*sides[:each], 1 - sides[each], *sides[each + 1 :])
    for one, other in combinations(range(len(sides)), 2):
        if sides[one] != sides[other]:
            exchanged = list(sides)
            exchanged[one], exchanged[other] = sides[other], sides[one]
            yield tuple(exchanged)
