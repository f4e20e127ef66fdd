"""The walk of the feet: which foot for which treadle, how far it goes, and other orders on offer.

Treadles are named by the numbers that they have now, from left to right as they lie. Those that
weave nothing and only serve to look underneath are left out.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from cards.loom.treadle_order import Order, Style, offered_orders, treadle_order, walking_of
from cards.project.model import Project
from cards.project.treadle_places import STYLES, from_side, presses_of, tabby_treadles

_WRITTEN = {style: written for written, style in STYLES.items()}


@dataclass(frozen=True, slots=True)
class OfferedOrder:
    """An order of treadles from left to right, and what to write in the spec to have it.

    `reach` and `changes` are as in `cards.loom.treadle_order.Order`; `now` is true for an order in
    which the treadles lie already. `best` is false where not all orders could be looked at.
    `joined` counts the different presses of several treadles that join a left and a right foot.
    """

    written: str
    places: tuple[int, ...]
    left: int
    reach: Fraction
    changes: Fraction | None
    joined: int
    best: bool
    now: bool


@dataclass(frozen=True, slots=True)
class Walk:
    """How the feet walk: the treadles of each foot from left to right, and the orders on offer.

    `together` counts the different presses of several treadles, and `joined` those of them that
    join a left and a right foot. `tabby` are the treadles of the two plain-weave sheds, None where
    no two weave plain weave.
    """

    left_foot: tuple[int, ...]
    right_foot: tuple[int, ...]
    reach: Fraction
    changes: Fraction | None
    together: int
    joined: int
    offered: tuple[OfferedOrder, ...]
    tabby: tuple[int, int] | None


def walk_of(project: Project) -> Walk | None:
    """Return the walk of a piece, None where no treadle follows another."""
    loom = project.loom
    presses = presses_of(project.weft.sections)
    woven = tuple(each for each in loom.tied if each.number not in loom.looks)
    numbers = [each.number for each in woven]
    if len({number for press in presses for number in press}) < 2:
        return None
    tabby = tabby_treadles(woven, project.draft.threading, loom.action)
    everything = range(1, max(loom.treadles or 0, *numbers) + 1)
    places = tuple(everything if loom.treadle_1 == "left" else reversed(everything))
    lying = tuple(place for place in places if place in numbers)
    left = lying[: _left_foot(loom.order, lying, presses, tabby, loom.treadle_1)]
    together = {press for press in presses if len(press) > 1}
    offered = tuple(
        _offered(from_side(order, loom.treadle_1), lying, together)
        for order in offered_orders(presses, sorted(numbers), tabby)
    )
    border = places.index(left[-1]) + 1
    reach, changes = walking_of(presses, places, border)
    joined = _joined(together, left)
    right = lying[len(left) :]
    return Walk(left, right, reach, changes, len(together), joined, offered, tabby)


def _joined(together: Iterable[tuple[int, ...]], left: tuple[int, ...]) -> int:
    """Return how many presses have a treadle of the left foot and one of the right."""
    return sum(0 < len(set(press) & set(left)) < len(press) for press in together)


def _left_foot(
    order: str,
    lying: tuple[int, ...],
    presses: list[tuple[int, ...]],
    tabby: tuple[int, int] | None,
    treadle_1: str,
) -> int:
    """Return how many treadles are the left foot's: as their style has it, else half of them."""
    style: Style | None = next((each for each in _WRITTEN if each == order), None)
    if style is not None and (style != "tabby outside" or tabby is not None):
        found = from_side(treadle_order(presses, style, sorted(lying), tabby), treadle_1)
        if found.places == lying:
            return found.left
    return (len(lying) + 1) // 2


def _offered(
    order: Order, lying: tuple[int, ...], together: Iterable[tuple[int, ...]]
) -> OfferedOrder:
    return OfferedOrder(
        written=_WRITTEN[order.style],
        places=order.places,
        left=order.left,
        reach=order.reach,
        changes=order.changes,
        joined=_joined(together, order.places[: order.left]),
        best=order.best,
        # Orders leave no treadle free between others, as the author's own may.
        now=order.places == lying and set(lying) == set(range(1, len(lying) + 1)),
    )
