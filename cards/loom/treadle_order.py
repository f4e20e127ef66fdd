"""The order of treadles for the feet, from left to right, in the styles that weavers use.

- in order of use: as the piece first presses them.
- alternating, outside in: successive picks change foot as often as can be; each foot begins at
  the outermost of its treadles and works inwards.
- alternating, middle out: the same, each foot beginning in the middle.
- tabby outside: the two plain-weave sheds on the outermost treadles, the others in order of use.
- shortest reach: the least walking between successive picks.

The styles are common practice, no source. Treadles keep their numbers; what is ordered are the
places where they are tied, so an author's own order is never lost.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations, pairwise
from math import lcm
from typing import Final, Literal, get_args

from cards.loom.reach import least_walk, most_changes, walk

Style = Literal[
    "in order of use",
    "alternating, outside in",
    "alternating, middle out",
    "tabby outside",
    "shortest reach",
]
STYLES: Final[tuple[Style, ...]] = get_args(Style)
Press = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Order:
    """Treadles from left to right, the first `left` of them the left foot's.

    `reach` is the mean way from pick to pick in treadles; between presses of several treadles it is
    the mean over the pairs of theirs. `changes` is the share of steps between single presses that
    change foot, None when there is no such step. `best` is true when no order does better what the
    style asks for, false when the search could not look at all of them.
    """

    style: Style
    places: tuple[int, ...]
    left: int
    reach: Fraction
    changes: Fraction | None
    best: bool

    @property
    def right_to_left(self) -> tuple[int, ...]:
        """The same treadles from right to left, for looms that are numbered so."""
        return self.places[::-1]


def tabby_lifts(threading: Sequence[int]) -> tuple[frozenset[int], frozenset[int]] | None:
    """Return the lifts of plain weave: the shafts of the odd ends, then those of the even ends.

    `threading` is the shaft of each end. None when a shaft carries ends of both kinds, so that
    the threading has no plain weave.

    >>> [sorted(lift) for lift in tabby_lifts([1, 2, 3, 4])]
    [[1, 3], [2, 4]]
    """
    odd, even = frozenset(threading[::2]), frozenset(threading[1::2])
    return None if odd & even or not odd or not even else (odd, even)


def treadle_order(
    presses: Sequence[Press],
    style: Style,
    treadles: Sequence[int] = (),
    tabby: tuple[int, int] | None = None,
) -> Order:
    """Return the order of treadles in one style.

    `presses` is the treadles pressed at each pick, numbered from 1; `treadles` are others that are
    tied too, and come after those that are used. `tabby` is the two plain-weave treadles, which
    "tabby outside" needs. Raises ValueError without them, or when they are not tied.

    >>> picks = [(1,), (2,), (3,), (4,)] * 5
    >>> treadle_order(picks, "alternating, outside in").places
    (1, 3, 4, 2)
    """
    used = list(dict.fromkeys(treadle for press in presses for treadle in press))
    used += [treadle for treadle in dict.fromkeys(treadles) if treadle not in used]
    steps = Counter(pairwise(presses))
    places, left, best = tuple(used), (len(used) + 1) // 2, True
    if style == "tabby outside":
        places = _tabby_outside(used, tabby)
    elif style == "shortest reach":
        order, best = least_walk(_walking(used, steps)[0])
        places = tuple(used[each] for each in order)
    elif style != "in order of use":
        feet, best = most_changes(_changing(used, presses, steps))
        places = _by_foot(used, feet, outside_in=style == "alternating, outside in")
        left = len(feet)
    return Order(style, places, left, *walking_of(presses, places, left), best)


def walking_of(
    presses: Sequence[Press], places: Sequence[int], left: int
) -> tuple[Fraction, Fraction | None]:
    """Return `reach` and `changes` of an order, as `Order` has them.

    `places` are all treadles that are pressed, and maybe others, from left to right; the first
    `left` of them are the left foot's.

    >>> walking_of([(1,), (2,), (3,)], [1, 2, 3], 2)
    (Fraction(1, 1), Fraction(1, 2))
    """
    steps = Counter(pairwise(presses))
    weights, unit = _walking(places, steps)
    way = Fraction(walk(range(len(places)), weights), unit * max(sum(steps.values()), 1))
    return way, _changes(places[:left], steps)


def offered_orders(
    presses: Sequence[Press], treadles: Sequence[int] = (), tabby: tuple[int, int] | None = None
) -> tuple[Order, ...]:
    """Return the order in every style that suits the piece; arguments as in `treadle_order`."""
    return tuple(
        treadle_order(presses, style, treadles, tabby)
        for style in STYLES
        if style != "tabby outside" or tabby is not None
    )


def _tabby_outside(used: Sequence[int], tabby: tuple[int, int] | None) -> tuple[int, ...]:
    if tabby is None or len(set(tabby) & set(used)) < 2:
        raise ValueError("tabby outside needs two plain-weave treadles that are tied")
    first, second = sorted(tabby, key=used.index)
    return (first, *(treadle for treadle in used if treadle not in tabby), second)


def _by_foot(used: Sequence[int], feet: frozenset[int], *, outside_in: bool) -> tuple[int, ...]:
    """Set out the treadles of each foot in order of use, from the outside or from the middle."""
    left = [treadle for place, treadle in enumerate(used) if place in feet]
    right = [treadle for place, treadle in enumerate(used) if place not in feet]
    return (*left, *right[::-1]) if outside_in else (*left[::-1], *right)


def _walking(
    places: Sequence[int], steps: Counter[tuple[Press, Press]]
) -> tuple[list[list[int]], int]:
    """Return how often one walks between each two treadles, in parts of a step, and the parts.

    A step between presses of several treadles is shared evenly among the pairs of theirs.
    """
    index = {treadle: place for place, treadle in enumerate(places)}
    weights = [[0] * len(places) for _ in places]
    unit = lcm(*(max(len(one) * len(other), 1) for one, other in steps))
    for (one, other), count in steps.items():
        for treadle in one:
            for following in other:
                share = count * unit // (len(one) * len(other))
                weights[index[treadle]][index[following]] += share
                weights[index[following]][index[treadle]] += share
    return weights, unit


def _changing(
    places: Sequence[int], presses: Sequence[Press], steps: Counter[tuple[Press, Press]]
) -> list[list[int]]:
    """Return how much it matters that two treadles belong to different feet.

    Treadles pressed together come first, as one foot reaches two only side by side; then treadles
    pressed alone one after the other.
    """
    index = {treadle: place for place, treadle in enumerate(places)}
    weights = [[0] * len(places) for _ in places]
    together = len(presses)
    pairs = Counter(pair for press in presses for pair in combinations(press, 2))
    matters = [(pair, count * together) for pair, count in pairs.items()]
    matters += [((one[0], other[0]), count) for (one, other), count in _single(steps)]
    for (one_treadle, other_treadle), weight in matters:
        weights[index[one_treadle]][index[other_treadle]] += weight
        weights[index[other_treadle]][index[one_treadle]] += weight
    return weights


def _single(
    steps: Counter[tuple[Press, Press]],
) -> list[tuple[tuple[Press, Press], int]]:
    """Return the steps between presses of one treadle each."""
    return [(step, count) for step, count in steps.items() if len(step[0]) == len(step[1]) == 1]


def _changes(left: Sequence[int], steps: Counter[tuple[Press, Press]]) -> Fraction | None:
    """Return the share of the steps between single presses that change foot."""
    single = _single(steps)
    changed = sum(count for (one, other), count in single if (one[0] in left) != (other[0] in left))
    return Fraction(changed, sum(count for _, count in single)) if single else None
