"""Which layers the weft joins at which side: every turn of a shuttle counted at its edge."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from cards.cloth.weft_path import Side, WeftPath, side_at

Edge = tuple[int, Side]


@dataclass(frozen=True, slots=True)
class Edges:
    """The edges of all layers, and what the weft does at each.

    `beyond` has the layers to which the weft goes at an edge: its own, where it turns back, or
    others. `turns` has the turns at each edge in the order of weaving: the pick before it, and the
    layer at its other end.
    """

    beyond: dict[Edge, frozenset[int]]
    turns: dict[Edge, tuple[tuple[int, int], ...]]

    def at(self, layer: int, side: Side) -> frozenset[int]:
        """Return the layers to which the weft goes at an edge; none if it never turns there."""
        return self.beyond.get((layer, side), frozenset())

    def partner(self, layer: int, side: Side) -> int | None:
        """Return the other layer to which every turn at an edge goes, or None."""
        beyond = self.at(layer, side)
        return next(iter(beyond)) if len(beyond) == 1 and layer not in beyond else None

    def mixed(self, layer: int, side: Side) -> bool:
        """Whether the weft does now one thing and now another at an edge."""
        return len(self.at(layer, side)) > 1

    def crossing(self, layer: int) -> Side | None:
        """Return a side at which a fold of the layer crosses another: one goes in, the other out.

        Of two folds at one side, one must lie within the other or beside it.
        """
        for (one, side), beyond in self.beyond.items():
            mine = self.partner(layer, side)
            if mine is None:
                continue
            low, high = sorted((layer, mine))
            for other in beyond - {one}:
                inside = low < one < high
                if inside != (low < other < high) and not {one, other} & {low, high}:
                    return side
        return None


def edges_of(path: WeftPath) -> Edges:
    """Return what the weft does at every edge."""
    turns: defaultdict[Edge, list[tuple[int, int]]] = defaultdict(list)
    leaves, enters = path.layers[path.before], path.layers[path.after]
    told = (path.before, leaves, enters, path.at_right)
    for pick, one, two, right in zip(*(each.tolist() for each in told), strict=True):
        side = side_at(right)
        turns[one, side].append((pick, two))
        if one != two:
            turns[two, side].append((pick, one))
    return Edges(
        {edge: frozenset(other for _, other in found) for edge, found in turns.items()},
        {edge: tuple(found) for edge, found in turns.items()},
    )
