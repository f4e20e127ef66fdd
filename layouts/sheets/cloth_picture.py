"""Draws finished cloths to one scale and in colour, with their sizes along their sides.

The end that is woven first is at the bottom. Hems, which are turned under, are outlined beyond the
fold; a fringe is drawn thread by thread, far fewer than there are. Letters tell the yarns of
stripes that have room for them, so that the picture can be read in grey.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np

from cards.figures import Figures
from cards.finished_cloth import Band, FinishedCloth
from layouts.cloth_colours import Patch, patches
from layouts.drawing import WHITE, Box, Figure, Line, Mark, Path, Step
from layouts.sheets.finished_sizes import SCALES, Scale
from layouts.sheets.parts import INK, SOFT, Block, baseline, leading
from layouts.typeface import NOTE, cap_height, label, measure

_DASH: Final = (1.2, 0.9)
_FOLD: Final = (2.4, 1.2, 0.5, 1.2)
_THREADS: Final = 1.4  # between the lines that stand for a fringe
_AROUND: Final = 1.6  # between a cloth and what is written beside it
_ARROW: Final = 1.0
_LETTER: Final = 3.2  # room that a letter needs
_APART: Final = 9.0


@dataclass(frozen=True, slots=True)
class _Shown:
    """A cloth at its scale, and what its figures need around it, in mm of paper."""

    cloth: FinishedCloth
    scale: Scale
    figures: Figures

    @property
    def width(self) -> float:
        return self.scale.on_paper(self.cloth.width)

    @property
    def length(self) -> float:
        return self.scale.on_paper(self.cloth.length)

    @property
    def end(self) -> float:
        """What is drawn beyond each end of the cloth: hem or fringe."""
        return self.scale.on_paper(max(self.cloth.hem, self.cloth.fringe))

    @property
    def left(self) -> float:
        return _LETTER + _AROUND

    @property
    def beside(self) -> list[str]:
        """The length, line by line."""
        return [*_two(self.figures, self.cloth.length), "long"]

    @property
    def right(self) -> float:
        words = [*self.beside, *self.ends]
        return 2 * _AROUND + _ARROW + max(measure(text, NOTE) for text in words)

    @property
    def ends(self) -> list[str]:
        """The words for hem or fringe, beside the upper end."""
        found = []
        if self.cloth.hem:
            found += ["hem", self.figures.width(self.cloth.hem)]
        if self.cloth.fringe:
            found += ["fringe", self.figures.width(self.cloth.fringe)]
        return found

    @property
    def under(self) -> list[str]:
        """The words under the cloth: its width, and which of several it is."""
        first, second = _two(self.figures, self.cloth.width)
        wide = f"{first} {second} wide"
        flat = ["a tube, lying flat"] if self.cloth.tube else []
        name = self.cloth.name
        number = self.cloth.number
        if number > 1:
            name = f"{name}: {number} alike" if name else f"{number} alike"
        return [wide, *flat, *([name] if name else [])]

    @property
    def first(self) -> float:
        """Where the words of the length begin, under those of hem or fringe."""
        middle = _LETTER + self.end + self.length / 2
        above = _LETTER + len(self.ends) * leading(NOTE)
        return max(middle - len(self.beside) * leading(NOTE) / 2, above)

    @property
    def floor(self) -> float:
        """Where the dimension line of the width lies."""
        words = self.first + len(self.beside) * leading(NOTE)
        return max(_LETTER + 2 * self.end + self.length, words) + 2 * _AROUND

    @property
    def whole(self) -> tuple[float, float]:
        """Width and height with all figures."""
        below = max(measure(text, NOTE) for text in self.under)
        wide = self.left + max(self.width, below) + self.right
        return wide, self.floor + _ARROW + len(self.under) * leading(NOTE)


def _two(figures: Figures, mm: float) -> tuple[str, str]:
    """Return a size in both units, the other in brackets."""
    return figures.width(mm), f"({figures.other().width(mm)})"


def picture_scale(
    cloths: Sequence[FinishedCloth], width: float, height: float, figures: Figures
) -> Scale | None:
    """Return the largest scale at which all cloths stand in rows within `width` x `height` mm.

    It is None where not even the smallest has room for all their figures.
    """
    for times in SCALES:
        scale = Scale(times)
        rows = _rows([_Shown(cloth, scale, figures) for cloth in cloths], width)
        high = sum(max(each.whole[1] for each in row) for row in rows) + _APART * (len(rows) - 1)
        if high <= height and all(each.whole[0] <= width for row in rows for each in row):
            return scale
    return None


def _rows(shown: Sequence[_Shown], width: float) -> list[list[_Shown]]:
    rows: list[list[_Shown]] = [[]]
    used = 0.0
    for each in shown:
        wide = each.whole[0] + (_APART if rows[-1] else 0.0)
        if rows[-1] and used + wide > width:
            rows.append([])
            used, wide = 0.0, each.whole[0]
        rows[-1].append(each)
        used += wide
    return rows


def cloth_picture(
    cloths: Sequence[FinishedCloth], scale: Scale, width: float, figures: Figures
) -> Block:
    """Return finished cloths side by side, in as many rows as they need, each row centred."""
    rows = _rows([_Shown(cloth, scale, figures) for cloth in cloths], width)
    heights = [max(each.whole[1] for each in row) for row in rows]

    def draw(x: float, y: float) -> Iterable[Mark]:
        for row, height in zip(rows, heights, strict=True):
            wide = sum(each.whole[0] for each in row) + _APART * (len(row) - 1)
            left = x + (width - wide) / 2
            for each in row:
                # Cloths of a row stand on one floor.
                yield _figure(each, left, y + height - each.whole[1])
                left += each.whole[0] + _APART
            y += height + _APART

    return Block(sum(heights) + _APART * (len(rows) - 1), draw)


def _figure(shown: _Shown, x: float, y: float) -> Figure:
    cloth, figures = shown.cloth, shown.figures
    words = [
        f"{figures.both('width', cloth.width)} wide, {figures.both('width', cloth.length)} long",
        f"{cloth.number} alike" if cloth.number > 1 else "",
        f"hems of {figures.width(cloth.hem)}" if cloth.hem else "",
        f"fringes of {figures.width(cloth.fringe)}" if cloth.fringe else "",
        f"yarns: {', '.join(yarn.name for yarn in cloth.yarns)}",
    ]
    title = f"The finished cloth {cloth.name}".rstrip()
    return Figure(
        tuple(_marks(shown, x, y)),
        f"{title}, drawn 1 : {shown.scale.times}",
        "; ".join(each for each in words if each),
    )


def _marks(shown: _Shown, x: float, y: float) -> Iterator[Mark]:
    left = x + shown.left
    top = y + _LETTER + shown.end
    bottom = top + shown.length
    yield from _ends(shown, left, top, bottom)
    yield from _cloth(shown, left, bottom)
    yield from _letters(shown, left, top, bottom)
    yield from _sizes(shown, left, y)


def _cloth(shown: _Shown, left: float, bottom: float) -> Iterator[Mark]:
    """Yield the face of the cloth between its hems, from the woven end at the `bottom` up."""
    cloth, paper = shown.cloth, shown.scale.on_paper
    colours = [yarn.colour for yarn in cloth.yarns]
    yield Box(left, bottom - shown.length, shown.width, shown.length, WHITE, None)
    by_colour: dict[str, list[Step]] = {}
    start = -cloth.hem
    for band in cloth.bands:
        inset = (cloth.width - band.width) / 2
        for patch in patches(band, colours, shown.scale.times):
            kept = _kept(patch, start, cloth.length)
            if kept is not None:
                x, y = left + paper(inset + kept.x), bottom - paper(kept.y + kept.length)
                box = _rectangle(x, y, paper(kept.width), paper(kept.length))
                by_colour.setdefault(kept.colour, []).extend(box)
        start += band.length
    for colour, steps in by_colour.items():
        yield Path(tuple(steps), fill=colour, stroke=None)
    for fold in cloth.folds:
        at = left + paper(fold)
        yield Line(at, bottom - shown.length, at, bottom, 0.9, WHITE)
        yield Line(at, bottom - shown.length, at, bottom, 0.35, INK, _FOLD)
    yield Box(left, bottom - shown.length, shown.width, shown.length, None, INK, 0.25)


def _kept(patch: Patch, start: float, length: float) -> Patch | None:
    """Return what is left of a patch between the hems; `start` is where its band begins."""
    low = max(0.0, start + patch.y)
    high = min(length, start + patch.y + patch.length)
    if high - low <= 1e-9 * length:
        return None
    return Patch(patch.x, low, patch.width, high - low, patch.colour)


def _rectangle(x: float, y: float, width: float, height: float) -> list[Step]:
    return [
        ("M", x, y),
        ("L", x + width, y),
        ("L", x + width, y + height),
        ("L", x, y + height),
        ("Z",),
    ]


def _ends(shown: _Shown, left: float, top: float, bottom: float) -> Iterator[Mark]:
    """Yield the hems, outlined where they lie before they are turned, or the fringes."""
    cloth, paper = shown.cloth, shown.scale.on_paper
    hem, fringe = paper(cloth.hem), paper(cloth.fringe)
    right = left + shown.width
    for edge, way in ((top, -1.0), (bottom, 1.0)):
        if hem:
            outline = (
                ("M", left, edge),
                ("L", left, edge + way * hem),
                ("L", right, edge + way * hem),
                ("L", right, edge),
            )
            yield Path(outline, stroke=SOFT, line_width=0.2, dash=_DASH)
        if fringe:
            number = max(2, round(shown.width / _THREADS))
            for thread in range(number):
                at = left + 0.2 + (shown.width - 0.4) * thread / (number - 1)
                yield Line(at, edge, at, edge + way * fringe, 0.25, SOFT)


def _letters(shown: _Shown, left: float, top: float, bottom: float) -> Iterator[Mark]:
    """Yield the letters of warp stripes above the cloth, and of weft stripes at its left."""
    cloth, paper = shown.cloth, shown.scale.on_paper
    size = NOTE
    longest = max(cloth.bands, key=lambda band: band.length)
    inset = (cloth.width - longest.width) / 2
    at = top - shown.end - _AROUND / 2
    for yarn, start, stop in _runs(longest.warp, longest.width):
        letter = cloth.yarns[yarn].letter
        if paper(stop - start) >= measure(letter, size, "bold") + 0.8:
            middle = left + paper(inset + (start + stop) / 2)
            yield label(middle, at, letter, size, "bold", "middle", SOFT)
    for yarn, start, stop in _weft_runs(cloth):
        letter = cloth.yarns[yarn].letter
        if paper(stop - start) >= leading(size):
            middle = bottom - paper((start + stop) / 2) + cap_height(size) / 2
            yield label(left - _AROUND, middle, letter, size, "bold", "end", SOFT)


def _runs(threads: np.ndarray, length: float) -> list[tuple[int, float, float]]:
    """Return runs of one yarn: which, and from where to where in mm."""
    marks = [0, *(np.flatnonzero(np.diff(threads)) + 1).tolist(), len(threads)]
    each = length / len(threads)
    return [(int(threads[start]), start * each, stop * each) for start, stop in pairwise(marks)]


def _weft_runs(cloth: FinishedCloth) -> list[tuple[int, float, float]]:
    """Return runs of weft at the left edge between the hems, joined over sections."""
    found: list[tuple[int, float, float]] = []
    start = -cloth.hem
    for band in cloth.bands:
        for yarn, first, last in _band_runs(band):
            low, high = max(0.0, start + first), min(cloth.length, start + last)
            if high <= low:
                continue
            if found and found[-1][0] == yarn:
                found[-1] = (yarn, found[-1][1], high)
            else:
                found.append((yarn, low, high))
        start += band.length
    return found


def _band_runs(band: Band) -> list[tuple[int, float, float]]:
    return _runs(band.weft[:, 0], band.length) if len(band.weft) else []


def _sizes(shown: _Shown, left: float, y: float) -> Iterator[Mark]:
    """Yield dimension lines with width and length, and the size of hem or fringe."""
    right, below = left + shown.width, y + shown.floor
    yield from _dimension(left, below, right, below)
    for place, text in enumerate(shown.under):
        at = below + _ARROW + place * leading(NOTE) + baseline(NOTE)
        yield label(left, at, text, NOTE, "regular", "start", INK if place == 0 else SOFT)
    beside, top = right + _AROUND, y + _LETTER + shown.end
    yield from _dimension(beside, top, beside, top + shown.length)
    start = beside + _ARROW + _AROUND / 2
    for place, text in enumerate(shown.beside):
        at = y + shown.first + place * leading(NOTE) + baseline(NOTE)
        yield label(start, at, text, NOTE, colour=INK)
    for place, text in enumerate(shown.ends):
        at = y + _LETTER + place * leading(NOTE) + baseline(NOTE)
        yield label(start, at, text, NOTE, colour=SOFT)


def _dimension(x1: float, y1: float, x2: float, y2: float) -> Iterator[Mark]:
    """Yield a dimension line with a stroke across each end."""
    yield Line(x1, y1, x2, y2, 0.2, INK)
    across, along = (0.0, _ARROW) if y1 == y2 else (_ARROW, 0.0)
    for x, y in ((x1, y1), (x2, y2)):
        yield Line(x - across, y - along, x + across, y + along, 0.2, INK)
