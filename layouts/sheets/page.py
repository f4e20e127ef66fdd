"""The pages of one sheet: head, foot, what flows between them, and what is said at a page break.

Nothing is ever shrunk. A block that does not fit on what is left of a page goes to the next one;
the running head of a table is drawn again there.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from cards.heading import Heading
from layouts.drawing import Drawing, Line, Mark, Page, Part
from layouts.paper import Frame, PaperTooSmall, hole_marks
from layouts.sheets.parts import (
    CHECKED,
    HAIRLINE,
    HEAVY,
    INK,
    SOFT,
    Block,
    baseline,
    beside,
    blank,
    leading,
    note_lines,
    paragraph,
    part,
    rule,
    stack,
)
from layouts.typeface import BODY, LABEL, NOTE, TITLE, label, measure

_AFTER_HEAD = 3.0
# A number of pages not smaller than any sheet has, to reckon the head before they are counted.
_MANY = 888

_RULER_WIDTH = 50.8
_RULER_LINE = 0.25
_BETWEEN = 2.2

# On narrower paper the words of the foot stand above the ruler instead of beside it.
_NARROW = 125.0

_NOTES_LEAST = 11.0
_NOTES_MOST = 46.0
_CONTINUES = leading(BODY) + 1.0
_HAIR = 0.01  # what reckoning may lose


_BEFORE_CAUTION = 2.0


class PageFlow:
    """Collects the blocks of a sheet page by page, then gives them head and foot."""

    def __init__(self, frame: Frame, heading: Heading, legend: str = "") -> None:
        self._frame = frame
        self._heading = heading
        self._legend = legend
        self.x, self._top, self.width, self._height = frame.content
        self._feet = self._foot_block(first=True), self._foot_block(first=False)
        self._bodies: list[list[Mark]] = []
        self._y = 0.0
        self._fresh = True
        self.running_head: Block | None = None
        self._open_page()

    @property
    def left_handed(self) -> bool:
        """Whether boxes to tick and lines to write on stand clear of a left hand."""
        return self._frame.left_handed

    @property
    def room(self) -> float:
        """Height in mm that is left on this page."""
        return self._bottom() - self._y

    @property
    def full_room(self) -> float:
        """Height in mm of a page that holds nothing but head, foot and the running head."""
        running = self.running_head.height if self.running_head else 0.0
        head = self._head_block(1).height + _AFTER_HEAD
        foot = self._feet[1].height + _CONTINUES
        return self._height - foot - head - running

    def add(self, block: Block) -> None:
        """Place a block on this page, or on the next if it does not fit here.

        Raises PaperTooSmall for one that no page holds: it would lie over the foot.
        """
        if block.height > self.room and not self._fresh:
            self.turn()
        # The line that says where a sheet goes on may be given up for it.
        if block.height > self.room + _CONTINUES + _HAIR:
            raise self._too_small(block.height)
        self._bodies[-1].extend(block.draw(self.x, self._y))
        self._y += block.height
        self._fresh = False

    def _too_small(self, height: float) -> PaperTooSmall:
        """Return what is wrong where a part of `height` mm has no room, with what would do."""
        by, lacking = self._frame.magnify, height - self.room
        would_do = math.ceil((self._frame.height + lacking) * by)
        return PaperTooSmall(
            f"a part of the sheet '{self._heading.card}' is {height * by:.0f} mm high, and the "
            f"page has {self.room * by:.0f} mm for it; paper of this width, {would_do} mm high, "
            "would do"
        )

    def keep(self, blocks: Iterable[Block], head: Block | None = None) -> None:
        """Place blocks one below another, all on one page if a page can hold them.

        Where they go on to a further page, `head` is repeated there.
        """
        kept = list(blocks)
        # The first page has less room: nothing goes on to a further one to leave it empty.
        if sum(block.height for block in kept) <= (self.room if self._fresh else self.full_room):
            self.add(stack(kept))
            return
        before = self.running_head
        self.add(kept[0])
        self.running_head = head or before
        for block in kept[1:]:
            self.add(block)
        self.running_head = before

    def gap(self, height: float) -> None:
        """Leave `height` mm free; nothing at the top of a page or where none is left."""
        if not self._fresh:
            self._y += min(height, max(0.0, self.room))

    def turn(self) -> None:
        """Go on to the next page."""
        self._open_page()
        if self.running_head is not None:
            self._bodies[-1].extend(self.running_head.draw(self.x, self._y))
            self._y += self.running_head.height

    def notes(self, caution: str = "") -> None:
        """Give what is left of the page to notes in pencil, and say who checked the sheet.

        Where no room is left that stands in the line that on other pages says where they continue.
        A caution comes before the notes where there is room for it: it never takes a page.
        """
        self.running_head = None
        if caution:
            block = paragraph(caution, self.width, BODY, colour=SOFT)
            if block.height + _BEFORE_CAUTION <= self.room:
                self.gap(_BEFORE_CAUTION)
                self.add(block)
        self.gap(4.0)
        if self.room >= _NOTES_LEAST:
            self.add(note_lines(min(self.room, _NOTES_MOST), self.width))
            return
        if self.room < 0.0:
            return  # a drawing as high as the page has taken that line too
        at = self._bottom() + baseline(BODY)
        checked = blank(self.x + self.width - CHECKED, at, CHECKED, "checked by")
        self._bodies[-1].extend(checked)

    def drawing(self, title: str, slug: str) -> Drawing:
        """Return the finished sheet."""
        number = len(self._bodies)
        pages = tuple(self._finished(place, number, title) for place in range(number))
        return Drawing(title, slug, pages)

    def _bottom(self) -> float:
        foot = self._feet[min(len(self._bodies) - 1, 1)]
        return self._top + self._height - foot.height - _CONTINUES

    def _open_page(self) -> None:
        head = self._head_block(len(self._bodies))
        self._bodies.append([])
        self._y = self._top + head.height + _AFTER_HEAD
        self._fresh = True

    def _finished(self, place: int, number: int, title: str) -> Page:
        marks: list[Mark] = [*hole_marks(self._frame)]
        head = self._head_block(place, number)
        # Whoever hears the sheet read hears head and foot once.
        marks.extend((part(head, "page head") if place else head).draw(self.x, self._top))
        marks.extend(self._bodies[place])
        block = self._feet[min(place, 1)]
        foot = self._top + self._height - block.height
        if place + 1 < number:
            words = f"continues on page {place + 2} of {number}"
            at = foot - _CONTINUES + baseline(BODY)
            marks.append(
                Part(
                    (label(self.x + self.width, at, words, BODY, "bold", "end", SOFT),),
                    "page foot",
                )
            )
        marks.extend((part(block, "page foot") if place else block).draw(self.x, foot))
        name = f"{title}, page {place + 1}"
        return Page(self._frame.width, self._frame.height, tuple(marks), name)

    def _head_block(self, place: int, number: int = _MANY) -> Block:
        heading = self._heading
        # On an enlarged page the word would take a line: the number of the page says as much.
        further = place and self._frame.magnify == 1.0
        card = f"{heading.card}, continued" if further else heading.card
        parts = (heading.seat, heading.code, heading.date, f"page {place + 1} of {number}")
        right = " · ".join(text for text in parts if text)
        left = paragraph(card, self.width, LABEL, "bold", SOFT, role="title")
        room = self.width - measure(card, LABEL, "bold") - 4.0
        if measure(right, BODY) <= room:
            top = beside(
                [(0.0, left), (0.0, paragraph(right, self.width, BODY, colour=SOFT, anchor="end"))]
            )
        else:
            top = stack([left, paragraph(right, self.width, BODY, colour=SOFT)])
        title = paragraph(heading.title, self.width, LABEL if place else TITLE, "bold")
        inner = stack([top, title])

        def draw(x: float, y: float) -> Iterable[Mark]:
            yield from inner.draw(x, y)
            line = y + inner.height + 1.0
            yield Line(x, line, x + self.width, line, HEAVY, INK)

        return Block(inner.height + 1.0 + HEAVY, draw)

    def _foot_block(self, *, first: bool) -> Block:
        """Return the foot: on the first page also whose card it is, and for which loom.

        On every page it says from which state of the spec the card was printed.
        """
        heading = self._heading
        system = "metric" if heading.units == "metric" else "imperial"
        parties = (heading.maker, heading.loom, system, heading.mirrored) if first else ()
        words = " · ".join(text for text in parties if text)
        spec = f"{heading.printed_from} {heading.fingerprint}" if heading.fingerprint else ""
        both = self._words_and_ruler(words, spec, metric=heading.units == "metric")

        def draw(x: float, y: float) -> Iterable[Mark]:
            yield rule(x, y + 1.0, self.width, HAIRLINE, SOFT)
            yield from both.draw(x, y + 2.0)

        return Block(both.height + 2.0, draw)

    def _words_and_ruler(self, words: str, spec: str, *, metric: bool) -> Block:
        magnify, parts = self._frame.magnify, [text for text in (words, self._legend) if text]
        if magnify > 1.0:
            line = _test_line(self.width, spec, magnify, metric=metric)
            told = paragraph(" · ".join(parts), self.width, NOTE, colour=SOFT)
            return stack([told, line])
        ruler = _test_rule(spec, metric=metric)
        if self.width < _NARROW:
            told = paragraph(" · ".join(parts), self.width, NOTE, colour=SOFT)
            return stack([told, beside([(self.width - _RULER_WIDTH, ruler)])])
        width = self.width - _RULER_WIDTH - 6.0
        told = stack([paragraph(text, width, NOTE, colour=SOFT) for text in parts])
        return beside([(0.0, told), (self.width - _RULER_WIDTH, ruler)])


def _test_rule(spec: str, *, metric: bool) -> Block:
    """Return a rule of exactly 50 mm or 2 in, which shows whether the printer kept the size.

    `spec` stands before its words, where there is room on every paper, so that no page has a line
    the less for it; it may reach a little out of the ruler's width to the left.
    """
    height = leading(NOTE) + 4.0

    def draw(x: float, y: float) -> Iterable[Mark]:
        right, at = x + _RULER_WIDTH, y + baseline(NOTE)
        words = _true_words(metric=metric)
        if spec:
            before = right - measure(words, NOTE) - _BETWEEN
            yield label(before, at, spec, NOTE, "bold", "end", SOFT)
        rule_words = label(right, at, words, NOTE, "regular", "end", SOFT)
        ruler = _ruler(right, y + height - 0.5, 1.0, metric=metric)
        yield Part((rule_words, *ruler), "page foot")

    return Block(height, draw)


def _test_line(width: float, spec: str, magnify: float, *, metric: bool) -> Block:
    """Return the test rule of a page that will be enlarged, with its words in front of it.

    It is drawn so much smaller, and is 50 mm or 2 in on paper.
    """
    height = leading(NOTE) + 0.3

    def draw(x: float, y: float) -> Iterable[Mark]:
        right, at = x + width, y + baseline(NOTE)
        if spec:
            yield label(x, at, spec, NOTE, "bold", colour=SOFT)
        before = right - _RULER_WIDTH / magnify - _BETWEEN
        rule_words = label(before, at, _true_words(metric=metric), NOTE, "regular", "end", SOFT)
        yield Part((rule_words, *_ruler(right, at, magnify, metric=metric)), "page foot")

    return Block(height, draw)


def _true_words(*, metric: bool) -> str:
    return "50 mm if printed true" if metric else "2 in if printed true"


def _ruler(right: float, line: float, magnify: float, *, metric: bool) -> Iterable[Mark]:
    """Yield a ruler that ends at `right`, its line at `line`, and is of its true size on paper."""
    length, steps = (50.0 / magnify, 5) if metric else (50.8 / magnify, 8)
    left = right - length
    yield Line(left, line, right, line, _RULER_LINE, INK)
    for step in range(steps + 1):
        at = left + length * step / steps
        tall = 2.6 if step in (0, steps) else 1.4
        yield Line(at, line, at, line - tall, _RULER_LINE, INK)
