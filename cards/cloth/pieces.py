"""What hangs together when the cloth comes off the loom: flat cloths, tubes, and odd cases.

Layers are joined at a side where the weft always passes from one to the other. Layers joined in a
row make one flat cloth of so many widths, with a fold at each join; joined in a ring, a tube.
Everything else is odd, and its note says in what way.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final, Literal

from cards.cloth.joins import Edges, edges_of
from cards.cloth.layers import Layer
from cards.cloth.weft_path import Side, WeftPath, other_side, side_at

# No loom parts more layers than this; what looks like more is threads that nothing binds.
_MOST_LAYERS: Final = 40

SIDES: Final[tuple[Side, Side]] = ("left", "right")


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of cloth: its layers (from 0) in the order of its widths, and the fold after each.

    A flat cloth has a fold less than layers. A tube has as many: the last one joins its last layer
    to its first, at the side from which its weft starts. An odd piece has none, and a `note`.
    """

    kind: Literal["flat", "tube", "odd"]
    layers: tuple[int, ...]
    folds: tuple[Side, ...] = ()
    note: str = ""


def find_pieces(
    path: WeftPath, *, stitched: dict[int, tuple[int, ...]] | None = None
) -> tuple[Piece, ...]:
    """Return the pieces of a cloth, the one with the uppermost layer first.

    `stitched` has the layers that hold together what should be several, as `stitched_layers` finds
    them. A layer without picks is in no piece.
    """
    edges = edges_of(path)
    woven = sorted(set(path.layers.tolist()))
    return tuple(_piece(group, edges, path, stitched or {}) for group in _groups(woven, edges))


def stitched_layers(layers: Sequence[Layer], meant: Sequence[int]) -> dict[int, tuple[int, ...]]:
    """Return the layers found that hold together the ends of several, and of which.

    `meant` is the layer in which each end should lie.
    """
    held = {
        place: tuple(sorted({meant[end] for end in layer.ends}))
        for place, layer in enumerate(layers)
    }
    return {place: several for place, several in held.items() if len(several) > 1}


def _groups(woven: list[int], edges: Edges) -> list[list[int]]:
    """Return the layers that the weft joins in any way, the uppermost of each group first."""
    group = {layer: [layer] for layer in woven}
    for layer in woven:
        for side in SIDES:
            for other in edges.at(layer, side):
                if group[other] is not group[layer]:
                    group[layer] += group[other]
                    for each in group[other]:
                        group[each] = group[layer]
    found = {id(each): sorted(each) for each in group.values()}
    return sorted(found.values())


def _piece(
    group: list[int], edges: Edges, path: WeftPath, stitched: dict[int, tuple[int, ...]]
) -> Piece:
    note = _oddity(group, edges, stitched)
    if note:
        return Piece("odd", tuple(group), (), note)
    open_edges = [
        (layer, side) for layer in group for side in SIDES if edges.partner(layer, side) is None
    ]
    if open_edges:
        layer, side = open_edges[0]
        layers, folds = _walk(layer, other_side(side), edges)
        return Piece("flat", layers, folds)
    first_pick = min(int((path.layers == layer).argmax()) for layer in group)
    start = side_at(path.plan.from_right[first_pick])
    layers, folds = _walk(group[0], other_side(start), edges)
    return Piece("tube", layers, folds)


def _walk(layer: int, side: Side, edges: Edges) -> tuple[tuple[int, ...], tuple[Side, ...]]:
    """Go round the folds, beginning across `layer` towards `side`, until an open edge or the start.

    Beyond each fold the way goes back to the other side.
    """
    layers, folds = [layer], []
    while (following := edges.partner(layers[-1], side)) is not None:
        folds.append(side)
        if following == layer:
            break
        layers.append(following)
        side = other_side(side)
    return tuple(layers), tuple(folds)


def _oddity(group: list[int], edges: Edges, stitched: dict[int, tuple[int, ...]]) -> str:
    """Return what is odd about joined layers, or nothing."""
    if len(group) > _MOST_LAYERS:
        return "most of its threads hang loose"
    for layer in group:
        if layer in stitched:
            return f"layers {_listed(stitched[layer])} are stitched together"
        crossing = edges.crossing(layer)
        if crossing:
            return f"its folds cross others at the {crossing}, so the wefts lock"
    mixed = [(layer, side) for layer in group for side in SIDES if edges.mixed(layer, side)]
    for layer, side in mixed:
        others = sorted(edges.at(layer, side) - {layer})
        if len(others) > 1:
            return f"layer {layer + 1} is joined at the {side} to layers {_listed(others)} in turn"
    return _part_joined(mixed, edges) if mixed else ""


def _part_joined(mixed: list[tuple[int, Side]], edges: Edges) -> str:
    """Return what two layers make that are joined at a side now and then."""
    layer, side = mixed[0]
    other = next(iter(edges.at(layer, side) - {layer}))
    both = f"layers {_listed(sorted((layer, other)))}"
    stretches = _stretches(layer, side, edges)
    if _pocket(mixed, edges):
        return f"{both} make a pocket: joined at both sides over one stretch, open beyond it"
    if stretches == [True, False, True]:
        return f"{both} are joined at the {side} but for a slit"
    if len(stretches) == 2:
        return f"{both} are joined at the {side} over a part of their length"
    return f"{both} are joined at the {side} only now and then"


def _pocket(mixed: list[tuple[int, Side]], edges: Edges) -> bool:
    """Whether both sides are joined over one stretch, the same at both."""
    if len({side for _, side in mixed}) < 2 or any(
        sum(_stretches(*edge, edges)) != 1 for edge in mixed
    ):
        return False
    joined = [
        [pick for pick, other in edges.turns[layer, side] if other != layer]
        for layer, side in mixed
    ]
    return max(picks[0] for picks in joined) < min(picks[-1] for picks in joined)


def _stretches(layer: int, side: Side, edges: Edges) -> list[bool]:
    """Return the stretches of an edge, joined or open in turn."""
    turns = edges.turns[layer, side]
    return [joined for joined, _ in groupby(other != layer for _, other in turns)]


def _listed(layers: Sequence[int]) -> str:
    *some, last = (str(layer + 1) for layer in layers)
    return f"{', '.join(some)} and {last}" if some else last
