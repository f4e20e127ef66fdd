"""The mark of a layer: a shape of its own for each, and its letter inside.

Shapes are filled and open by turns, so that layers next to each other differ most, in grey too.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from layouts.drawing import Box, Disc, Mark, Path, Step
from layouts.sheets.parts import INK
from layouts.typeface import NOTE, cap_height, label

TAG = 4.6

_LINE = 0.35
_WHITE = "#ffffff"
_CORNERS = {2: 4, 3: 6}


def layer_tag(lane: int, letter: str, x: float, y: float) -> Iterable[Mark]:
    """Yield the mark of the layer `lane` (from 0) with its letter, centred on x, y."""
    filled = lane % 2 == 0
    yield layer_shape(lane, x, y, TAG)
    at = y + cap_height(NOTE) / 2
    yield label(x, at, letter, NOTE, "bold", "middle", _WHITE if filled else INK)


def layer_shape(lane: int, x: float, y: float, size: float) -> Mark:
    """Return the shape of a layer, `size` mm across, centred on x, y: filled for A, C, E and G.

    Discs are A and B, squares C and D, diamonds E and F, hexagons G and H.
    """
    fill = INK if lane % 2 == 0 else _WHITE
    inner = size - _LINE
    kind = lane // 2 % 4
    if kind == 0:
        return Disc(x, y, inner / 2, fill, INK, _LINE)
    if kind == 1:
        side = inner * 0.92
        return Box(x - side / 2, y - side / 2, side, side, fill, INK, _LINE)
    corners = _CORNERS[kind]
    reach = inner * (0.66 if corners == 4 else 0.56)
    steps: list[Step] = []
    for corner in range(corners):
        angle = 2 * math.pi * corner / corners
        across, down = reach * math.cos(angle), reach * math.sin(angle)
        steps.append(("L" if corner else "M", across, down))
    return Path((*steps, ("Z",)), fill, INK, _LINE, at=(x, y))
