"""The mark of a layer: each letter has a shape of its own, so that layers are told without colour.

A filled disc, B ring, C filled square, D open square, E filled diamond, F open diamond, G filled
hexagon, H open hexagon: filled and open by turns, so that layers next to each other differ most.
All have nearly the same area. Further layers begin again, and their number tells them apart.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Final

from cards.cloth_words import layer_letter
from layouts.drawing import WHITE, Disc, Mark, Path
from layouts.sheets.parts import INK
from layouts.typeface import LABEL, NOTE, cap_height, label, measure

_LINE: Final = 0.12  # of the outline, as a share of the size

# Corners on the unit circle, from angle 0 at the right, and how far out they lie: an area like the
# disc's, yet nothing much wider than it.
_SQUARE: Final = tuple(math.tau * (corner + 0.5) / 4 for corner in range(4)), 1.22
_DIAMOND: Final = tuple(math.tau * corner / 4 for corner in range(4)), 1.25
_HEXAGON: Final = tuple(math.tau * corner / 6 for corner in range(6)), 1.1

SHAPES: Final = 8
# Large enough for a letter inside.
TAG: Final = 4.6
_MOST_MARKS: Final = 3


def layer_mark(lane: int, x: float, y: float, size: float) -> tuple[Mark, ...]:
    """Return the mark of a layer about (x, y) mm; its disc would be `size` mm across."""
    place = lane % SHAPES
    filled = place % 2 == 0
    line = _LINE * size
    fill = INK if filled else WHITE
    if place < 2:
        return (Disc(x, y, (size - line) / 2, fill=fill, stroke=INK, line_width=line),)
    angles, reach = (_SQUARE, _DIAMOND, _HEXAGON)[place // 2 - 1]
    out = reach * (size - line) / 2
    points = [(x + out * math.cos(each), y + out * math.sin(each)) for each in angles]
    first, *others = points
    steps = (("M", *first), *(("L", *point) for point in others), ("Z",))
    return (Path(steps, fill=fill, stroke=INK, line_width=line),)


def layer_tag(lane: int, x: float, y: float) -> Iterable[Mark]:
    """Yield the mark of a layer with its letter inside, TAG mm across, about (x, y) mm."""
    yield from layer_mark(lane, x, y, TAG)
    at = y + cap_height(NOTE) / 2
    colour = WHITE if lane % 2 == 0 else INK
    yield label(x, at, layer_letter(lane), NOTE, "bold", "middle", colour)


def marks_width(lanes: Sequence[int], size: float, type_size: float = LABEL) -> float:
    """Return the width in mm of marks with their letters, as `lettered_marks` sets them."""
    if len(lanes) > _MOST_MARKS:
        return measure(_letters(lanes), type_size, "bold")
    letters = [measure(layer_letter(lane), type_size, "bold") for lane in lanes]
    return sum(letters) + len(letters) * (1.3 * size + 0.8) + 2.0 * max(0, len(letters) - 1)


def lettered_marks(
    lanes: Sequence[int], x: float, y: float, size: float, type_size: float = LABEL
) -> Iterable[Mark]:
    """Return marks side by side, each with its letter behind it, from x on, on the baseline y.

    Of many layers woven together only the letters are told.
    """
    if len(lanes) > _MOST_MARKS:
        yield label(x, y, _letters(lanes), type_size, "bold", colour=INK)
        return
    for lane in lanes:
        yield from layer_mark(lane, x + 0.65 * size, y - cap_height(type_size) / 2, size)
        x += 1.3 * size + 0.8
        letter = layer_letter(lane)
        yield label(x, y, letter, type_size, "bold", colour=INK)
        x += measure(letter, type_size, "bold") + 2.0


def _letters(lanes: Sequence[int]) -> str:
    return "+".join(layer_letter(lane) for lane in lanes)
