"""The order in which the layers are woven, and by which shuttle, for every way of joining them.

Joined layers have one shuttle, which walks down through them and back; separate ones have one each.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from cards.cloth.weft_path import Side, WeftPath, follow, shuttle_plan

Join = Literal["none", "tube", "left", "right"]


@dataclass(frozen=True, slots=True)
class Walk:
    """The layer (from 0, top first) and the shuttle (from 0) of each pick, until all comes again.

    `visits` says for each pick how often its layer was woven before.
    """

    layers: tuple[int, ...]
    shuttles: tuple[int, ...]
    visits: tuple[int, ...]

    def times(self, layer: int) -> int:
        """Return how many picks a layer has."""
        return self.layers.count(layer)


@dataclass(frozen=True, slots=True)
class Joint:
    """Where the weft joins two layers at one side.

    `visits` pairs the picks of `upper` and `lower`, by their number within their layers, between
    which the weft passes.
    """

    upper: int
    lower: int
    side: Side
    visits: tuple[tuple[int, int], ...]


def once_through(count: int, join: Join, start: Side, ratio: Sequence[int]) -> tuple[int, ...]:
    """Return the order of the layers' picks, once through.

    `left` and `right` is the side of the first fold; the others lie left and right by turns. A
    shuttle that starts there weaves the upper layer to and fro first, and from the other side it
    goes down at once. Separate layers have as many picks in a round as `ratio` says.
    """
    if join == "none":
        return tuple(layer for layer, picks in enumerate(ratio) for _ in range(picks))
    down = tuple(range(count))
    if join == "tube":
        return down
    there_and_back = down + down[::-1]
    return there_and_back if join != start else (0, *there_and_back[:-1])


def walk(order: Sequence[int], join: Join, lift_cycles: Sequence[int]) -> Walk:
    """Return the walk, `order` so many times that all sheds come out and each shuttle is back.

    `lift_cycles` is the number of sheds after which the weave of each layer repeats.
    """
    times = 1
    for layer, sheds in enumerate(lift_cycles):
        picks = order.count(layer)
        times = math.lcm(times, sheds // math.gcd(sheds, picks), 2 // math.gcd(2, picks))
    if join != "none":  # one shuttle, and each layer is woven as often as the others
        picks = order.count(0)
        times = math.lcm(*(sheds // math.gcd(sheds, picks) for sheds in lift_cycles))
        times = math.lcm(times, 2 // math.gcd(2, len(order)))
    layers = tuple(order) * times
    seen = [0] * len(lift_cycles)
    visits = []
    for layer in layers:
        visits.append(seen[layer])
        seen[layer] += 1
    shuttles = layers if join == "none" else (0,) * len(layers)
    return Walk(layers, shuttles, tuple(visits))


def path_of(course: Walk, start: Side, first_end: Side, *, times: int) -> WeftPath:
    """Return the way of the weft through the walk woven `times` times over."""
    plan = shuttle_plan(course.shuttles * times, start, first_end=first_end)
    return follow(course.layers * times, plan)


def joints(course: Walk, start: Side) -> tuple[Joint, ...]:
    """Return where layers are joined, those that join the uppermost layers first."""
    pairs: dict[tuple[int, int, Side], set[tuple[int, int]]] = {}
    picks = len(course.layers)
    for passage in path_of(course, start, "right", times=2).passages():
        ends = [(passage.leaves, passage.pick), (passage.enters, passage.next_pick)]
        (upper, one), (lower, two) = sorted(ends)
        pair = course.visits[one % picks], course.visits[two % picks]
        pairs.setdefault((upper, lower, passage.side), set()).add(pair)
    return tuple(
        Joint(*where, tuple(sorted(visits)))
        for where, visits in sorted(pairs.items(), key=lambda each: each[0])
    )
