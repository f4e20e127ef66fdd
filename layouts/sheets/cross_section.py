"""Draws a cross-section: ends as the marks of their layers, and the weft of every pick as a line.

All ends are drawn where there is room, else those at both edges with a break between them, always
in their true order. Picks stand one below another, and go on over pages.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np

from cards.cloth_words import layer_letter
from cards.cross_section import CrossSection, SectionPick
from layouts.drawing import Figure, Line, Mark
from layouts.sheets.layer_mark import layer_mark, lettered_marks, marks_width
from layouts.sheets.parts import INK, SOFT, Block, baseline, leading, paragraph, pictured, stack
from layouts.sheets.section_turns import SideRoom, draw_turns, room_for
from layouts.sheets.weft_line import arrow, yarn_line
from layouts.typeface import BODY, FIGURE, LABEL, label, measure

# From here on the words stand beside the picture, on narrower paper above it.
_BESIDE: Final = 150.0
_WORDS: Final = 44.0
NO_BREAK: Final = "\N{NO-BREAK SPACE}"
_BREAK: Final = 11.0
_EDGE: Final = 6.0  # from the outermost end to where the weft turns
_LEAST_OWN: Final = 4.6  # between neighbouring ends of a layer, or the line cannot pass them
_MOST_PITCH: Final = 6.5
_HEADROOM: Final = 2.5  # for the way that comes from the pick before
_FOOTROOM: Final = 3.5  # for the way to the next one, and its name


@dataclass(frozen=True, slots=True)
class Scale:
    """Sizes in mm by how many layers there are: what many of them need, few can do with more."""

    pitch: float
    layer: float
    swing: float
    mark: float
    yarn: float
    between: float  # one pick and the next


def scales_for(layers: int) -> tuple[Scale, Scale]:
    """Return the sizes for so many layers: where there is plenty of room, and the usual ones."""
    if layers <= 2:
        return (
            Scale(pitch=5.2, layer=11.5, swing=3.2, mark=2.9, yarn=1.0, between=6.5),
            Scale(pitch=4.2, layer=9.0, swing=2.5, mark=2.3, yarn=0.8, between=4.2),
        )
    if layers <= 4:
        return (
            Scale(pitch=3.4, layer=9.0, swing=2.7, mark=2.5, yarn=0.85, between=5.0),
            Scale(pitch=3.0, layer=7.6, swing=2.4, mark=2.2, yarn=0.75, between=3.8),
        )
    if layers <= 8:
        usual = Scale(pitch=1.9, layer=6.4, swing=2.1, mark=2.0, yarn=0.65, between=3.8)
    else:
        usual = Scale(pitch=1.5, layer=3.4, swing=1.3, mark=1.5, yarn=0.5, between=3.0)
    return usual, usual


@dataclass(frozen=True, slots=True)
class Ends:
    """The ends that are drawn: their columns from the left, where each stands, where a break is."""

    columns: tuple[int, ...]
    xs: tuple[float, ...]
    gap: tuple[float, float] | None

    @property
    def drawn(self) -> int:
        """How many ends are drawn at each side of the break, or in all."""
        return len(self.columns) // 2 if self.gap else len(self.columns)


def place_ends(section: CrossSection, width: float, scale: Scale) -> Ends:
    """Return the ends that have room on `width` mm, from the left edge of that width on."""
    number = len(section.rows)
    least = _LEAST_OWN / _least_step(section)
    pitch = max(scale.pitch, least)
    if (number - 1) * least <= width:
        wide = min(_MOST_PITCH, width / max(1, number - 1))
        start = (width - (number - 1) * wide) / 2
        return Ends(tuple(range(number)), tuple(start + wide * at for at in range(number)), None)
    each = max(2, int((width - _BREAK) / 2 / pitch) + 1)
    wide = (width - _BREAK) / 2 / (each - 1)
    left = [wide * at for at in range(each)]
    right = [width - wide * at for at in reversed(range(each))]
    columns = (*range(each), *range(number - each, number))
    return Ends(columns, (*left, *right), (left[-1], right[0]))


def _least_step(section: CrossSection) -> int:
    """Return how many columns lie between the nearest ends of one layer."""
    steps = [
        int(np.diff(np.flatnonzero(section.rows == layer)).min(initial=len(section.rows)))
        for layer in range(section.layers)
    ]
    return max(1, min(steps))


@dataclass(frozen=True, slots=True)
class _Plan:
    """How the picks of one column are laid out: what stands where, all in mm."""

    section: CrossSection
    scale: Scale
    width: float
    words: float  # width of the words beside the picture, 0 where they stand above it
    sides: SideRoom
    ends: Ends
    above: float  # height of the words above the picture
    pitch: float  # from one pick to the next

    @property
    def left(self) -> float:
        """Where the weft turns at the left."""
        return self.words + self.sides.left

    @property
    def first(self) -> float:
        """Where the leftmost end stands."""
        return self.left + _EDGE

    @property
    def right(self) -> float:
        """Where the weft turns at the right."""
        return self.width - self.sides.right

    def fit(self, room: float) -> int:
        """Return how many picks stand one below another in `room` mm, none if there is no room."""
        return max(0, int((room - _HEADROOM - _FOOTROOM) / self.pitch))

    def row(self, pick: int, layer: int) -> float:
        """Return the height of a layer in the picture of the pick in that place of the column."""
        top = _HEADROOM + pick * self.pitch + self.above + self.scale.swing + self.scale.yarn
        return top + layer * self.scale.layer


def section_blocks(
    section: CrossSection, width: float, first_room: float, room: float, follows: float = 0.0
) -> list[Block]:
    """Return the picks of a cross-section as blocks, one a page.

    The first is not higher than `first_room` mm if two picks go into that, the others than `room`.
    It is drawn large if it then still fits, but not so that what `follows` it, so many mm high,
    must go to the next page for that.
    """
    picks = range(len(section.picks))
    large, usual = scales_for(section.layers)
    one, small = (_plan(section, width, scale) for scale in (large, usual))
    both_fit = len(picks) <= small.fit(first_room - follows)
    if len(picks) > one.fit(first_room - (follows if both_fit else 0.0)):
        one = small
    parts = _pages(len(picks), one.fit(first_room), one.fit(room))
    return [_column(one, part) for part in parts]


def one_column(section: CrossSection, width: float) -> float:
    """Return the height in mm of all picks one below another, in the usual sizes."""
    plan = _plan(section, width, scales_for(section.layers)[1])
    return _HEADROOM + len(section.picks) * plan.pitch + _FOOTROOM


def least_height(section: CrossSection) -> float:
    """Return a height in mm in which at least two picks or all of them stand."""
    scale = scales_for(section.layers)[1]
    picture = (section.layers - 1) * scale.layer + 2 * (scale.swing + scale.yarn)
    one = picture + scale.between + leading(FIGURE) + leading(BODY)
    return _HEADROOM + min(2, len(section.picks)) * one


def drawn_at_each_side(section: CrossSection, width: float) -> int:
    """Return how many ends are drawn at each side at most, 0 if all are drawn."""
    plan = _plan(section, width, scales_for(section.layers)[1])
    return plan.ends.drawn if plan.ends.gap else 0


def _pages(picks: int, first: int, most: int) -> list[range]:
    """Return picks in parts, the first of at most `first`, the others of at most `most`, even."""
    if first < min(2, picks):
        first = max(1, most)
    if picks <= first:
        return [range(picks)]
    parts = -(-(picks - first) // max(1, most))
    marks = [first + (picks - first) * part // parts for part in range(parts + 1)]
    return [range(first), *(range(start, stop) for start, stop in pairwise(marks))]


def _plan(section: CrossSection, width: float, scale: Scale) -> _Plan:
    words = _WORDS if width >= _BESIDE else 0.0
    sides = room_for(section)
    across = width - words - sides.left - sides.right - 2 * _EDGE
    picture = (section.layers - 1) * scale.layer + 2 * (scale.swing + scale.yarn)
    # Above the picture words keep to its width: at the sides stand those of the turns.
    told_width = words or width - sides.left - sides.right
    told = max(_words(section, pick, told_width).height for pick in section.picks)
    ends = place_ends(section, across, scale)
    above = 0.0 if words else told
    pitch = (max(picture, told) if words else told + picture) + scale.between
    return _Plan(section, scale, width, words, sides, ends, above, pitch)


def _column(plan: _Plan, picks: range) -> Block:
    """Return the picks of one column."""

    def draw(x: float, y: float) -> Iterable[Mark]:
        for place, pick in enumerate(picks):
            yield _pick_figure(plan, pick, place, x, y)
        turns = draw_turns(
            plan.section,
            picks,
            lambda pick: y + plan.row(pick - picks.start, plan.section.picks[pick].layer),
            (x + plan.left, x + plan.right),
        )
        yield from pictured(turns, "Where the weft goes at the sides")

    return Block(_HEADROOM + len(picks) * plan.pitch + _FOOTROOM, draw)


def _pick_figure(plan: _Plan, number: int, place: int, x: float, y: float) -> Figure:
    pick = plan.section.picks[number]
    layer = _lanes(plan.section, pick.layer)
    letters = "+".join(layer_letter(lane) for lane in layer)
    top = y + _HEADROOM + place * plan.pitch
    words = _words(plan.section, pick, plan.words or plan.right - plan.left)
    start = x if plan.words else x + plan.left
    marks = [*words.draw(start, top), *_picture(plan, number, place, x, y)]
    side = "right" if pick.from_right else "left"
    return Figure(
        tuple(marks),
        f"Pick {number + 1}: layer {letters}",
        f"Raise {_listed(pick.lift)}; shuttle {pick.shuttle} from the {side}",
    )


def _picture(plan: _Plan, number: int, place: int, x: float, y: float) -> Iterable[Mark]:
    """Yield the weft of a pick, then the ends of all layers, then the break."""
    section, scale, ends = plan.section, plan.scale, plan.ends
    pick = section.picks[number]
    raised = section.raised[number]
    middle = y + plan.row(place, pick.layer)
    across = [
        (x + plan.first + at, middle + (scale.swing if raised[column] else -scale.swing))
        for column, at in zip(ends.columns, ends.xs, strict=True)
        if section.rows[column] == pick.layer
    ]
    start, stop = x + plan.left, x + plan.right
    if ends.gap is None:
        yield from yarn_line(
            [(start, middle), *across, (stop, middle)], scale.yarn, pick.yarn.colour
        )
    else:
        before, after = (x + plan.first + at for at in ends.gap)
        near, far = before + _BREAK / 3, after - _BREAK / 3
        left = [point for point in across if point[0] <= before]
        right = [point for point in across if point[0] >= after]
        yield from yarn_line([(start, middle), *left, (near, middle)], scale.yarn, pick.yarn.colour)
        yield from yarn_line([(far, middle), *right, (stop, middle)], scale.yarn, pick.yarn.colour)
        yield from _break(plan, place, (near + far) / 2, y)
    for column, at in zip(ends.columns, ends.xs, strict=True):
        height = y + plan.row(place, int(section.rows[column]))
        yield from layer_mark(int(section.lanes[column]), x + plan.first + at, height, scale.mark)
    head = scale.yarn + 1.5
    tip = start - 0.2 if pick.from_right else stop + 0.2
    yield arrow(tip, middle, -1 if pick.from_right else 1, head)


def _break(plan: _Plan, place: int, x: float, y: float) -> Iterable[Mark]:
    """Yield the two strokes that stand for the ends that are not drawn."""
    half = plan.scale.swing
    top = y + plan.row(place, 0) - half
    bottom = y + plan.row(place, plan.section.layers - 1) + half
    for shift in (-0.7, 0.7):
        yield Line(x + shift + 0.7, top, x + shift - 0.7, bottom, 0.2, SOFT)


def _words(section: CrossSection, pick: SectionPick, width: float) -> Block:
    """Return number, layer, lift and shuttle of a pick: beside its picture, or in a line above."""
    number = section.picks.index(pick) + 1
    lanes = _lanes(section, pick.layer)
    lift = f"raise {_listed(pick.lift)}"
    shuttle = f"shuttle {pick.shuttle}, {pick.yarn.letter}".replace(" ", NO_BREAK)
    indent = measure("00", FIGURE, "bold") + 2.0
    marks = marks_width(lanes, 2.3)
    if width > _WORDS:
        rest = f"{lift}  {shuttle}"
        line = paragraph(rest, width - indent - marks - 2.0, BODY)

        def draw_line(x: float, y: float) -> Iterable[Mark]:
            at = y + baseline(FIGURE)
            yield label(x, at, str(number), FIGURE, "bold", colour=INK)
            yield from lettered_marks(lanes, x + indent, at, 2.3)
            yield from line.draw(x + indent + marks + 2.0, at - baseline(BODY))

        more = max(0.0, line.height - leading(BODY))
        return Block(leading(FIGURE) + more, draw_line)
    told = stack([paragraph(text, width - indent - 2.0, BODY) for text in (lift, shuttle)])

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield label(x, y + baseline(FIGURE), str(number), FIGURE, "bold", colour=INK)
        yield from lettered_marks(lanes, x + indent, y + baseline(LABEL) + 0.8, 2.3)
        yield from told.draw(x + indent, y + leading(LABEL) + 1.0)

    return Block(leading(LABEL) + 1.0 + told.height, draw)


def _lanes(section: CrossSection, layer: int) -> list[int]:
    return sorted(set(section.lanes[section.rows == layer].tolist()))


def _listed(shafts: Sequence[int]) -> str:
    return " ".join(str(shaft) for shaft in shafts) or "none"
