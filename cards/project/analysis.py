"""The cloth of a piece analysed: by stretches of sections in which the layers stay as they are.

A section too short to hang together in itself belongs to the one before it, else to the next.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from cards.cloth.continuity import find_faults
from cards.cloth.floats import longest_floats
from cards.cloth.layers import Layer, layers
from cards.cloth.opened import layer_drawdown
from cards.cloth.pieces import find_pieces
from cards.cloth.weft_path import ShuttlePlan, follow, pick_layers
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

    @property
    def loose(self) -> bool:
        """Whether some thread does not interlace here."""
        return any(not layer.ends or not layer.picks for layer in self.layers)

    @property
    def ends(self) -> Ends:
        return tuple(layer.ends for layer in self.layers)


def analyse(
    drawdown: Cells,
    sections: Sequence[WovenSection],
    shuttles: tuple[Shuttle, ...],
    plan: ShuttlePlan,
) -> Cloth:
    """Return the cloth of one piece; `drawdown` is bool, shape (picks, ends)."""
    parts = _gathered(drawdown, sections)
    lanes: list[tuple[int, ...]] = []
    most = max(parts, key=lambda part: (len(part.layers), part.picks))
    lanes.extend(most.ends)
    stretches = tuple(_stretch(drawdown, part, plan, lanes) for part in parts)
    return Cloth(stretches, shuttles, plan, len(most.layers))


def _gathered(drawdown: Cells, sections: Sequence[WovenSection]) -> list[_Part]:
    parts: list[_Part] = []
    for index, section in enumerate(sections):
        part = _part(drawdown, (index,), section.first_pick, section.picks)
        parts.append(part)
        _merge_last(drawdown, parts)
    return parts


def _merge_last(drawdown: Cells, parts: list[_Part]) -> None:
    """Take the last part into the one before it, if they are one or one of them hangs loose."""
    if len(parts) < 2:
        return
    before, last = parts[-2:]
    if not (before.loose or last.loose or before.ends == last.ends):
        return
    both = _joined(drawdown, before, last)
    if both.ends in (before.ends, last.ends) or (before.loose and last.loose):
        parts[-2:] = [both]


def _joined(drawdown: Cells, one: _Part, two: _Part) -> _Part:
    return _part(drawdown, one.sections + two.sections, one.first, one.picks + two.picks)


def _part(drawdown: Cells, sections: tuple[int, ...], first: int, picks: int) -> _Part:
    return _Part(sections, first, picks, layers(drawdown[first : first + picks]))


def _stretch(
    drawdown: Cells, part: _Part, plan: ShuttlePlan, lanes: list[tuple[int, ...]]
) -> ClothStretch:
    rows = slice(part.first, part.first + part.picks)
    cells = drawdown[rows]
    own = ShuttlePlan(plan.shuttles[rows], plan.from_right[rows], plan.first_end)
    path = follow(pick_layers(part.layers), own)
    return ClothStretch(
        sections=part.sections,
        first_pick=part.first,
        picks=part.picks,
        layers=part.layers,
        lanes=tuple(_lane(ends, lanes) for ends in part.ends),
        path=path,
        pieces=find_pieces(path),
        faults=find_faults(cells, part.layers, path),
        floats=tuple(
            longest_floats(layer_drawdown(cells, layer), repeats=False) for layer in part.layers
        ),
    )


def _lane(ends: tuple[int, ...], lanes: list[tuple[int, ...]]) -> int:
    """Return which warp these ends are; other groupings than the usual get numbers of their own."""
    if ends not in lanes:
        lanes.append(ends)
    return lanes.index(ends)
