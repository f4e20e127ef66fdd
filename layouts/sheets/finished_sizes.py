"""Draws finished sizes to one common scale: each cloth in its main yarn, with folds and fringes.

The scale is one that a ruler has, and never finer than lets every cloth stand in its column.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from cards.compared import Finished
from cards.figures import INCH, Figures
from layouts.drawing import WHITE, Box, Figure, Line, Mark
from layouts.patch import SMALLEST_HEIGHT, SMALLEST_WIDTH
from layouts.sheets.parts import INK, SOFT, Block, baseline, leading, paragraph, stack, yarn_patch
from layouts.typeface import BODY, NOTE, label, measure

SCALES: Final = (1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80, 100, 125, 150, 200,
                  250, 300, 400, 500, 600, 800, 1000, 1250, 1500, 2000, 2500, 5000)  # fmt: skip
_METRIC_BARS: Final = (20_000.0, 10_000.0, 5000.0, 2000.0, 1000.0, 500.0, 200.0, 100.0, 50.0, 20.0)
_INCH_BARS: Final = tuple(INCH * each for each in (600, 300, 120, 60, 36, 24, 12, 6, 4, 2, 1))
_AROUND: Final = 1.6  # between a cloth and the figures along its sides
_THREADS: Final = 1.3  # between the lines that stand for a fringe
_FOLD: Final = (1.6, 1.1)


@dataclass(frozen=True, slots=True)
class Scale:
    """A scale of 1 to `times`."""

    times: int

    def on_paper(self, mm: float) -> float:
        """Return how long mm of cloth are on paper."""
        return mm / self.times


def scale_for(sizes: Iterable[Finished], width: float, height: float, figures: Figures) -> Scale:
    """Return the largest scale at which every cloth and its figures fit into `width` x `height`."""
    made = list(sizes)
    for times in SCALES:
        scale = Scale(times)
        if all(
            scale.on_paper(each.width) <= width - _beside(each, figures)
            and scale.on_paper(each.length + 2 * each.fringe) <= height
            for each in made
        ):
            return scale
    return Scale(SCALES[-1])


def tallest(sizes: Iterable[Finished], scale: Scale) -> float:
    """Return the height in mm of the tallest cloth on paper, with its fringes."""
    return max((scale.on_paper(each.length + 2 * each.fringe) for each in sizes), default=0.0)


def size_block(
    each: Finished, scale: Scale, height: float, figures: Figures, under: Sequence[str]
) -> Block:
    """Return a cloth that stands on the floor of a block, its size along both sides.

    `height` is that of the tallest; `under` are lines of words below it.
    """
    whole = height + _AROUND + (1 + len(under)) * leading(NOTE)

    def draw(x: float, y: float) -> Iterable[Mark]:
        words = f"{figures.width(each.width)} wide, {figures.width(each.length)} long"
        marks = tuple(_cloth(each, scale, x, y + height, figures, under))
        yield Figure(marks, f"Finished size drawn 1 : {scale.times}", words)

    return Block(whole, draw)


def _beside(each: Finished, figures: Figures) -> float:
    """Return the room that the length takes beside a cloth."""
    number, unit = _parted(figures.width(each.length))
    return _AROUND + max(measure(number, NOTE), measure(unit, NOTE))


def _parted(figure: str) -> tuple[str, str]:
    number, unit = figure.rsplit(" ", 1)
    return number, unit


def _cloth(
    each: Finished, scale: Scale, x: float, floor: float, figures: Figures, under: Sequence[str]
) -> Iterator[Mark]:
    width, length = scale.on_paper(each.width), scale.on_paper(each.length)
    fringe = scale.on_paper(each.fringe)
    top = floor - fringe - length
    yield from _fringes(x, top, width, length, fringe)
    inner = [fold for fold in each.folds if 0.0 < fold < each.width]
    for left, right in pairwise([0.0, *inner, each.width]):
        yield from _panel(each, x + scale.on_paper(left), top, scale.on_paper(right - left), length)
    for fold in each.folds:
        at = x + scale.on_paper(fold)
        yield Line(at, top, at, top + length, 1.1, WHITE)
        yield Line(at, top, at, top + length, 0.5, INK, _FOLD)
    number, unit = _parted(figures.width(each.length))
    middle = max(top + length / 2, floor - length / 2) - leading(NOTE)
    for place, text in enumerate((number, unit)):
        at = middle + place * leading(NOTE) + baseline(NOTE)
        yield label(x + width + _AROUND, at, text, NOTE, colour=INK)
    at = floor + _AROUND + baseline(NOTE)
    yield label(x, at, figures.width(each.width), NOTE, colour=INK)
    for place, text in enumerate(under, start=1):
        yield label(x, at + place * leading(NOTE), text, NOTE, colour=SOFT)


def _panel(each: Finished, x: float, y: float, width: float, height: float) -> Iterator[Mark]:
    """Yield a cloth from fold to fold in its yarn, with its letter where there is room."""
    if width < SMALLEST_WIDTH or height < SMALLEST_HEIGHT:
        yield Box(x, y, width, height, each.yarn.colour, INK, 0.2)
    else:
        yield from yarn_patch(each.yarn, x, y, width, height)


def _fringes(x: float, top: float, width: float, length: float, fringe: float) -> Iterator[Mark]:
    if not fringe:
        return
    number = max(2, round(width / _THREADS))
    for thread in range(number):
        at = x + 0.2 + (width - 0.4) * thread / (number - 1)
        yield Line(at, top - fringe, at, top, 0.25, SOFT)
        yield Line(at, top + length, at, top + length + fringe, 0.25, SOFT)


def scale_words(scale: Scale, width: float, figures: Figures, *, folds: bool) -> Block:
    """Return the words that say the scale, with a bar of a round length that shows it."""
    words = [paragraph(f"Finished sizes, all drawn 1 : {scale.times}", width, BODY)]
    if folds:
        words.append(
            paragraph("Dashed: where it lies folded on the loom", width, NOTE, colour=SOFT)
        )
    return stack([*words, scale_bar(scale, width, figures)], 1.0)


def scale_bar(scale: Scale, width: float, figures: Figures) -> Block:
    """Return a bar of a round length that shows the scale, not wider than `width` mm."""
    bars: Sequence[float] = _METRIC_BARS if figures.metric else _INCH_BARS
    real = next((each for each in bars if scale.on_paper(each) <= width - 4.0), bars[-1])
    length = scale.on_paper(real)
    words = f"{real / 10:g} cm" if figures.metric else f"{real / INCH:g} in"

    def draw(x: float, y: float) -> Iterable[Mark]:
        line = y + leading(NOTE) + 1.6
        yield label(x, y + baseline(NOTE), words, NOTE, colour=INK)
        yield Line(x, line, x + length, line, 0.4, INK)
        for at in (x, x + length):
            yield Line(at, line - 1.2, at, line + 1.2, 0.4, INK)

    return Block(leading(NOTE) + 3.2, draw)
