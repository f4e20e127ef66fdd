"""A patch of yarn colour that is also told by its hatch and its letter, in colour and in grey.

Hatches keep one scale on patches of every size, are centred on the patch, and are drawn as filled
shapes cut to the patch exactly: no ink lies outside it. The hatch is black or white, whichever
stands out better from the colour.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from layouts.drawing import BLACK, WHITE, Box, Mark, Path, Step
from layouts.typeface import NOTE, cap_height, label, measure
from layouts.values import rgb

SMALLEST_WIDTH, SMALLEST_HEIGHT = 6.0, 4.5
_OUTLINE = 0.2
_PADDING = 0.7  # white between the letter and the edge of its box
_SHOWING = 0.4  # of the colour, at least, on every side of that box
_LETTER_SHARE = 0.34  # of the patch's height, for a capital
_LARGEST_LETTER = 18.0

Point = tuple[float, float]
Polygon = list[Point]


def contrast(colour_a: str, colour_b: str) -> float:
    """Contrast ratio of two colours, 1 to 21, as WCAG 2.2 defines it."""
    darker, lighter = sorted((luminance(colour_a), luminance(colour_b)))
    return (lighter + 0.05) / (darker + 0.05)


def grey(colour: str) -> str:
    """Return the grey of the same luminance, as a good grey printer would print the colour."""
    light = luminance(colour)
    share = light * 12.92 if light <= 0.0031308 else 1.055 * light ** (1 / 2.4) - 0.055
    return f"#{round(share * 255):02x}" + f"{round(share * 255):02x}" * 2


def luminance(colour: str) -> float:
    """Return the relative luminance of a colour, 0 to 1."""
    # WCAG 2.2, relative luminance; 0.04045 is the threshold of sRGB, which it names in its note.
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
        for part in (value / 255 for value in rgb(colour))
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def patch(
    x: float, y: float, width: float, height: float, colour: str, hatch: int, letter: str
) -> tuple[Mark, ...]:
    """Draw a patch with its top left corner at (x, y) mm.

    `hatch` is an index from 0 (plain) below `hatch_count`. The letter, one or two, stands on
    white in the middle at 9 points or more; where it has no room it is left out. Raises
    ValueError for a patch under 6 x 4.5 mm and for an unknown hatch.
    """
    if width < SMALLEST_WIDTH or height < SMALLEST_HEIGHT:
        least = f"{SMALLEST_WIDTH:g} x {SMALLEST_HEIGHT:g} mm"
        raise ValueError(f"a patch of {width:g} x {height:g} mm is too small: {least} or more")
    if not 0 <= hatch < hatch_count:
        raise ValueError(f"no hatch {hatch}: they are numbered from 0 to {hatch_count - 1}")
    ink = max(BLACK, WHITE, key=lambda each: contrast(colour, each))
    marks: list[Mark] = [Box(x, y, width, height, fill=colour, stroke=None)]
    steps = _hatch_steps(width, height, hatch)
    if steps:
        marks.append(Path(steps, fill=ink, stroke=None, at=(x, y)))
    marks.extend(_letter_marks(_Area(x, y, width, height), letter))
    half = _OUTLINE / 2
    marks.append(Box(x + half, y + half, width - _OUTLINE, height - _OUTLINE, line_width=_OUTLINE))
    return tuple(marks)


def hatched(x: float, y: float, width: float, height: float, hatch: int) -> tuple[Mark, ...]:
    """Return a hatch in black over a rectangle of any size, without its ground and outline."""
    steps = _hatch_steps(width, height, hatch)
    return (Path(steps, fill=BLACK, stroke=None, at=(x, y)),) if steps else ()


@lru_cache(maxsize=256)
def _hatch_steps(width: float, height: float, hatch: int) -> tuple[Step, ...]:
    """Return the hatch of a patch at the origin; a sheet draws the same few patches many times."""
    area = _Area(0.0, 0.0, width, height)
    return tuple(area.cut(_HATCHES[hatch](area)))


@dataclass(frozen=True, slots=True)
class _Area:
    """The patch, which knows its middle and cuts polygons to itself."""

    x: float
    y: float
    width: float
    height: float

    @property
    def centre(self) -> Point:
        return self.x + self.width / 2, self.y + self.height / 2

    def cut(self, polygons: Iterator[Polygon]) -> Iterator[Step]:
        """Cut convex polygons to the patch and write those that are left as steps of a path."""
        for polygon in polygons:
            for axis, limit, side in (
                (0, self.x, 1),
                (0, self.x + self.width, -1),
                (1, self.y, 1),
                (1, self.y + self.height, -1),
            ):
                polygon = _cut(polygon, axis, limit, side)  # noqa: PLW2901
            if len(polygon) > 2:
                yield ("M", *polygon[0])
                yield from (("L", *point) for point in polygon[1:])
                yield ("Z",)


def _cut(polygon: Polygon, axis: int, limit: float, side: int) -> Polygon:
    """Keep what lies on one side of a line across an axis (Sutherland and Hodgman, 1974)."""
    kept: Polygon = []
    for start, end in zip(polygon, polygon[1:] + polygon[:1], strict=True):
        within = side * (start[axis] - limit), side * (end[axis] - limit)
        if within[0] >= 0:
            kept.append(start)
        if min(within) < 0 < max(within):
            share = within[0] / (within[0] - within[1])
            point = [a + share * (b - a) for a, b in zip(start, end, strict=True)]
            point[axis] = limit
            kept.append((point[0], point[1]))
    return kept


def _letter_marks(area: _Area, letter: str) -> Iterator[Mark]:
    if not letter:
        return
    wanted = area.height * _LETTER_SHARE / cap_height(1)
    for size in (min(max(wanted, NOTE), _LARGEST_LETTER), NOTE):
        height = cap_height(size) + 2 * _PADDING
        width = max(measure(letter, size, "bold") + 2 * _PADDING, height)
        if width <= area.width - 2 * _SHOWING and height <= area.height - 2 * _SHOWING:
            x, y = area.centre
            yield Box(x - width / 2, y - height / 2, width, height, fill=WHITE, line_width=0.15)
            yield label(x, y + cap_height(size) / 2, letter, size, "bold", "middle")
            return


# Hatches. Each yields convex polygons about the middle of the area, some of them beyond its edge.


def _steps(reach: float, pitch: float) -> list[float]:
    """Multiples of the pitch from -reach to +reach and one more, nought among them."""
    count = math.ceil(reach / pitch) + 1
    return [number * pitch for number in range(-count, count + 1)]


def _stroke(start: Point, end: Point, thick: float) -> Polygon:
    """Return a straight stroke, square at its ends, as a polygon."""
    across, along = end[0] - start[0], end[1] - start[1]
    half = thick / 2 / math.hypot(across, along)
    dx, dy = -along * half, across * half
    return [
        (start[0] + dx, start[1] + dy),
        (start[0] - dx, start[1] - dy),
        (end[0] - dx, end[1] - dy),
        (end[0] + dx, end[1] + dy),
    ]


def _lines(
    area: _Area, degrees: float, pitch: float, thick: float, shift: float = 0.0
) -> Iterator[Polygon]:
    """Parallel lines right across; 0 degrees lies flat, 45 rises to the right."""
    x, y = area.centre
    reach = math.hypot(area.width, area.height) / 2
    dx, dy = math.cos(math.radians(degrees)), -math.sin(math.radians(degrees))
    for step in _steps(reach, pitch):
        px, py = x - dy * (step + shift), y + dx * (step + shift)
        start, end = (px - dx * reach, py - dy * reach), (px + dx * reach, py + dy * reach)
        yield _stroke(start, end, thick)


def _lattice(area: _Area, across: float, along: float) -> Iterator[Point]:
    """Points in rows that are staggered by half a step."""
    x, y = area.centre
    for row, dy in enumerate(_steps(area.height / 2, along)):
        for dx in _steps(area.width / 2 + across, across):
            yield x + dx + across / 2 * (row % 2), y + dy


def _blots(
    area: _Area, pitch: Point, radius: float, corners: int, turn: float = 0.0
) -> Iterator[Polygon]:
    """Regular polygons on a staggered lattice; enough corners make a dot."""
    angles = [math.tau * (corner + turn) / corners for corner in range(corners)]
    for x, y in _lattice(area, *pitch):
        yield [(x + radius * math.cos(each), y + radius * math.sin(each)) for each in angles]


def _bars(
    area: _Area, pitch: Point, length: float, thick: float, *, upright: bool = False
) -> Iterator[Polygon]:
    """Short strokes on a staggered lattice."""
    half = length / 2
    for x, y in _lattice(area, *pitch):
        if upright:
            yield _stroke((x, y - half), (x, y + half), thick)
        else:
            yield _stroke((x - half, y), (x + half, y), thick)


def _zigzag(area: _Area, pitch: float, reach: float, thick: float) -> Iterator[Polygon]:
    """Rows of chevrons; their ends are upright, so that one runs into the next."""
    x, y = area.centre
    half = thick / 2
    for dy in _steps(area.height / 2 + reach, pitch):
        for number, dx in enumerate(_steps(area.width / 2, reach)):
            rise = reach / 2 if number % 2 else -reach / 2
            left, right = (x + dx, y + dy + rise), (x + dx + reach, y + dy - rise)
            yield [
                (left[0], left[1] + half),
                (left[0], left[1] - half),
                (right[0], right[1] - half),
                (right[0], right[1] + half),
            ]


def _several(
    *hatches: Callable[[_Area], Iterator[Polygon]],
) -> Callable[[_Area], Iterator[Polygon]]:
    return lambda area: (polygon for hatch in hatches for polygon in hatch(area))


# In the order in which a sheet hands them out: the first few differ the most.
_HATCHES: Final[tuple[Callable[[_Area], Iterator[Polygon]], ...]] = (
    lambda _: iter(()),
    lambda area: _lines(area, 45, 1.3, 0.28),
    lambda area: _blots(area, (1.6, 0.8), 0.32, 8, 0.5),
    lambda area: _lines(area, 90, 1.2, 0.28),
    _several(
        lambda area: _lines(area, 45, 1.5, 0.22),
        lambda area: _lines(area, -45, 1.5, 0.22),
    ),
    lambda area: _lines(area, 0, 1.1, 0.28, 0.55),
    lambda area: _lines(area, -45, 1.3, 0.28),
    lambda area: _blots(area, (1.8, 0.9), 0.9 * math.sqrt(0.5), 4, 0.5),
    lambda area: _zigzag(area, 1.3, 1.0, 0.3),
    _several(
        lambda area: _lines(area, 0, 1.3, 0.2, 0.65),
        lambda area: _lines(area, 90, 1.3, 0.2, 0.65),
    ),
    lambda area: _lines(area, 45, 2.0, 0.9),
    _several(
        lambda area: _lines(area, 0, 1.5, 0.22, 0.75),
        lambda area: _bars(area, (2.2, 1.5), 1.5, 0.22, upright=True),
    ),
    lambda area: _bars(area, (2.0, 0.8), 1.2, 0.28),
    _several(
        lambda area: _bars(area, (1.9, 0.95), 0.9, 0.25),
        lambda area: _bars(area, (1.9, 0.95), 0.9, 0.25, upright=True),
    ),
    _several(
        lambda area: _lines(area, 90, 2.2, 0.8),
        lambda area: _lines(area, 90, 2.2, 0.18, 1.1),
    ),
    lambda area: _lines(area, 0, 1.8, 0.9, 0.9),
)

hatch_count: Final = len(_HATCHES)
