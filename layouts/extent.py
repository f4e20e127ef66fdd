"""How far marks reach: the box of a figure, which a tagged file states."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache
from types import MappingProxyType
from typing import Any

from layouts.drawing import Box, Cells, Disc, Line, Mark, Path, Picture, Step, Text, flat
from layouts.typeface import ascent, descent

# Left, top, right and bottom in mm.
Extent = tuple[float, float, float, float]


def extent(marks: Iterable[Mark]) -> Extent | None:
    """Return left, top, right and bottom in mm of what marks cover, lines as thin as they can be.

    None if there is no mark. A text takes the height of its line.

    >>> extent([Box(1, 2, 3, 4), Disc(3, 3, 2)])
    (1, 1, 5, 6)
    """
    found = [REACHES[type(mark)](mark) for mark in flat(marks)]
    if not found:
        return None
    lefts, tops, rights, bottoms = zip(*found, strict=True)
    return min(lefts), min(tops), max(rights), max(bottoms)


def _line(mark: Line) -> Extent:
    return (
        min(mark.x1, mark.x2),
        min(mark.y1, mark.y2),
        max(mark.x1, mark.x2),
        max(mark.y1, mark.y2),
    )


def _box(mark: Box | Picture) -> Extent:
    return mark.x, mark.y, mark.x + mark.width, mark.y + mark.height


def _disc(mark: Disc) -> Extent:
    r = mark.radius
    return mark.x - r, mark.y - r, mark.x + r, mark.y + r


def _path(mark: Path) -> Extent:
    across, down = mark.at
    left, top, right, bottom = _reach(mark.steps)
    return left + across, top + down, right + across, bottom + down


@lru_cache(maxsize=512)
def _reach(steps: tuple[Step, ...]) -> Extent:
    """Return how far a path reaches, its control points included; often drawn in many places."""
    numbers = [[float(each) for each in step[1:]] for step in steps]
    xs = [x for step in numbers for x in step[::2]]
    ys = [y for step in numbers for y in step[1::2]]
    return min(xs, default=0.0), min(ys, default=0.0), max(xs, default=0.0), max(ys, default=0.0)


def _text(mark: Text) -> Extent:
    left = mark.left
    return left, mark.y - ascent(mark.size), left + mark.width, mark.y + descent(mark.size)


def _cells(mark: Cells) -> Extent:
    rows, columns = mark.filled.shape
    right, bottom = mark.x + columns * mark.cell_width, mark.y + rows * mark.cell_height
    return mark.x, mark.y, right, bottom


# How far each kind of mark reaches.
REACHES: Mapping[type[Any], Callable[[Any], Extent]] = MappingProxyType(
    {
        Line: _line,
        Box: _box,
        Disc: _disc,
        Path: _path,
        Text: _text,
        Cells: _cells,
        Picture: _box,
    }
)
