"""Which edges of which layers are joined: the plan of a cloth before it is woven.

Every edge of a layer is open or joined to that of one other. Layers joined in a row are one flat
cloth, folded at each join; joined in a ring they are a tube. `closed` layers are woven together.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from cards.cloth.weft_path import Side, other_side

Join = Literal["none", "tube", "left", "right"]
# Two layers, from 0, and the side at which they are joined.
Pair = tuple[int, int, Side]


class JoinError(ValueError):
    """Layers joined so make no cloth: why not, and what would (`mend`)."""

    def __init__(self, why: str, mend: str) -> None:
        super().__init__(f"{why} ({mend})")
        self.why = why
        self.mend = mend


@dataclass(frozen=True, slots=True)
class Group:
    """Layers, from 0, that one shuttle joins, in the order of its way, and the fold after each.

    A flat cloth has a fold less than layers, a `ring` as many.
    """

    layers: tuple[int, ...]
    folds: tuple[Side, ...] = ()

    @property
    def ring(self) -> bool:
        """Whether the layers are joined in a ring."""
        return len(self.folds) == len(self.layers)


@dataclass(frozen=True, slots=True)
class JoinPlan:
    """The groups of joined layers, the one with the uppermost layer first."""

    groups: tuple[Group, ...]
    closed: bool = False

    @property
    def joined(self) -> bool:
        """Whether any layer is joined to another at an edge."""
        return any(group.folds for group in self.groups)

    @property
    def tube(self) -> bool:
        """Whether the plan is one tube and nothing else."""
        return len(self.groups) == 1 and self.groups[0].ring

    @property
    def turned(self) -> frozenset[int]:
        """The layers that lie upside down when the cloth is opened out."""
        return frozenset(layer for group in self.groups for layer in group.layers[1::2])


def closed_plan(layers: int) -> JoinPlan:
    """Return the plan of layers that are woven together as one cloth."""
    return JoinPlan((Group(tuple(range(layers))),), closed=True)


def plan_of(layers: int, join: Join, stack: Sequence[int] | None = None) -> JoinPlan:
    """Return the plan of a join by its name.

    `left` and `right` is the side of the first fold, the others lie left and right by turns; a
    `tube` has two layers. `stack` is the layers from the top down. Raises JoinError for a tube of
    more.
    """
    if join == "tube":
        if layers != 2:
            why = f"a tube of {layers} layers"
            raise JoinError(why, "a tube has 2; more layers fold left and right by turns")
        return plan_of_pairs(layers, [(0, 1, "left"), (0, 1, "right")], stack)
    if join == "none":
        return plan_of_pairs(layers, [], stack)
    side: Side = join
    pairs: list[Pair] = []
    for layer in range(layers - 1):
        pairs.append((layer, layer + 1, side))
        side = other_side(side)
    return plan_of_pairs(layers, pairs, stack)


def plan_of_pairs(
    layers: int, pairs: Sequence[Pair], stack: Sequence[int] | None = None
) -> JoinPlan:
    """Return the plan of pairs of edges that are joined.

    `stack` is the layers from the top down, in their own order by default. Raises JoinError for
    an edge that is joined twice, a layer joined to itself or not there, and folds that cross.
    """
    beyond: dict[tuple[int, Side], int] = {}
    for one, two, side in pairs:
        _check_pair(layers, one, two)
        for layer, other in ((one, two), (two, one)):
            known = beyond.setdefault((layer, side), other)
            if known != other:
                others = " and ".join(str(each + 1) for each in sorted((known, other)))
                raise JoinError(
                    f"the {side} edge of layer {layer + 1} is joined to layers {others}",
                    "an edge can be joined to one other: leave one of the joins out",
                )
    order = tuple(stack) if stack else tuple(range(layers))
    _check_crossing(order, beyond)
    return JoinPlan(tuple(_groups(order, beyond)))


def _check_pair(layers: int, one: int, two: int) -> None:
    for layer in (one, two):
        if not 0 <= layer < layers:
            raise JoinError(
                f"there is no layer {layer + 1}", f"layers are numbered from 1 to {layers}"
            )
    if one == two:
        raise JoinError(f"layer {one + 1} is joined to itself", "join it to another layer")


def _check_crossing(order: tuple[int, ...], beyond: dict[tuple[int, Side], int]) -> None:
    """Of two folds at one side one must lie within the other, or above it."""
    folds: defaultdict[Side, set[tuple[int, int]]] = defaultdict(set)
    for (layer, side), other in beyond.items():
        low, high = sorted((order.index(layer), order.index(other)))
        folds[side].add((low, high))
    for side, found in folds.items():
        for low, high in found:
            for one, two in found:
                if low < one < high < two:
                    first, second = (
                        f"{order[upper] + 1} and {order[lower] + 1}"
                        for upper, lower in ((low, high), (one, two))
                    )
                    raise JoinError(
                        f"the folds of layers {first} and of layers {second} cross at the {side}, "
                        "so their wefts would lock",
                        "let one fold lie within the other",
                    )


def _groups(order: tuple[int, ...], beyond: dict[tuple[int, Side], int]) -> list[Group]:
    sides: tuple[Side, Side] = ("left", "right")
    groups, done = [], set()
    for layer in order:
        if layer in done:
            continue
        members = _connected(layer, beyond)
        done |= members
        ends = [
            (each, side)
            for each in order
            if each in members
            for side in sides
            if (each, side) not in beyond
        ]
        if len(members) == 1:
            groups.append(Group((layer,)))
            continue
        # A flat cloth is walked from its open edge with the upper layer, a ring from the top.
        first, side = (ends[0][0], other_side(ends[0][1])) if ends else (layer, "left")
        groups.append(_walked(first, side, beyond))
    return groups


def _connected(layer: int, beyond: dict[tuple[int, Side], int]) -> set[int]:
    found, look = {layer}, [layer]
    while look:
        one = look.pop()
        for (each, _), other in beyond.items():
            if each == one and other not in found:
                found.add(other)
                look.append(other)
    return found


def _walked(first: int, side: Side, beyond: dict[tuple[int, Side], int]) -> Group:
    layers, folds = [first], []
    while (following := beyond.get((layers[-1], side))) is not None:
        folds.append(side)
        if following == first:
            break
        layers.append(following)
        side = other_side(side)
    return Group(tuple(layers), tuple(folds))
