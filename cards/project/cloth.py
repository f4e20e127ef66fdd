"""What the draft makes, as data: stretches of the piece with their layers, pieces and faults.

Where layers change places or are woven together, another stretch begins: within one, every layer
stays as it is. Ends are those of the warp, from 0.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from cards.cloth.continuity import Fault, fold_faults
from cards.cloth.floats import Floats
from cards.cloth.layers import Layer
from cards.cloth.pieces import Piece
from cards.cloth.weft_path import ShuttlePlan, Side, WeftPath


@dataclass(frozen=True, slots=True)
class Shuttle:
    """A shuttle: its number, from 1 in the order of use, its yarn, the side where it starts."""

    number: int
    yarn: str
    start: Side


@dataclass(frozen=True, slots=True, eq=False)
class ClothStretch:
    """Sections in a row in which the layers stay as they are.

    `sections` are their places in the piece, `first_pick` is a pick of the piece, from 0. In
    `layers`, top first, and in `path` and `faults` picks count from the first of the stretch.
    `floats` has the longest of each layer, within that layer alone: its thread n is the layer's
    n-th end or pick. `lanes` says for each layer which of the piece's warps it is, so that a layer
    can be known again after it changed its place.
    """

    sections: tuple[int, ...]
    first_pick: int
    picks: int
    layers: tuple[Layer, ...]
    lanes: tuple[int, ...]
    path: WeftPath
    pieces: tuple[Piece, ...]
    faults: tuple[Fault, ...]
    floats: tuple[Floats, ...]

    @property
    def fold_faults(self) -> tuple[Fault, ...]:
        """The faults that lie at a fold or at an edge of a tube."""
        return fold_faults(self.faults)


@dataclass(frozen=True, slots=True)
class Exchange:
    """Where layers change places: before `pick`, and the lanes from the top down before and after.

    Two whole cloths that change places are held together along that line.
    """

    pick: int
    before: tuple[int, ...]
    after: tuple[int, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Cloth:
    """The cloth of one piece: its stretches in weaving order, its shuttles and their way.

    `plan.shuttles` has a place in `shuttles` for each pick. `lanes` is how many warps lie above
    one another where most are parted: the layers that the loom weaves.
    """

    stretches: tuple[ClothStretch, ...]
    shuttles: tuple[Shuttle, ...]
    plan: ShuttlePlan
    lanes: int

    @property
    def main(self) -> ClothStretch:
        """The longest stretch of those with the most layers."""
        return max(self.stretches, key=lambda each: (len(each.layers), each.picks))

    @property
    def has_layers(self) -> bool:
        """Whether there are layers one above the other: a thread that nothing binds is none."""
        return self.lanes > 1 and all(layer.ends and layer.picks for layer in self.main.layers)

    @property
    def exchanges(self) -> tuple[Exchange, ...]:
        """Every place at which the same layers lie in another order than before."""
        return tuple(
            Exchange(after.first_pick, before.lanes, after.lanes)
            for before, after in pairwise(self.stretches)
            if before.lanes != after.lanes and set(before.lanes) == set(after.lanes)
        )

    @property
    def fold_sides(self) -> tuple[Side, ...]:
        """The sides at which cloth is folded anywhere in the piece, left before right."""
        sides = {
            fold for stretch in self.stretches for piece in stretch.pieces for fold in piece.folds
        }
        return tuple(sorted(sides))

    def lanes_in(self, layer: Layer) -> tuple[int, ...]:
        """Return the warps whose ends a layer has: several where layers are woven together."""
        home = {
            end: lane
            for lane, each in zip(self.main.lanes, self.main.layers, strict=True)
            for end in each.ends
        }
        return tuple(sorted({home[end] for end in layer.ends}))

    def at(self, section: int) -> ClothStretch:
        """Return the stretch that holds a section."""
        return next(each for each in self.stretches if section in each.sections)


def kind_of(stretch: ClothStretch) -> str:
    """Return separate, tube or folded, or odd, of all pieces of a stretch together."""
    pieces = stretch.pieces
    if any(piece.kind == "odd" for piece in pieces):
        return "odd"
    if all(len(piece.layers) == 1 for piece in pieces):
        return "separate"
    if len(pieces) == 1:
        return "tube" if pieces[0].kind == "tube" else "folded"
    return "odd"
