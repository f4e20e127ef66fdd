"""Draws the beat gauges: slips whose lines lie as close as the picks of the cloth.

A line stands for a pick, in blocks of ten. Where picks lie closer than lines can be told apart a
line stands for several, and the slip says so.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from cards.beat_gauge import BeatGauge, Gauge
from cards.figures import INCH, plain
from layouts.drawing import Drawing, Figure, Line, Mark, Path
from layouts.paper import Frame
from layouts.sheets.page import PageFlow
from layouts.sheets.parts import INK, SOFT, Block, paragraph, stack
from layouts.sheets.strips import cut_line, true_size_words
from layouts.typeface import BODY, NOTE, cap_height, label

SLUG = "beat-gauge"

_NARROWEST = 31.0
_FIGURE = 30.0
_PAD = 2.0
# A slip of so many mm, or inches, is enough to lay on the cloth; a shorter one for less paper.
_LONGEST = {True: 100.0, False: 4 * INCH}
_SHORTEST = {True: 30.0, False: INCH}
_LEAST_PITCH = 0.5  # mm on paper, between lines that the eye tells apart (common practice)
_LINE = 0.12
_PICK, _FIVE, _TEN = 11.0, 14.0, 17.0


def draw_beat_gauge(card: BeatGauge, frame: Frame) -> Drawing:
    """Return the pages of the beat gauges."""
    flow = PageFlow(frame, card.heading, true_size_words(metric=card.figures.metric))
    words = (
        "Cut the slips out and lay one along the cloth, its lines at the picks: pick for pick "
        "should meet line for line. Picks farther apart than the lines are beaten too lightly, "
        "picks that are closer too firmly."
    )
    flow.add(paragraph(words, flow.width, BODY))
    flow.gap(2.0)
    columns = max(1, int(flow.width // _NARROWEST))
    slips = _Slips(card, flow.width / columns, 1.0 / frame.magnify)
    for start in range(0, len(card.gauges), columns):
        row = card.gauges[start : start + columns]
        if slips.least(row) > flow.room:
            flow.turn()
        flow.add(slips.row(row, flow.room))
    return flow.drawing("Beat gauge", SLUG)


class _Slips:
    """Draws slips side by side; `scale` is mm of the page to a mm of cloth."""

    def __init__(self, card: BeatGauge, breadth: float, scale: float) -> None:
        self._card = card
        self._breadth = breadth
        self._scale = scale

    def least(self, row: Sequence[Gauge]) -> float:
        """Return the height in mm of the page that a row of slips needs at least."""
        shortest = _SHORTEST[self._card.figures.metric] * self._scale
        return self._head(row) + shortest + 2 * _PAD

    def row(self, row: Sequence[Gauge], room: float) -> Block:
        """Return slips side by side, as long as `room` mm allow."""
        head = self._head(row)
        length = self._length((room - head - 2 * _PAD) / self._scale)
        height = head + length * self._scale + 2 * _PAD

        def draw(x: float, y: float) -> Iterable[Mark]:
            for place, gauge in enumerate(row):
                left = x + place * self._breadth
                marks = [*self._words(gauge).draw(left + _PAD, y + _PAD)]
                foot = y + height - _PAD
                marks += self._lines(gauge, left, foot, length)
                marks.append(cut_line(left, y, self._breadth, height))
                figures = self._card.figures
                title = f"{figures.density(gauge.per_mm)}, {gauge.state}"
                each = _in_a_line(gauge)
                said = f"a line for every {each} picks" if each > 1 else "a line for every pick"
                yield Figure(tuple(marks), title, said)

        return Block(height, draw)

    def _length(self, room: float) -> float:
        """Return how long slips are in mm of cloth: whole cm or half inches, as far as need be."""
        metric = self._card.figures.metric
        step = 10.0 if metric else INCH / 2
        least, most = _SHORTEST[metric], _LONGEST[metric]
        return min(most, max(least, math.floor(room / step + 1e-9) * step))

    def _head(self, row: Sequence[Gauge]) -> float:
        return max(self._words(gauge).height for gauge in row) + 2.0

    def _words(self, gauge: Gauge) -> Block:
        """Return the large figure of a slip and what it is for."""
        width = self._breadth - 2 * _PAD
        figures = self._card.figures
        metric = figures.metric
        value = plain(gauge.per_mm * (10 if metric else INCH))
        state = "on the loom, under tension" if gauge.state == "on the loom" else "off the loom"
        parts = [
            paragraph(value, width, _FIGURE, "bold"),
            paragraph(f"picks to the {'cm' if metric else 'inch'}", width, BODY, "bold"),
            paragraph(state, width, BODY, "bold"),
        ]
        if gauge.layers:
            parts.append(paragraph(gauge.layers, width, BODY, "bold"))
        if gauge.where:
            parts.append(paragraph(", ".join(gauge.where), width, NOTE, colour=SOFT))
        other = figures.other().density(gauge.per_mm)
        parts.append(paragraph(other, width, NOTE, colour=SOFT))
        if _in_a_line(gauge) > 1:
            parts.append(paragraph(f"a line is {_in_a_line(gauge)} picks", width, NOTE, "bold"))
        return stack(parts)

    def _lines(self, gauge: Gauge, x: float, foot: float, length: float) -> Iterable[Mark]:
        """Yield the lines of all picks within `length` mm of cloth, and the number of every ten."""
        step = _in_a_line(gauge)
        picks = math.floor(length * gauge.per_mm / step + 1e-9) * step
        strokes: dict[float, list[tuple[str, float, float]]] = {}
        for pick in range(0, picks + 1, step):
            reach = _TEN if pick % 10 == 0 else _FIVE if pick % 5 == 0 else _PICK
            y = foot - pick / gauge.per_mm * self._scale
            strokes.setdefault(reach, []).extend([("M", x, y), ("L", x + reach, y)])
        for reach, steps in strokes.items():
            width = _LINE * self._scale * (2.5 if reach == _TEN else 1.0)
            yield Path(tuple(steps), None, INK, width)
        yield from self._numbers(gauge, x, foot, picks)

    def _numbers(self, gauge: Gauge, x: float, foot: float, picks: int) -> Iterable[Mark]:
        free = 10 / gauge.per_mm * self._scale
        every = next(each for each in (1, 2, 5, 10, 20, 50) if free * each >= 3.6)
        for pick in range(10 * every, picks + 1, 10 * every):
            y = foot - pick / gauge.per_mm * self._scale
            at = y + cap_height(NOTE) / 2
            yield Line(x + _TEN, y, x + _TEN + 1.5, y, 0.3, INK)
            yield label(x + _TEN + 2.2, at, str(pick), NOTE, "bold", colour=INK)


def _in_a_line(gauge: Gauge) -> int:
    """Return for how many picks a line stands."""
    return next(each for each in (1, 5, 10, 50) if each / gauge.per_mm >= _LEAST_PITCH)
