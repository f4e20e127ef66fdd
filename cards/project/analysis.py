"""The cloth of a piece analysed: by stretches in which layers and joins stay as they are.

A section too short to hang together in itself, or to show how its layers are joined, belongs to the
one before it, else to the next.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

import numpy as np
from numpy.typing import NDArray

from cards.cloth.continuity import find_faults
from cards.cloth.floats import Floats, longest_floats
from cards.cloth.layers import Layer, layers
from cards.cloth.opened import layer_drawdown
from cards.cloth.pieces import Piece, find_pieces
from cards.cloth.weft_path import ShuttlePlan, WeftPath, follow, pick_layers
from cards.project.cloth import Cloth, ClothStretch, Shuttle
from cards.project.model import WovenSection

Cells = NDArray[np.bool_]
Ends = tuple[tuple[int, ...], ...]


@dataclass(frozen=True, slots=True)
class _Part:
    """Sections in a row, and the layers that they make together."""

    sections: tuple[int, ...]
    first: int
    picks: int
    layers: tuple[Layer, ...]
    path: WeftPath
    pieces: tuple[Piece, ...]

    @property
    def loose(self) -> bool:
        """Whether some thread does not interlace here."""
        return any(not layer.ends or not layer.picks for layer in self.layers)

    @property
    def ends(self) -> Ends:
        """The ends of each layer, top first."""
        return tuple(layer.ends for layer in self.layers)

    @property
    def kind(self) -> tuple[Ends, tuple[Piece, ...]]:
        """The layers, and the pieces that they are joined to."""
        return self.ends, self.pieces


def analyse(
    drawdown: Cells,
    sections: Sequence[WovenSection],
    shuttles: tuple[Shuttle, ...],
    plan: ShuttlePlan,
    asked: Sequence[object] = (),
    warps: Sequence[tuple[int, ...]] = (),
) -> Cloth:
    """Return the cloth of one piece; `drawdown` is bool, shape (picks, ends).

    `asked`, if anything, says of each section which cloth it should be: neighbours that are alike
    are then one stretch, and no others. `warps` has the ends of each layer in the order of their
    letters; by default those come from the top down where most layers are first parted.
    """
    parts = _as_asked(drawdown, sections, plan, asked) or _gathered(drawdown, sections, plan)
    most = max(parts, key=lambda part: len(part.layers))
    lanes = list(warps or most.ends)
    stretches = tuple(_stretch(drawdown, part, lanes) for part in parts)
    return Cloth(stretches, shuttles, plan, len(most.layers))


def _as_asked(
    drawdown: Cells, sections: Sequence[WovenSection], plan: ShuttlePlan, asked: Sequence[object]
) -> list[_Part]:
    parts = []
    for _, same in groupby(range(len(asked)), key=asked.__getitem__):
        places = tuple(same)
        picks = sum(sections[place].picks for place in places)
        first = sections[places[0]].first_pick
        parts.append(_part(drawdown, plan, places, first, picks))
    return parts


def _gathered(drawdown: Cells, sections: Sequence[WovenSection], plan: ShuttlePlan) -> list[_Part]:
    parts: list[_Part] = []
    for index, section in enumerate(sections):
        parts.append(_part(drawdown, plan, (index,), section.first_pick, section.picks))
        _merge_last(drawdown, plan, parts)
    return parts


def _merge_last(drawdown: Cells, plan: ShuttlePlan, parts: list[_Part]) -> None:
    """Take the last part into the one before it, if both are alike or one cannot stand alone."""
    if len(parts) < 2:
        return
    before, last = parts[-2:]
    if before.ends != last.ends and not before.loose and not last.loose:
        return
    alone = last if before.loose else before
    both = _joined(drawdown, plan, before, last)
    kinds = (before.kind, last.kind) if before.ends == last.ends else (alone.kind,)
    if both.kind in kinds or (before.loose and last.loose):
        parts[-2:] = [both]


def _joined(drawdown: Cells, plan: ShuttlePlan, one: _Part, two: _Part) -> _Part:
    """Return two parts as one; where they have the same layers, so has the whole."""
    sections, picks = one.sections + two.sections, one.picks + two.picks
    if one.ends != two.ends or one.loose or two.loose:
        return _part(drawdown, plan, sections, one.first, picks)
    found = tuple(
        Layer(above.ends, above.picks + tuple(one.picks + pick for pick in below.picks))
        for above, below in zip(one.layers, two.layers, strict=True)
    )
    return _laid_out(plan, sections, one.first, picks, found)


def _part(
    drawdown: Cells, plan: ShuttlePlan, sections: tuple[int, ...], first: int, picks: int
) -> _Part:
    found = layers(drawdown[first : first + picks])
    return _laid_out(plan, sections, first, picks, found)


def _laid_out(
    plan: ShuttlePlan,
    sections: tuple[int, ...],
    first: int,
    picks: int,
    found: tuple[Layer, ...],
) -> _Part:
    rows = slice(first, first + picks)
    own = ShuttlePlan(plan.shuttles[rows], plan.from_right[rows], plan.first_end)
    path = follow(pick_layers(found), own)
    return _Part(sections, first, picks, found, path, find_pieces(path))


def _stretch(drawdown: Cells, part: _Part, lanes: list[tuple[int, ...]]) -> ClothStretch:
    cells = drawdown[part.first : part.first + part.picks]
    return ClothStretch(
        sections=part.sections,
        first_pick=part.first,
        picks=part.picks,
        layers=part.layers,
        lanes=tuple(_lane(ends, lanes) for ends in part.ends),
        path=part.path,
        pieces=part.pieces,
        faults=find_faults(cells, part.layers, part.path),
        floats=tuple(_floats(cells, layer) for layer in part.layers),
    )


def _floats(cells: Cells, layer: Layer) -> Floats:
    """Return the longest floats within a layer; a thread alone has none."""
    if not layer.ends or not layer.picks:
        return Floats(None, None, None, None)
    return longest_floats(layer_drawdown(cells, layer), repeats=False)


def _lane(ends: tuple[int, ...], lanes: list[tuple[int, ...]]) -> int:
    """Return which warp these ends are; other groupings than the usual get numbers of their own."""
    if ends not in lanes:
        lanes.append(ends)
    return lanes.index(ends)
