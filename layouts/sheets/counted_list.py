"""Draws a counted list: lines to work through, with their brackets, boxes and running totals."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

from cards.counted import Bracket, CountedList, Line
from layouts.drawing import Figure, Mark, Part
from layouts.paper import PaperTooSmall
from layouts.sheets.across import Across
from layouts.sheets.brackets import (
    ARM,
    Beside,
    Tally,
    bracket_u,
    draw_bracket,
    inner_brackets,
    times,
    times_width,
)
from layouts.sheets.page import PageFlow
from layouts.sheets.parts import (
    BOX,
    HAIR,
    HAIRLINE,
    INK,
    SOFT,
    Block,
    baseline,
    leading,
    rule,
    stack,
    tick_box,
)
from layouts.typeface import BODY, FIGURE, LABEL, cap_height, label, measure

T = TypeVar("T")

NUMBER_WIDTH = 7.0
SO_FAR_WIDTH = 16.0
_BETWEEN_HEADS = 4.0

# A list that no page holds begins on the page where it stands if so much of a page is left.
_WORTH_BEGINNING = 0.3


@dataclass(frozen=True, slots=True)
class LineStyle(Generic[T]):
    """How the lines of one kind of list are drawn.

    `lead` is the width in mm that `draw` has for what a line says, `height` the height of a line.
    `draw(line, x, y)` gets the top left of that room. `unit` is the word for what is counted;
    `reading` tells what a tape shows when so many of them are done.
    """

    lead: float
    height: Callable[[Line[T]], float]
    draw: Callable[[Line[T], float, float], Iterable[Mark]]
    unit: str
    column: str
    so_far: str = "so far"
    mirrored: bool = False
    reading: Callable[[int], str] | None = None

    @property
    def zone(self) -> float:
        """Where the brackets and boxes begin, in mm from the start of reading."""
        return NUMBER_WIDTH + self.lead + SO_FAR_WIDTH + ARM


def lead_room(counted: CountedList[T], width: float) -> float:
    """Return the width in mm that is left for what a line says, on a sheet `width` mm wide."""
    needed = [
        bracket_u(each, counted.brackets, 0.0) + ARM + times_width(each)
        for each in counted.brackets
        if each.depth == 1
    ]
    named = [BOX + 2.0 + measure(line.name, BODY) for line in counted.lines if line.name]
    zone = max([*needed, *named, BOX, measure("tick", BODY, "bold")]) + 1.0
    return width - NUMBER_WIDTH - SO_FAR_WIDTH - ARM - zone


def heads_width(column: str, so_far: str = "so far") -> float:
    """Return the least width in mm of a line under which the heads of its columns do not touch."""
    beyond = max(0.0, measure(so_far, BODY, "bold") - SO_FAR_WIDTH)
    return measure(column, BODY, "bold") + _BETWEEN_HEADS + beyond


def check_lead(lead: float, least: float) -> None:
    """Refuse paper that leaves less than `least` mm for what a line says."""
    if lead < least:
        raise PaperTooSmall(
            f"the repeats within repeats need {least - lead:.0f} mm more between the margins"
        )


def draw_counted_list(
    flow: PageFlow,
    counted: CountedList[T],
    style: LineStyle[T],
    end: Block,
    title: Block | None = None,
) -> None:
    """Draw a whole list into the flow, from its `title` if it has one to the words at its `end`.

    A bracket stays together where a page can hold it; no title stands alone at the foot of a page,
    and no end at the head of one.
    """
    head = _column_heads(style, flow)
    opening = stack([title, head]) if title else head
    painter = _Painter(counted, style, flow, head.height)
    for first, last in counted.blocks():
        ending = end.height if last == len(counted.lines) - 1 else 0.0
        blocks = painter.blocks(first, last, opening.height if first == 0 else 0.0, ending)
        if first == 0:
            blocks[0] = stack([opening, blocks[0]])
        if last == len(counted.lines) - 1:
            blocks[-1] = stack([blocks[-1], end])
        flow.keep(blocks, None if first == 0 and len(blocks) == 1 else head)
        flow.running_head = head
    flow.running_head = None


@dataclass(frozen=True, slots=True)
class _Sides:
    """Where the lines of a list stand, and where its brackets and boxes.

    Boxes follow the lines as they are read; for a left hand they stand at the left of them, so
    that it does not lie on the lines while it ticks.
    """

    lines: Across
    boxes: Across

    @classmethod
    def of(cls, style: LineStyle[T], flow: PageFlow, x: float) -> _Sides:
        whole = Across(x, flow.width, style.mirrored)
        if style.mirrored or not flow.left_handed:
            return cls(whole, whole)
        before = flow.width - style.zone + ARM
        return cls(whole.part(before, style.zone - ARM), Across(x, flow.width, mirrored=True))


def _column_heads(style: LineStyle[T], flow: PageFlow) -> Block:
    height = leading(BODY) + 1.6

    def draw(x: float, y: float) -> Iterable[Mark]:
        sides = _Sides.of(style, flow, x)
        across, boxes = sides.lines, sides.boxes
        at = y + baseline(BODY)
        start, end = across.anchor("start"), across.anchor("end")
        yield label(across.left(NUMBER_WIDTH), at, style.column, BODY, "bold", start, SOFT)
        place = style.zone - ARM
        yield label(across.left(place), at, style.so_far, BODY, "bold", end, SOFT)
        tick = boxes.anchor("start")
        yield label(boxes.left(style.zone), at, "tick", BODY, "bold", tick, SOFT)
        yield rule(x, y + height - 0.2, flow.width, 0.3, INK)

    return Block(height, draw)


class _Painter(Generic[T]):
    """Draws the lines of one list with what stands beside and below them."""

    def __init__(
        self, counted: CountedList[T], style: LineStyle[T], flow: PageFlow, head: float
    ) -> None:
        self._counted = counted
        self._style = style
        self._flow = flow
        self._width = flow.width
        self._head = head

    def blocks(self, first: int, last: int, opening: float, ending: float) -> list[Block]:
        """Return the lines from `first` to `last` and, if they are a bracket, its boxes.

        Lines that no page can hold together are parted into blocks, each with its own piece of
        the bracket; `opening` and `ending` are the heights of what goes before and after them.
        """
        tally = self._tally(first)
        heights = [self._style.height(line) for line in self._counted.lines[first : last + 1]]
        beside, strip = self._boxes(tally, sum(heights), ending)
        total = sum(heights) + sum(block.height for block in strip)
        if total + opening + ending <= self._flow.full_room:
            return [stack([self._lines(first, last, tally, beside), *strip])]
        spans = self._spans(heights, opening, ending)
        blocks = [self._lines(first + start, first + stop) for start, stop in spans]
        return blocks if tally is None else blocks + self._strip(tally, ending)

    def _boxes(
        self, tally: Tally | None, height: float, ending: float
    ) -> tuple[Beside | None, list[Block]]:
        """Return the boxes beside lines `height` mm high, and what stands below them."""
        if tally is None:
            return None, []
        room = self._width - self._beside_u(tally.bracket)
        beside = tally.beside(room, height)
        if beside is not None:
            return beside, []
        bare = tally.beside_bare(room, height)
        if bare is not None:
            return bare, [tally.words_below(self._width, mirrored=self._style.mirrored)]
        return None, self._strip(tally, ending)

    def _strip(self, tally: Tally, ending: float) -> list[Block]:
        room = self._further - ending
        return tally.strip(self._width, room, mirrored=self._style.mirrored)

    @property
    def _further(self) -> float:
        """Room of a further page, on which the heads of the columns are repeated."""
        return self._flow.full_room - (0.0 if self._flow.running_head else self._head)

    def _spans(
        self, heights: Sequence[float], opening: float, ending: float
    ) -> list[tuple[int, int]]:
        """Return which lines go together on a page, the first with what is left of this page."""
        flow = self._flow
        room = flow.room - opening
        if room < _WORTH_BEGINNING * flow.full_room:
            room = flow.full_room - opening
        spans: list[tuple[int, int]] = []
        start, used = 0, 0.0
        for index, height in enumerate(heights):
            needed = height + (ending if index == len(heights) - 1 else 0.0)
            if used + needed > room and index > start:
                spans.append((start, index - 1))
                start, used, room = index, 0.0, self._further
            used += height
        spans.append((start, len(heights) - 1))
        return spans

    def _tally(self, first: int) -> Tally | None:
        brackets = self._counted.brackets
        outer = next((each for each in brackets if each.depth == 1 and each.first == first), None)
        if outer is None:
            return None
        inner = inner_brackets(outer, brackets)
        return Tally(outer, inner, self._style.unit, self._style.reading)

    def _beside_u(self, bracket: Bracket) -> float:
        u = bracket_u(bracket, self._counted.brackets, self._style.zone)
        return u + ARM + measure(times(bracket), FIGURE, "bold") + 3.0

    def _lines(
        self, first: int, last: int, tally: Tally | None = None, beside: Beside | None = None
    ) -> Block:
        lines = self._counted.lines[first : last + 1]
        heights = [self._style.height(line) for line in lines]
        tops = [sum(heights[:place]) for place in range(len(heights) + 1)]

        def draw(x: float, y: float) -> Iterable[Mark]:
            sides = _Sides.of(self._style, self._flow, x)
            items: list[Mark] = []
            for place, (line, height) in enumerate(zip(lines, heights, strict=True), start=first):
                top, ends = y + tops[place - first], line is lines[-1]
                brackets = [
                    self._bracket(each, first, last, [y + top for top in tops], sides)
                    for each in self._counted.brackets
                    if max(each.first, first) == place and each.last >= place
                ]
                drawn = self._line(line, sides, top, height, brackets)
                items.append(Part(tuple(drawn), "item"))
                items.append(self._rule_under(line, sides, x, top + height, last=ends))
            yield Part(tuple(items), "list")
            if tally is not None and beside is not None:
                yield from beside.draw(self._beside_u(tally.bracket), sides.boxes, y, y + tops[-1])

        return Block(tops[-1], draw)

    def _bracket(
        self, bracket: Bracket, first: int, last: int, tops: Sequence[float], sides: _Sides
    ) -> Figure:
        """Return what is seen of a bracket beside the lines from `first` to `last`."""
        marks = draw_bracket(
            bracket,
            bracket_u(bracket, self._counted.brackets, self._style.zone),
            sides.boxes,
            tops[max(bracket.first, first) - first],
            tops[min(bracket.last, last) - first + 1],
            first=bracket.first >= first,
            last=bracket.last <= last,
        )
        start, stop = (self._counted.lines[at].number for at in (bracket.first, bracket.last))
        which = f"line {start}" if start == stop else f"lines {start} to {stop}"
        return Figure(tuple(marks), f"Bracket: {which}", f"{bracket.times} times")

    def _line(
        self, line: Line[T], sides: _Sides, y: float, height: float, brackets: Iterable[Mark]
    ) -> Iterable[Mark]:
        """Draw a line; the brackets that begin with it are heard behind its number."""
        across, boxes = sides.lines, sides.boxes
        middle = y + height / 2
        start, end = across.anchor("start"), across.anchor("end")
        at = middle + cap_height(LABEL) / 2
        number = label(across.left(0.0), at, str(line.number), LABEL, "regular", start, SOFT)
        yield Part((number,), "item label")
        yield from brackets
        yield from self._style.draw(line, across.left(NUMBER_WIDTH, self._style.lead), y)
        zone = self._style.zone
        if line.so_far is None:
            yield label(across.left(zone - ARM), at, "–", LABEL, "regular", end, SOFT)
            return
        yield label(across.left(zone - ARM), at, str(line.so_far), LABEL, "regular", end, INK)
        yield tick_box(boxes.left(zone, BOX), middle - BOX / 2)
        if line.name:
            place = boxes.left(zone + BOX + 2.0)
            yield label(place, at, line.name, BODY, "regular", boxes.anchor("start"), SOFT)

    def _rule_under(self, line: Line[T], sides: _Sides, x: float, y: float, *, last: bool) -> Mark:
        """Return the rule under a line; within a bracket it leaves the boxes free."""
        if line.so_far is not None or last:
            return rule(x, y, self._width, HAIRLINE, HAIR)
        lines = sides.lines
        width = min(self._style.zone - 1.5, lines.width)
        return rule(lines.left(0.0, width), y, width, HAIRLINE, HAIR)
