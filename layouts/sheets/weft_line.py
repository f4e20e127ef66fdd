"""The weft of a cross-section as a line: over and under its ends, and round to its next pick.

A yarn is drawn in its colour with a dark outline, so that a pale one is seen on white and every one
on a grey copy.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import Final

from layouts.drawing import Mark, Path, Step
from layouts.sheets.parts import INK

_OUTLINE: Final = 0.2
# How level the line leaves and enters each of its points, as a share of the distance.
_LEVEL: Final = 0.5

Point = tuple[float, float]


def smooth(points: Sequence[Point]) -> tuple[Step, ...]:
    """Return steps through all points, level at each of them; x must rise or fall throughout."""
    steps: list[Step] = [("M", *points[0])]
    for (x1, y1), (x2, y2) in pairwise(points):
        bend = _LEVEL * (x2 - x1)
        if y1 == y2:
            steps.append(("L", x2, y2))
        else:
            steps.append(("C", x1 + bend, y1, x2 - bend, y2, x2, y2))
    return tuple(steps)


def yarn_line(points: Sequence[Point], width: float, colour: str) -> Iterable[Mark]:
    """Return the weft `width` mm thick through all points."""
    steps = smooth(points)
    yield Path(steps, stroke=INK, line_width=width + 2 * _OUTLINE)
    yield Path(steps, stroke=colour, line_width=width)


def turn_line(start: Point, end: Point, reach: float) -> Path:
    """Return the dashed way from one pick to another, `reach` mm out to the side at most."""
    (x1, y1), (x2, y2) = start, end
    out = reach / 0.75  # a cubic whose handles are level goes three quarters of the way to them
    steps: tuple[Step, ...] = (("M", x1, y1), ("C", x1 + out, y1, x2 + out, y2, x2, y2))
    return Path(steps, stroke=INK, line_width=0.45, dash=(1.5, 1.0))


def stub_line(at: Point, out: float, down: float) -> Path:
    """Return the dashed beginning of a way that leads `out` mm aside and `down` mm on."""
    x, y = at
    steps: tuple[Step, ...] = (("M", x, y), ("C", x + out, y, x + out, y + down, x + out, y + down))
    return Path(steps, stroke=INK, line_width=0.45, dash=(1.5, 1.0))


def arrow(x: float, y: float, direction: int, size: float) -> Path:
    """Return an arrowhead with its point at (x, y), `direction` 1 to the right, -1 to the left."""
    back, half = x - direction * size, size * 0.5
    steps: tuple[Step, ...] = (("M", x, y), ("L", back, y - half), ("L", back, y + half), ("Z",))
    return Path(steps, fill=INK, stroke=None)
