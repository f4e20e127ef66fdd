"""Draws a counted list: lines, brackets with their times, boxes to tick and running totals.

A list reads from the left, or mirrored from the right, as ends are threaded from the right. All
places are reckoned in reading order and turned round in one place, `_Across`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

from cards.counted import Bracket, CountedList, Line
from layouts.drawing import Anchor, Mark, Path
from layouts.paper import PaperTooSmall
from layouts.sheets.page import PageFlow
from layouts.sheets.parts import (
    BOX,
    BOX_PITCH,
    HAIR,
    HAIRLINE,
    INK,
    SOFT,
    Block,
    baseline,
    leading,
    paragraph,
    rule,
    tick_box,
)
from layouts.typeface import BODY, FIGURE, LABEL, NOTE, cap_height, label, measure

T = TypeVar("T")

NUMBER_WIDTH = 7.0
SO_FAR_WIDTH = 16.0
_BRACKET = 4.0
_STRIP_INDENT = 10.0
_FIVES_GAP = 2.2

# More boxes than this stand in rows below, each row with its running total.
_MOST_BESIDE = 30


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


def lead_room(counted: CountedList[T], width: float) -> float:
    """Return the width in mm that is left for what a line says, on a sheet `width` mm wide."""
    times = [
        _bracket_u(each, counted.brackets, 0.0) + 4.0 + measure(_times(each), FIGURE, "bold")
        for each in counted.brackets
        if each.depth == 1
    ]
    zone = max([*times, BOX, measure("tick", BODY, "bold")]) + 1.0
    return width - NUMBER_WIDTH - SO_FAR_WIDTH - _BRACKET - zone


def heads_width(column: str, so_far: str = "so far") -> float:
    """Return the least width in mm of a line under which the heads of its columns do not touch."""
    beyond = max(0.0, measure(so_far, BODY, "bold") - SO_FAR_WIDTH)
    return measure(column, BODY, "bold") + 2.0 + beyond


def check_lead(lead: float, least: float) -> None:
    """Refuse paper that leaves less than `least` mm for what a line says."""
    if lead < least:
        raise PaperTooSmall(
            f"the repeats within repeats need {least - lead:.0f} mm more between the margins"
        )


class _Across:
    """Places along a line in reading order: `u` mm from where reading starts."""

    def __init__(self, x: float, width: float, *, mirrored: bool) -> None:
        self._x = x
        self._width = width
        self._mirrored = mirrored

    def left(self, u: float, width: float = 0.0) -> float:
        """Return the x of the left edge of something `width` mm wide."""
        return self._x + self._width - u - width if self._mirrored else self._x + u

    def anchor(self, anchor: Anchor) -> Anchor:
        """Return the anchor that keeps text on its side."""
        if not self._mirrored or anchor == "middle":
            return anchor
        return "end" if anchor == "start" else "start"


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
    head = _column_heads(style, flow.width)
    painter = _Painter(counted, style, flow.width)
    spans = counted.blocks()
    opening = [title, head] if title else [head]
    first = painter.blocks(*spans[0], flow.full_room - sum(block.height for block in opening))
    closing = [end] if len(spans) == 1 else []
    flow.keep([*opening, *first, *closing])
    flow.running_head = head
    for start, stop in spans[1:]:
        closing = [end] if stop == len(counted.lines) - 1 else []
        flow.keep([*painter.blocks(start, stop, flow.full_room), *closing])
    flow.running_head = None


def _column_heads(style: LineStyle[T], width: float) -> Block:
    height = leading(BODY) + 1.6

    def draw(x: float, y: float) -> Iterable[Mark]:
        across = _Across(x, width, mirrored=style.mirrored)
        at = y + baseline(BODY)
        start, end = across.anchor("start"), across.anchor("end")
        yield label(across.left(NUMBER_WIDTH), at, style.column, BODY, "bold", start, SOFT)
        place = NUMBER_WIDTH + style.lead + SO_FAR_WIDTH
        yield label(across.left(place), at, style.so_far, BODY, "bold", end, SOFT)
        yield label(across.left(place + _BRACKET), at, "tick", BODY, "bold", start, SOFT)
        yield rule(x, y + height - 0.2, width, 0.3, INK)

    return Block(height, draw)


class _Painter(Generic[T]):
    """Draws the lines of one list with what stands beside and below them."""

    def __init__(self, counted: CountedList[T], style: LineStyle[T], width: float) -> None:
        self._counted = counted
        self._style = style
        self._width = width
        self._zone = NUMBER_WIDTH + style.lead + SO_FAR_WIDTH + _BRACKET

    def blocks(self, first: int, last: int, room: float) -> list[Block]:
        """Return the lines from `first` to `last` and, if they are a bracket, its boxes.

        Lines that no page can hold together are parted into blocks, each with its own piece of
        the bracket.
        """
        outer = self._outer(first)
        heights = [self._style.height(line) for line in self._counted.lines[first : last + 1]]
        strip = self._strip(outer) if outer else None
        inside = outer is not None and self._fits_beside(outer, sum(heights))
        total = sum(heights) + (0.0 if strip is None or inside else strip.height)
        spans = [(first, last)] if total <= room else self._spans(first, heights, room)
        blocks = [self._lines(start, stop, outer if inside else None) for start, stop in spans]
        if strip is not None and not inside:
            blocks.append(strip)
        return blocks

    def _outer(self, first: int) -> Bracket | None:
        return next(
            (each for each in self._counted.brackets if each.depth == 1 and each.first == first),
            None,
        )

    def _spans(self, first: int, heights: Sequence[float], room: float) -> list[tuple[int, int]]:
        spans: list[tuple[int, int]] = []
        start, used = 0, 0.0
        for index, height in enumerate(heights):
            if used + height > room and index > start:
                spans.append((first + start, first + index - 1))
                start, used = index, 0.0
            used += height
        spans.append((first + start, first + len(heights) - 1))
        return spans

    def _lines(self, first: int, last: int, boxes_of: Bracket | None) -> Block:
        lines = self._counted.lines[first : last + 1]
        heights = [self._style.height(line) for line in lines]
        tops = [sum(heights[:place]) for place in range(len(heights) + 1)]

        def draw(x: float, y: float) -> Iterable[Mark]:
            across = _Across(x, self._width, mirrored=self._style.mirrored)
            for line, top, height in zip(lines, tops, heights, strict=False):
                yield from self._line(line, across, y + top, height)
                yield self._rule_under(line, line is lines[-1], across, y + top + height)
            for bracket in self._counted.brackets:
                if bracket.first <= last and bracket.last >= first:
                    start = y + tops[max(bracket.first, first) - first]
                    stop = y + tops[min(bracket.last, last) - first + 1]
                    yield from self._bracket(bracket, across, start, stop, first, last)
            if boxes_of is not None:
                yield from self._beside(boxes_of, across, y, y + tops[-1])

        return Block(tops[-1], draw)

    def _line(self, line: Line[T], across: _Across, y: float, height: float) -> Iterable[Mark]:
        middle = y + height / 2
        number_at = across.left(0.0)
        start, end = across.anchor("start"), across.anchor("end")
        at = middle + cap_height(LABEL) / 2
        yield label(number_at, at, str(line.number), LABEL, "regular", start, SOFT)
        yield from self._style.draw(line, across.left(NUMBER_WIDTH, self._style.lead), y)
        so_far = self._running(line)
        at_so_far = across.left(NUMBER_WIDTH + self._style.lead + SO_FAR_WIDTH)
        if so_far is None:
            yield label(at_so_far, at, "–", LABEL, "regular", end, SOFT)
        else:
            yield label(at_so_far, at, str(so_far), LABEL, "regular", end, INK)
        if line.so_far is not None:
            yield tick_box(across.left(self._zone, BOX), middle - BOX / 2)

    def _rule_under(self, line: Line[T], last: bool, across: _Across, y: float) -> Mark:  # noqa: FBT001
        """Return the rule under a line; within a bracket it leaves the boxes free."""
        inside = line.so_far is None and not last
        width = self._zone - 1.5 if inside else self._width
        return rule(across.left(0.0, width), y, width, HAIRLINE, HAIR)

    def _running(self, line: Line[T]) -> int | None:
        """Return the running total after a line: in a bracket, after its last line and repeat."""
        if line.so_far is not None:
            return line.so_far
        for bracket in self._counted.brackets:
            if bracket.depth == 1 and bracket.last == line.number - 1:
                return bracket.after
        return None

    def _bracket_u(self, bracket: Bracket) -> float:
        return _bracket_u(bracket, self._counted.brackets, self._zone)

    def _bracket(
        self,
        bracket: Bracket,
        across: _Across,
        top: float,
        bottom: float,
        first: int,
        last: int,
    ) -> Iterable[Mark]:
        u = self._bracket_u(bracket)
        arm = across.left(u - 1.0)
        spine = across.left(u + 2.0)
        steps: list[tuple[str | float, ...]] = []
        upper, lower = top + 1.6, bottom - 1.6
        if bracket.first >= first:
            steps += [("M", arm, upper), ("L", spine, upper)]
        else:
            steps.append(("M", spine, top))
        steps.append(("L", spine, lower if bracket.last <= last else bottom))
        if bracket.last <= last:
            steps.append(("L", arm, lower))
        yield Path(tuple(steps), None, INK, 0.5)
        size = FIGURE if bracket.depth == 1 else LABEL
        at = (top + bottom) / 2 + cap_height(size) / 2
        start = across.anchor("start")
        yield label(across.left(u + 4.0), at, _times(bracket), size, "bold", start, INK)

    def _beside_u(self, bracket: Bracket) -> float:
        return self._bracket_u(bracket) + 4.0 + measure(_times(bracket), FIGURE, "bold") + 3.0

    def _fits_beside(self, bracket: Bracket, height: float) -> bool:
        return self._beside_plan(bracket, height) is not None

    def _beside_plan(self, bracket: Bracket, height: float) -> _Beside | None:
        """Return how the boxes of a bracket stand beside its lines, or None if there is no room.

        Words stand below the boxes where the lines are high enough, else at the side of one row.
        """
        if bracket.boxes.number > _MOST_BESIDE:
            return None
        room = self._width - self._beside_u(bracket)
        words = self._words(bracket)
        in_row = _in_a_row(room)
        in_row = in_row // 5 * 5 or in_row
        if in_row >= 1 and max(measure(text, BODY) for text in words) <= room:
            rows = -(-bracket.boxes.number // in_row)
            if rows * BOX_PITCH + len(words) * leading(BODY) <= height - 1.0:
                return _Beside(in_row, rows, tuple(words), BODY, below=True)
        boxes = _box_u(bracket.boxes.number) + 2.0
        pair = (f"{words[0]}, {words[1]}", ", ".join(words[2:]))
        lines = tuple(text for text in pair if text)
        few = bracket.boxes.number <= 10
        if few and boxes + max(measure(text, NOTE) for text in lines) <= room:
            return _Beside(bracket.boxes.number, 1, lines, NOTE, below=False)
        return None

    def _words(self, bracket: Bracket) -> list[str]:
        words = [f"{bracket.once} {self._style.unit} each", f"{bracket.total} in all"]
        return [*words, *_box_words(bracket)]

    def _beside(
        self, bracket: Bracket, across: _Across, top: float, bottom: float
    ) -> Iterable[Mark]:
        plan = self._beside_plan(bracket, bottom - top)
        if plan is None:
            return
        u = self._beside_u(bracket)
        words_height = len(plan.words) * leading(plan.size)
        boxes_height = (plan.rows - 1) * BOX_PITCH + BOX
        height = boxes_height + (1.0 + words_height if plan.below else 0.0)
        y = (top + bottom - height) / 2
        for index in range(bracket.boxes.number):
            row, column = divmod(index, plan.in_row)
            yield tick_box(across.left(u + _box_u(column), BOX), y + row * BOX_PITCH)
        if plan.below:
            y += boxes_height + 1.0
        else:
            u += _box_u(bracket.boxes.number) + 2.0
            y = (top + bottom - words_height) / 2
        for place, text in enumerate(plan.words):
            at = y + baseline(plan.size) + place * leading(plan.size)
            start = across.anchor("start")
            yield label(across.left(u), at, text, plan.size, "regular", start, SOFT)

    def _strip(self, bracket: Bracket) -> Block:
        """Return the boxes of a bracket below its lines, with a running total after every row."""
        unit = self._style.unit
        words = f"{bracket.once} {unit} each, {bracket.total} in all"
        for more in _box_words(bracket):
            words += f"; {more}"
        room = self._width - _STRIP_INDENT
        side: Anchor = "end" if self._style.mirrored else "start"
        text = paragraph(words, room, BODY, colour=SOFT, anchor=side)
        totals_width = self._totals_width(bracket)
        in_row = max(5, _in_a_row(room - totals_width) // 5 * 5)
        in_row = min(in_row, -(-bracket.boxes.number // 5) * 5)
        rows = -(-bracket.boxes.number // in_row)
        text_height = text.height + 1.0
        height = text_height + rows * (BOX_PITCH + 0.4) + 1.5

        def draw(x: float, y: float) -> Iterable[Mark]:
            across = _Across(x, self._width, mirrored=self._style.mirrored)
            yield from text.draw(across.left(_STRIP_INDENT, room), y + 0.6)
            top = y + text_height + 0.6
            for index in range(bracket.boxes.number):
                row, column = divmod(index, in_row)
                left = across.left(_STRIP_INDENT + _box_u(column), BOX)
                yield tick_box(left, top + row * (BOX_PITCH + 0.4))
            for row in range(rows):
                if bracket.before is not None:
                    yield from self._row_total(bracket, row, in_row, across, top)
            yield rule(x, y + height, self._width, HAIRLINE, HAIR)

        return Block(height, draw)

    def _totals_width(self, bracket: Bracket) -> float:
        if bracket.after is None:
            return 0.0
        reading = self._style.reading
        words = measure(reading(bracket.after), BODY) + 2.0 if reading else 0.0
        return 4.0 + measure(str(bracket.after), LABEL, "bold") + words

    def _row_total(
        self, bracket: Bracket, row: int, in_row: int, across: _Across, top: float
    ) -> Iterable[Mark]:
        done = min((row + 1) * in_row, bracket.boxes.number)
        repeats = min(done * bracket.boxes.each, bracket.times)
        total = (bracket.before or 0) + repeats * bracket.once
        u = _STRIP_INDENT + _box_u(in_row - 1) + BOX + 3.0
        at = top + row * (BOX_PITCH + 0.4) + BOX / 2 + cap_height(LABEL) / 2
        start = across.anchor("start")
        yield label(across.left(u), at, str(total), LABEL, "bold", start, INK)
        if self._style.reading:
            u += measure(str(bracket.after), LABEL, "bold") + 2.0
            words = self._style.reading(total)
            yield label(across.left(u), at, words, BODY, "regular", start, SOFT)


@dataclass(frozen=True, slots=True)
class _Beside:
    """Boxes beside the lines of a bracket: how many in a row, and the words that belong to them."""

    in_row: int
    rows: int
    words: tuple[str, ...]
    size: float
    below: bool


def _bracket_u(bracket: Bracket, brackets: Sequence[Bracket], zone: float) -> float:
    """Return the place of a bracket: the innermost stands next to the lines, at `zone`."""
    inner = [
        each
        for each in brackets
        if each.first >= bracket.first and each.last <= bracket.last and each.depth > bracket.depth
    ]
    if not inner:
        return zone
    levels = max(each.depth for each in inner) - bracket.depth
    widest = max(measure(_times(each), LABEL, "bold") for each in inner)
    return zone + levels * (_BRACKET + widest + 2.0)


def _times(bracket: Bracket) -> str:
    return f"× {bracket.times}"


def _box_words(bracket: Bracket) -> list[str]:
    boxes = bracket.boxes
    if boxes.each == 1:
        return []
    words = [f"a box is {boxes.each} repeats"]
    if boxes.last != boxes.each:
        words.append(f"the last box {boxes.last}")
    return words


def _box_u(column: int) -> float:
    """Return the place of a box in a row: a wider gap after every five."""
    return column * BOX_PITCH + column // 5 * _FIVES_GAP


def _in_a_row(room: float) -> int:
    """Return how many boxes fit side by side in `room` mm."""
    number = 0
    while _box_u(number) + BOX <= room:
        number += 1
    return number
