"""The way of the weft: each shuttle goes to and fro, and where it turns it may change its layer.

A turn lies between two picks that one shuttle weaves one after the other, at the side where the
first of them ends. If both picks lie in one layer the weft turns back there; if not, it passes
from one layer to another and joins them at that side.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from cards.cloth.layers import Layer

Side = Literal["left", "right"]
Numbers = NDArray[np.intp]
Flags = NDArray[np.bool_]


def other_side(side: Side) -> Side:
    """Return the side across the loom."""
    return "left" if side == "right" else "right"


def side_at(right: object) -> Side:
    """Return the name of a side."""
    return "right" if right else "left"


@dataclass(frozen=True, slots=True, eq=False)
class ShuttlePlan:
    """Which shuttle weaves each pick, and whether it comes from the right; both shape (picks,).

    End 0 lies at the side `first_end`.
    """

    shuttles: Numbers
    from_right: Flags
    first_end: Side = "right"


@dataclass(frozen=True, slots=True)
class Passage:
    """The weft passes from one layer to another, between `pick` and `next_pick` of a shuttle."""

    pick: int
    next_pick: int
    side: Side
    leaves: int
    enters: int


@dataclass(frozen=True, slots=True, eq=False)
class WeftPath:
    """Every turn of every shuttle, shape (turns,), in the order of the picks before them.

    `layers` is the layer of each pick, shape (picks,).
    """

    layers: Numbers
    plan: ShuttlePlan
    before: Numbers
    after: Numbers
    at_right: Flags

    @property
    def passing(self) -> Flags:
        """Whether the weft passes to another layer at each turn, shape (turns,)."""
        return np.not_equal(self.layers[self.before], self.layers[self.after])

    def passages(self) -> tuple[Passage, ...]:
        """Return the turns at which the weft passes to another layer."""
        passing = self.passing
        before, after = self.before[passing], self.after[passing]
        return tuple(
            Passage(pick, following, side_at(right), leaves, enters)
            for pick, following, right, leaves, enters in zip(
                before.tolist(),
                after.tolist(),
                self.at_right[passing].tolist(),
                self.layers[before].tolist(),
                self.layers[after].tolist(),
                strict=True,
            )
        )


def shuttle_plan(
    shuttles: Sequence[int] | Numbers,
    start: Side | Mapping[int, Side],
    *,
    first_end: Side = "right",
) -> ShuttlePlan:
    """Return the plan of shuttles that start at one side, or each at its own, and go to and fro.

    `shuttles` says which shuttle weaves each pick.

    >>> shuttle_plan([0, 0, 1, 0], "right").from_right
    array([ True, False,  True,  True])
    """
    numbers = np.asarray(shuttles, dtype=np.intp)
    order, fresh = _by_shuttle(numbers)
    places = np.arange(len(numbers))
    turn = places - np.maximum.accumulate(np.where(fresh, places, 0))
    sides = {
        shuttle: (start if isinstance(start, str) else start[shuttle]) == "right"
        for shuttle in set(numbers.tolist())
    }
    starts = np.array([sides[shuttle] for shuttle in numbers[order].tolist()], dtype=np.bool_)
    from_right = np.empty(len(numbers), dtype=np.bool_)
    from_right[order] = starts ^ (turn % 2 == 1)
    return ShuttlePlan(numbers, from_right, first_end)


def pick_layers(layers: Sequence[Layer]) -> Numbers:
    """Return the place of each pick's layer among `layers`, shape (picks,)."""
    return _places([layer.picks for layer in layers])


def end_layers(layers: Sequence[Layer]) -> Numbers:
    """Return the place of each end's layer among `layers`, shape (ends,)."""
    return _places([layer.ends for layer in layers])


def follow(layers: Sequence[int] | Numbers, plan: ShuttlePlan) -> WeftPath:
    """Follow every shuttle through the cloth; `layers` is the layer of each pick.

    Raises ValueError when the plan has another number of picks, or a shuttle comes from a side at
    which it does not lie.
    """
    of_pick = np.asarray(layers, dtype=np.intp)
    if not len(of_pick) == len(plan.shuttles) == len(plan.from_right):
        raise ValueError(f"{len(of_pick)} picks, but the shuttles weave {len(plan.shuttles)}")
    order, fresh = _by_shuttle(plan.shuttles)
    goes_on = ~fresh[1:]
    before, after = order[:-1][goes_on], order[1:][goes_on]
    by_pick = np.argsort(before)
    before, after = before[by_pick], after[by_pick]
    astray = plan.from_right[before] == plan.from_right[after]
    if astray.any():
        pick = int(after[astray].min())
        side = side_at(plan.from_right[pick])
        shuttle = int(plan.shuttles[pick])
        raise ValueError(
            f"pick {pick + 1} is woven from the {side}, but its shuttle ({shuttle}) lies at the "
            f"{other_side(side)}"
        )
    return WeftPath(of_pick, plan, before, after, ~plan.from_right[before])


def _by_shuttle(shuttles: Numbers) -> tuple[Numbers, Flags]:
    """Return the picks shuttle by shuttle, and which of them is the first of its shuttle."""
    order = np.argsort(shuttles, kind="stable")
    ordered = shuttles[order]
    fresh = np.ones(len(order), dtype=np.bool_)
    fresh[1:] = ordered[1:] != ordered[:-1]
    return order, fresh


def _places(threads: Sequence[tuple[int, ...]]) -> Numbers:
    place = np.empty(sum(map(len, threads)), dtype=np.intp)
    for layer, numbers in enumerate(threads):
        place[list(numbers)] = layer
    return place
