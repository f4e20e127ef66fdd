"""The colours of a cloth as they are seen from afar: boxes of one colour, at their true places.

Where a thread is wide enough on paper every thread is drawn. Otherwise a stripe of one yarn is a
stripe on paper, from its first thread to its last, in the mean of the warp and weft that lie on its
face; a pattern within it is drawn in tiles of several threads. Stripes too narrow to be printed
are drawn together in their mean. Means are of light, not of the numbers of a colour.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cards.finished_cloth import Band
from layouts.values import rgb

Floats = NDArray[np.float64]
Numbers = NDArray[np.intp]

# On paper, in mm: a thread that is drawn, the narrowest stripe, and a tile of a pattern.
_THREAD: Final = 0.7
_STRIPE: Final = 0.3
_TILE: Final = 1.2
# A tile has so many threads at least, lest the repeat of a twill be taken for a pattern.
_THREADS: Final = 8
# So much more or less warp on the face, of the whole, is a pattern.
_PATTERN: Final = 0.12


@dataclass(frozen=True, slots=True)
class Patch:
    """A box of one colour in mm of the cloth, `y` from the end that is woven first."""

    x: float
    y: float
    width: float
    length: float
    colour: str


def patches(band: Band, colours: Sequence[str], times: float) -> list[Patch]:
    """Return a band in boxes of one colour that touch and leave nothing out.

    `colours` are those of its yarns as `#rrggbb`; it will be drawn 1 : `times`.
    """
    rows, columns = band.cells.shape
    if not rows:
        band = Band(
            band.name,
            np.ones((1, columns), dtype=np.bool_),
            band.warp,
            np.zeros((1, columns), dtype=np.intp),
            band.width,
            band.length,
        )
        rows = 1
    wide, long = band.width / columns, band.length / rows
    across = _edges(band.warp[None, :], wide / times)
    along = _edges(np.ascontiguousarray(band.weft.T), long / times)
    light = _light(band, colours, across, along)
    return _merged(light, across * wide, along * long)


def _edges(threads: Numbers, size: float) -> Numbers:
    """Return where tiles begin and end along the last axis; `size` is a thread's width on paper."""
    number = threads.shape[1]
    if size >= _THREAD:
        return np.arange(number + 1)
    changes = (threads[:, 1:] != threads[:, :-1]).any(axis=0)
    marks = [0, *(np.flatnonzero(changes) + 1).tolist(), number]
    each = max(_THREADS, round(_TILE / size))
    edges = [0]
    for start, stop in pairwise(marks):
        if (stop - start) * size < _STRIPE:
            if (stop - edges[-1]) * size >= _STRIPE:
                edges.append(stop)
            continue
        if edges[-1] != start:
            edges.append(start)
        edges.extend(range(start + each, stop - each + 1, each))
        edges.append(stop)
    if edges[-1] != number:
        edges.append(number)
    return np.array(edges)


def _light(band: Band, colours: Sequence[str], across: Numbers, along: Numbers) -> Floats:
    """Return the mean light of every tile, shape (rows, columns, 3), even within plain stripes."""
    lights = np.array([_linear(colour) for colour in colours])
    over = band.cells
    area = np.outer(np.diff(along), np.diff(across))[:, :, None]
    # How many cells of each tile show each yarn, as warp and as weft.
    shown = np.zeros((len(along) - 1, len(across) - 1, len(colours)))
    for yarn in range(len(colours)):
        seen = (over & (band.warp == yarn)[None, :]) | (~over & (band.weft == yarn))
        if seen.any():
            by_row = np.add.reduceat(seen, along[:-1], axis=0, dtype=np.int64)
            shown[:, :, yarn] = np.add.reduceat(by_row, across[:-1], axis=1)
    share = shown / area
    made: Floats = _even(share, band, across, along) @ lights
    return made


def _even(share: Floats, band: Band, across: Numbers, along: Numbers) -> Floats:
    """Return shares in which tiles of one stripe are alike, unless they make a pattern."""
    columns = _stripes(band.warp[None, :], across)
    rows = _stripes(np.ascontiguousarray(band.weft.T), along)
    made = share.copy()
    for top, bottom in pairwise(rows):
        for left, right in pairwise(columns):
            part = share[top:bottom, left:right]
            single = (np.diff(across[left : right + 1]).max() == 1) or (
                np.diff(along[top : bottom + 1]).max() == 1
            )
            if single or float(np.ptp(part, axis=(0, 1)).max()) > _PATTERN:
                continue
            weight = np.outer(np.diff(along[top : bottom + 1]), np.diff(across[left : right + 1]))
            made[top:bottom, left:right] = np.average(
                part.reshape(-1, part.shape[2]), axis=0, weights=weight.ravel()
            )
    return made


def _stripes(threads: Numbers, edges: Numbers) -> list[int]:
    """Return the tiles at which another stripe begins, and their number."""
    inner = edges[1:-1]
    changes = (threads[:, inner] != threads[:, inner - 1]).any(axis=0)
    return [0, *(np.flatnonzero(changes) + 1).tolist(), len(edges) - 1]


def _merged(light: Floats, across: Floats, along: Floats) -> list[Patch]:
    """Return tiles of one colour as few boxes: first along a row, then over rows that are alike."""
    colours = [[_written(each) for each in row] for row in light]
    found: list[Patch] = []
    start = 0
    for row in range(1, len(colours) + 1):
        if row < len(colours) and colours[row] == colours[start]:
            continue
        y, length = float(along[start]), float(along[row] - along[start])
        left = 0
        for column in range(1, len(colours[start]) + 1):
            if column < len(colours[start]) and colours[start][column] == colours[start][left]:
                continue
            x, width = float(across[left]), float(across[column] - across[left])
            found.append(Patch(x, y, width, length, colours[start][left]))
            left = column
        start = row
    return found


def _linear(colour: str) -> list[float]:
    """Return the light of a colour by the curve of sRGB (IEC 61966-2-1)."""
    parts = (part / 255 for part in rgb(colour))
    return [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]


def _written(light: Floats) -> str:
    """Return the colour of a light."""
    parts = [
        part * 12.92 if part <= 0.0031308 else 1.055 * part ** (1 / 2.4) - 0.055
        for part in light.tolist()
    ]
    return "#" + "".join(f"{min(255, max(0, round(part * 255))):02x}" for part in parts)
