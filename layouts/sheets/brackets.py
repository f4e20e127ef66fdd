"""Brackets of a counted list: how often, the boxes to tick, and the totals that belong to them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from cards.counted import Bracket
from layouts.drawing import Anchor, Mark, Path
from layouts.sheets.across import Across
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
    stack,
    tick_box,
)
from layouts.typeface import BODY, FIGURE, LABEL, cap_height, label, measure

ARM = 4.0

# A piece of a bracket less high than this has room for its times only.
_GOES_ON_LEAST = 22.0
_GOES_ON = "goes on"

_INDENT = 10.0
_FIVES_GAP = 2.2
_ROW = BOX_PITCH + 0.4

# More boxes than this stand in rows below, each row with its running total.
_MOST_BESIDE = 30

# Not more boxes than this are counted at a glance in one row.
_FEW = 10

# From so many inner repeats on, a scale to move a clip along helps to keep count.
_CLIP_LEAST, _CLIP_MOST = 5, 15
_CLIP_PITCH = 5.2


def times(bracket: Bracket) -> str:
    """Return how often a bracket is repeated, as it is printed beside it."""
    return f"× {bracket.times}"


def times_width(bracket: Bracket) -> float:
    """Return the width in mm of what stands beside an outer bracket, wherever it is parted."""
    return max(measure(times(bracket), FIGURE, "bold"), measure(_GOES_ON, BODY, "bold"))


def inner_brackets(bracket: Bracket, brackets: Sequence[Bracket]) -> list[Bracket]:
    """Return the brackets within a bracket."""
    return [
        each
        for each in brackets
        if each.first >= bracket.first and each.last <= bracket.last and each.depth > bracket.depth
    ]


def bracket_u(bracket: Bracket, brackets: Sequence[Bracket], zone: float) -> float:
    """Return the place of a bracket: the innermost stands next to the lines, at `zone`."""
    inner = inner_brackets(bracket, brackets)
    if not inner:
        return zone
    levels = max(each.depth for each in inner) - bracket.depth
    widest = max(measure(times(each), LABEL, "bold") for each in inner)
    return zone + levels * (ARM + widest + 2.0)


def draw_bracket(
    bracket: Bracket,
    u: float,
    across: Across,
    top: float,
    bottom: float,
    *,
    first: bool,
    last: bool,
) -> Iterable[Mark]:
    """Draw a bracket from `top` to `bottom`; `first` and `last` say which ends of it are here."""
    arm, spine = across.left(u - 1.0), across.left(u + 2.0)
    upper, lower = top + 1.6, bottom - 1.6
    steps: list[tuple[str | float, ...]] = (
        [("M", arm, upper), ("L", spine, upper)] if first else [("M", spine, top)]
    )
    steps.append(("L", spine, lower if last else bottom))
    if last:
        steps.append(("L", arm, lower))
    yield Path(tuple(steps), None, INK, 0.5)
    size = FIGURE if bracket.depth == 1 else LABEL
    start = across.anchor("start")
    at = (top + bottom) / 2 + cap_height(size) / 2
    yield label(across.left(u + ARM), at, times(bracket), size, "bold", start, INK)
    if not last and bracket.depth == 1 and bottom - top > _GOES_ON_LEAST:
        yield label(across.left(u + ARM), bottom - 2.0, _GOES_ON, BODY, "bold", start, SOFT)


@dataclass(frozen=True, slots=True)
class Tally:
    """The boxes of an outer bracket and what is said beside or below them.

    `unit` is the word for what is counted, `reading` what a tape shows after so many of them.
    """

    bracket: Bracket
    inner: Sequence[Bracket]
    unit: str
    reading: Callable[[int], str] | None

    def words(self) -> list[str]:
        """Return what is to be known of the repeats, a few words at a time."""
        bracket, boxes = self.bracket, self.bracket.boxes
        words = [f"{bracket.once} {self.unit} each", f"{bracket.total} in all"]
        if bracket.after != bracket.total:
            words.append(f"so far {bracket.after}")
        if boxes.each > 1:
            words.append(f"a box is {boxes.each} repeats")
        if boxes.last != boxes.each:
            words.append(f"the last box {boxes.last}")
        return words

    def clip(self) -> int:
        """Return how far a clip scale for inner repeats reaches, 0 for none."""
        most = max((each.times for each in self.inner), default=0)
        return min(most, _CLIP_MOST) if most >= _CLIP_LEAST else 0

    def beside(self, room: float, height: float) -> Beside | None:
        """Return how the boxes stand beside lines `height` mm high, or None if there is no room.

        Words stand below the boxes where the lines are high enough, else at the side of one row.
        """
        number = self.bracket.boxes.number
        if number > _MOST_BESIDE or self.clip():
            return None
        words = self.words()
        in_row = _in_a_row(room)
        in_row = in_row // 5 * 5 or in_row
        if in_row >= 1 and max(measure(text, BODY) for text in words) <= room:
            rows = -(-number // in_row)
            if rows * BOX_PITCH + len(words) * leading(BODY) <= height - 1.0:
                return Beside(number, in_row, rows, tuple(words), below=True)
        lines = tuple(text for text in (", ".join(words[:2]), ", ".join(words[2:])) if text)
        needed = _box_u(number) + 2.0 + max(measure(text, BODY) for text in lines)
        if number <= _FEW and needed <= room and len(lines) * leading(BODY) <= height:
            return Beside(number, number, 1, lines, below=False)
        return None

    def beside_bare(self, room: float, height: float) -> Beside | None:
        """Return a few boxes beside the lines without their words, which then go below."""
        number = self.bracket.boxes.number
        if number > _FEW or self.clip() or _box_u(number - 1) + BOX > room or height < BOX:
            return None
        return Beside(number, number, 1, (), below=False)

    def words_below(self, width: float, *, mirrored: bool) -> Block:
        """Return the words of the boxes that stand beside the lines."""
        text = self._words_block(width, mirrored=mirrored)

        def draw(x: float, y: float) -> Iterable[Mark]:
            across = Across(x, width, mirrored)
            yield from text.draw(across.left(_INDENT, width - _INDENT), y + 0.2)
            yield rule(x, y + text.height + 1.0, width, HAIRLINE, HAIR)

        return Block(text.height + 1.0, draw)

    def _words_block(self, width: float, *, mirrored: bool) -> Block:
        side: Anchor = "end" if mirrored else "start"
        words = "; ".join(self.words())
        return paragraph(words, width - _INDENT, BODY, colour=SOFT, anchor=side)

    def strip(self, width: float, room: float, *, mirrored: bool) -> list[Block]:
        """Return the boxes in rows below the lines, with a running total after every row.

        Rows that do not go into `room` mm together are parted into several blocks.
        """
        inner = width - _INDENT
        text = self._words_block(width, mirrored=mirrored)
        clip = self._clip_row(width, mirrored=mirrored)
        number = self.bracket.boxes.number
        in_row = max(5, _in_a_row(inner - self._totals_width()) // 5 * 5)
        in_row = min(in_row, -(-number // 5) * 5)
        rows = -(-number // in_row)
        top = text.height + 1.0 + clip.height
        first = max(1, int((room - top - 1.5) // _ROW))
        each = max(1, int((room - 1.5) // _ROW))
        marks = [0, *range(first, rows, each), rows]
        across = Across(0.0, width, mirrored)
        blocks = [self._rows(range(start, stop), in_row, across) for start, stop in pairwise(marks)]

        def words(x: float, y: float) -> Iterable[Mark]:
            moved = Across(x, width, mirrored)
            yield from text.draw(moved.left(_INDENT, inner), y + 0.6)
            yield from clip.draw(x, y + text.height + 0.8)

        blocks[0] = stack([Block(top, words), blocks[0]])
        return blocks

    def _rows(self, rows: range, in_row: int, place: Across) -> Block:
        number = self.bracket.boxes.number
        height = len(rows) * _ROW + 1.5

        def draw(x: float, y: float) -> Iterable[Mark]:
            across = Across(x, place.width, place.mirrored)
            for line, row in enumerate(rows):
                top = y + 0.6 + line * _ROW
                filled = min(in_row, number - row * in_row)
                for column in range(filled):
                    yield tick_box(across.left(_INDENT + _box_u(column), BOX), top)
                yield from self._total(across, top, row, in_row, filled)
            yield rule(x, y + height, place.width, HAIRLINE, HAIR)

        return Block(height, draw)

    def _clip_row(self, width: float, *, mirrored: bool) -> Block:
        """Return a scale to move a clip along while the inner repeats are done."""
        reach = self.clip()
        if not reach:
            return Block(0.0, lambda x, y: ())
        words = "inner repeats, move a clip:"
        start = _INDENT + measure(words, BODY) + 3.0
        below = (width - start) / reach < _CLIP_PITCH
        if below:
            start = _INDENT
        pitch = min(BOX_PITCH, (width - start) / reach)

        def draw(x: float, y: float) -> Iterable[Mark]:
            across = Across(x, width, mirrored)
            at = y + baseline(BODY) + 0.8
            anchor = across.anchor("start")
            yield label(across.left(_INDENT), at, words, BODY, "regular", anchor, SOFT)
            at += leading(BODY) if below else 0.0
            for place in range(reach):
                middle = across.left(start + (place + 0.5) * pitch)
                yield label(middle, at, str(place + 1), BODY, "bold", "middle", INK)

        return Block(leading(BODY) * (2 if below else 1) + 2.4, draw)

    def _totals_width(self) -> float:
        after = self.bracket.after
        if after is None:
            return 0.0
        words = measure(self.reading(after), BODY) + 2.0 if self.reading else 0.0
        return 4.0 + measure(str(after), LABEL, "bold") + words

    def _total(
        self, across: Across, top: float, row: int, in_row: int, filled: int
    ) -> Iterable[Mark]:
        bracket = self.bracket
        if bracket.before is None:
            return
        done = min((row + 1) * in_row, bracket.boxes.number)
        total = bracket.before + min(done * bracket.boxes.each, bracket.times) * bracket.once
        # The total follows the boxes of its row; full rows have theirs one below another.
        u = _INDENT + _box_u(filled - 1) + BOX + 3.0
        at = top + BOX / 2 + cap_height(LABEL) / 2
        start = across.anchor("start")
        yield label(across.left(u), at, str(total), LABEL, "bold", start, INK)
        if self.reading:
            u += measure(str(bracket.after), LABEL, "bold") + 2.0
            yield label(across.left(u), at, self.reading(total), BODY, "regular", start, SOFT)


@dataclass(frozen=True, slots=True)
class Beside:
    """Boxes beside the lines of a bracket: how many in a row, and the words that belong to them."""

    number: int
    in_row: int
    rows: int
    words: tuple[str, ...]
    below: bool

    def draw(self, u: float, across: Across, top: float, bottom: float) -> Iterable[Mark]:
        """Draw boxes and words from `u` on, in the middle between `top` and `bottom`."""
        words_height = len(self.words) * leading(BODY)
        boxes_height = (self.rows - 1) * BOX_PITCH + BOX
        height = boxes_height + (1.0 + words_height if self.below else 0.0)
        y = (top + bottom - height) / 2
        for index in range(self.number):
            row, column = divmod(index, self.in_row)
            yield tick_box(across.left(u + _box_u(column), BOX), y + row * BOX_PITCH)
        if self.below:
            y += boxes_height + 1.0
        else:
            u += _box_u(self.number) + 2.0
            y = (top + bottom - words_height) / 2
        start = across.anchor("start")
        for place, text in enumerate(self.words):
            at = y + baseline(BODY) + place * leading(BODY)
            yield label(across.left(u), at, text, BODY, "regular", start, SOFT)


def _box_u(column: int) -> float:
    """Return the place of a box in a row: a wider gap after every five."""
    return column * BOX_PITCH + column // 5 * _FIVES_GAP


def _in_a_row(room: float) -> int:
    """Return how many boxes fit side by side in `room` mm."""
    number = 0
    while _box_u(number) + BOX <= room:
        number += 1
    return number
