"""Pages of prose: what stays together is placed together, under a running head.

On wide paper text has a column beside it for what it is about, so that no line is too long to be
read with ease; on narrow paper that stands above the text.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain, groupby
from typing import Final

from layouts.drawing import Mark, Page, Part
from layouts.paper import Frame, PaperTooSmall, hole_marks
from layouts.prose import Prose, Slice, Tag, line_step, room
from layouts.sheets.parts import (
    HAIRLINE,
    HEAVY,
    INK,
    SOFT,
    Block,
    baseline,
    beside,
    leading,
    paragraph,
    rule,
    stack,
)
from layouts.typeface import BODY, LABEL, NOTE, TITLE, label, measure

# Paper at least so wide between its margins has a column beside the text.
_WIDE: Final = 160.0
_SIDE: Final = 38.0
_BETWEEN: Final = 6.0
# Text in the type of the booklet has hardly more than 85 characters to a line at this width.
_MOST: Final = 145.0

_AFTER_HEAD: Final = 4.0
_PLAY: Final = 1e-6

# A part does not begin where less than this share of a page is left.
_WORTH_BEGINNING: Final = 0.22


@dataclass(frozen=True, slots=True)
class Measures:
    """Widths in mm: of the column beside the text, nothing on narrow paper, and of the text."""

    side: float
    text: float

    @property
    def start(self) -> float:
        """Where the text begins."""
        return self.side + _BETWEEN if self.side else 0.0

    @property
    def whole(self) -> float:
        """The width of both columns."""
        return self.start + self.text

    def aside(self, aside: Block, slices: Sequence[Slice]) -> list[Slice]:
        """Return slices of text with a block beside them, or above them on narrow paper."""
        if not self.side or not slices:
            return [Slice(aside, keep=bool(slices)), *slices]
        found = [Slice(Block(0.0, aside.draw), keep=True)]
        height = 0.0
        for place, each in enumerate(self.indented(slices), start=1):
            height += each.block.height
            more = place < len(slices) and height < aside.height
            found.append(replace(each, keep=each.keep or more))
        if height < aside.height:
            found[-1] = replace(found[-1], keep=True)
            found.append(room(aside.height - height, keep=False))
        return found

    def indented(self, slices: Iterable[Slice]) -> list[Slice]:
        """Return slices of text without anything beside them."""
        return [
            replace(
                each,
                block=beside([(self.start, each.block)]),
                head=beside([(self.start, each.head)]) if each.head else None,
            )
            for each in slices
        ]


def measures_of(frame: Frame) -> Measures:
    """Return the columns of a page."""
    width = frame.content[2]
    if width < _WIDE:
        return Measures(0.0, min(width, _MOST))
    return Measures(_SIDE, min(width - _SIDE - _BETWEEN, _MOST))


@dataclass(frozen=True, slots=True)
class FlowPage:
    """A page that is done: its marks, and the parts that begin on it."""

    page: Page
    parts: tuple[str, ...]


# Marks with the tags that they share with their neighbours.
_Placed = tuple[tuple[Tag, ...], tuple[Mark, ...]]


def _parted(body: Sequence[_Placed], depth: int = 0) -> Iterator[Mark]:
    """Yield marks, those that share a tag in one part."""
    for tag, group in groupby(body, lambda each: each[0][depth] if len(each[0]) > depth else None):
        placed = list(group)
        if tag is None:
            yield from chain.from_iterable(marks for _, marks in placed)
        else:
            yield Part(tuple(_parted(placed, depth + 1)), tag.role)


class ProseFlow:
    """Collects slices page by page; `words` stand at the left of every running head."""

    def __init__(self, frame: Frame, words: str) -> None:
        self._frame = frame
        self._words = words
        self.x, self._top, self.width, self._height = frame.content
        self.measures = measures_of(frame)
        self._bodies: list[list[_Placed]] = [[]]
        self._parts: list[list[str]] = [[]]
        self._tops = [""]
        self._y = self._start
        self._fresh = True

    @property
    def _head(self) -> float:
        return leading(NOTE) + 1.5

    @property
    def _start(self) -> float:
        return self._top + self._head + _AFTER_HEAD

    @property
    def full_room(self) -> float:
        """Height in mm of a page for slices."""
        return self._top + self._height - self._start

    @property
    def room(self) -> float:
        """Height in mm that is left on this page."""
        return self._top + self._height - self._y

    def part(self, title: str, slices: Sequence[Slice]) -> None:
        """Begin a part with its heading; it stays with the first of its slices."""
        above = [room(9.0), part_rule(self.measures.whole)]
        head = [Slice(each.block, keep=True) for each in heading(title, self.measures.whole)]
        head.append(room(2.5))
        groups = list(_groups([*head, *slices]))
        needed = sum(each.block.height for each in (*above, *groups[0]))
        if not self._fresh and self.room < max(needed, _WORTH_BEGINNING * self.full_room):
            self.turn()
        if not self._fresh:
            groups[0] = [*above, *groups[0]]
        self._place(groups[0], title)
        for group in groups[1:]:
            self._place(group)

    def add(self, slices: Sequence[Slice]) -> None:
        """Place slices, those that stay together on one page."""
        for group in _groups(slices):
            self._place(group)

    def turn(self) -> None:
        """Go on to the next page."""
        self._bodies.append([])
        self._parts.append([])
        self._tops.append(next((parts[-1] for parts in self._parts[::-1] if parts), ""))
        self._y = self._start
        self._fresh = True

    def _place(self, group: Sequence[Slice], title: str = "") -> None:
        height = sum(each.block.height for each in group)
        if height > self.room and all(_is_room(each) for each in group):
            return  # no page is turned for nothing
        if height > self.room + _PLAY and not self._fresh:
            self.turn()
        if title:
            if self._fresh:
                self._tops[-1] = title
            self._parts[-1].append(title)
        for each in group:
            if each.block.height > self.room + _PLAY and not self._fresh:
                self.turn()
            if self._fresh and not title and _is_room(each):
                continue
            if self._fresh and each.head is not None:
                self._put(each.head, each.within[:1])
            self._put(each.block, each.within)

    def _put(self, block: Block, within: tuple[Tag, ...]) -> None:
        if block.height > self.room + _PLAY:
            lacking = block.height - self.room
            raise PaperTooSmall(
                f"the pattern booklet needs {lacking:.0f} mm more between the margins"
            )
        self._bodies[-1].append((within, tuple(block.draw(self.x, self._y))))
        self._y += block.height
        self._fresh = False

    def pages(self) -> list[FlowPage]:
        """Return the finished pages."""
        made = []
        for body, parts, top in zip(self._bodies, self._parts, self._tops, strict=True):
            marks = (*hole_marks(self._frame), self._running(top), *_parted(body))
            name = "; ".join(parts) or f"{top}, continued"
            page = Page(self._frame.width, self._frame.height, marks, name)
            made.append(FlowPage(page, tuple(parts)))
        return made

    def _running(self, part: str) -> Part:
        """Return the running head: the title of the booklet, and the part at its top."""
        at = self._top + baseline(NOTE)
        right = measure(part, NOTE)
        words = self._words
        if measure(words, NOTE) + right + 4.0 > self.width:
            words = _cut(words, self.width - right - 4.0)
        marks = (
            label(self.x, at, words, NOTE, "bold", colour=SOFT),
            label(self.x + self.width, at, part, NOTE, "regular", "end", SOFT),
            rule(self.x, self._top + self._head, self.width, HAIRLINE, SOFT),
        )
        return Part(marks, "page head")


def _cut(words: str, width: float) -> str:
    """Return as many words as fit, with dots for the others: a running head is one line."""
    kept = words.split(" ")
    while len(kept) > 1 and measure(" ".join(kept) + " …", NOTE, "bold") > width:
        kept.pop()
    return " ".join(kept) + " …"


def _is_room(each: Slice) -> bool:
    return not list(each.block.draw(0.0, 0.0))


def _groups(slices: Iterable[Slice]) -> Iterator[list[Slice]]:
    """Yield slices that stay together."""
    group: list[Slice] = []
    for each in slices:
        group.append(each)
        if not each.keep:
            yield group
            group = []
    if group:
        yield group


def heading(title: str, width: float) -> list[Slice]:
    """Return the heading of a part."""
    return [Slice(paragraph(title, width, TITLE, "bold", role="title"))]


def part_rule(width: float) -> Slice:
    """Return the rule over a part that begins within a page."""
    return Slice(Block(4.0, lambda x, y: (rule(x, y, width, HEAVY, INK),)), keep=True)


def side_head(prose: Prose, title: str, under: Sequence[str], measures: Measures) -> Block:
    """Return what stands beside text: what it is about, and smaller lines under that."""
    width = measures.side or measures.text
    parts = [prose.block(title, width, LABEL, "bold", role="heading")]
    parts += [prose.block(each, width, BODY, colour=SOFT) for each in under]
    if not measures.side:
        parts.append(Block(1.5, lambda x, y: ()))
    # The first line of a heading stands on the line of the text beside it.
    shift = line_step(BODY) - line_step(LABEL) if measures.side else 0.0
    block = stack(parts)
    return Block(block.height + shift, lambda x, y: block.draw(x, y + shift / 2))
