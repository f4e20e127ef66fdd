"""Prose: paragraphs, lists and figures as slices, of which a flow makes pages.

A paragraph is broken where its lines are most even, not where each is just full, and its last line
is no word alone. A slice that is kept stays on one page with the next one: so a heading stands with
what follows it, and neither the first nor the last line of a paragraph stands alone on a page.

Text may name a page by `page_of`. Its number is not known while pages are still made, so lines are
broken for a number of so many digits, and stay as they are whatever it will be.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import chain
from typing import Final

from layouts.drawing import Disc, Mark, Role, Weight
from layouts.sheets.parts import INK, SOFT, Block, baseline, beside, part, stack, tick_box
from layouts.typeface import (
    BODY,
    MM_PER_PT,
    NOTE,
    breakable,
    cap_height,
    label,
    measure,
    wrap,
)

# Line spacing of text that is read, as a share of the type size.
_LEADING: Final = 1.4

# Costs of a line: one line more is worse than any ragged edge, a short last line is a blemish.
_LINE: Final = 4.0
_SHORT: Final = 0.16
_SHORT_COST: Final = 0.6

_BETWEEN_ITEMS: Final = 1.6
_BULLET: Final = 4.0
_TICK: Final = 4.2
_TICK_ROOM: Final = 7.0

_PAGE: Final = re.compile("\ue000([^\ue001]*)\ue001")
_NUMBER: Final = "\ue000"
# A figure and its unit, or what is counted, stay on one line; so do a word and the page it is on.
_TIED: Final = re.compile(
    "(?<=[0-9½¼¾⅛⅜⅝⅞]) (?=(?:in|yd|cm|m|g|oz|lb|per|×|%|ends|picks|[½¼¾⅛⅜⅝⅞])(?!\\w))"
    "|(?<=[0-9½¼¾⅛⅜⅝⅞][ \u00a0](?:in|yd|cm|oz|lb)) (?=\\([0-9⅛¼⅜½⅝¾⅞])"
    "|(?<=[0-9½¼¾⅛⅜⅝⅞][ \u00a0][mg]) (?=\\([0-9⅛¼⅜½⅝¾⅞])"
    f"| (?={_NUMBER})"
)


@dataclass(frozen=True, slots=True, eq=False)
class Tag:
    """What slices are that are read together, such as one paragraph or one list."""

    role: Role


@dataclass(frozen=True, slots=True)
class Slice:
    """A part of a page that is never cut; with `keep` it stays on one page with the next one.

    `head` is drawn once more over it where it is the first on a page. `within` are the tags that it
    shares with its neighbours, the outermost first.
    """

    block: Block
    keep: bool = False
    head: Block | None = None
    within: tuple[Tag, ...] = ()


def page_of(name: str) -> str:
    """Return what stands in a text for the number of the page on which something begins."""
    return f"\ue000{name}\ue001"


def line_step(size: float) -> float:
    """Return the distance in mm from one line of prose to the next."""
    return size * MM_PER_PT * _LEADING


def room(height: float, *, keep: bool = True) -> Slice:
    """Return free room, which stays with what follows it."""
    return Slice(Block(height, lambda x, y: ()), keep)


def fit_lines(
    text: str,
    width: float,
    size: float,
    weight: Weight = "regular",
    digits: int = 2,
    indent: float = 0.0,
) -> list[str]:
    """Return a paragraph in the most even lines of at most `width` mm, as few as there can be.

    The first line begins `indent` mm in. A word wider than a line is broken. The places of page
    numbers are measured as `digits` figures.

    >>> fit_lines("Wind the warp in bouts, count each and tie it", 50, BODY)
    ['Wind the warp in bouts, count', 'each and tie it']
    """

    def wide(part: str) -> float:
        return measure(part.replace(_NUMBER, "8" * digits), size, weight)

    parts: list[str] = []
    for each in breakable(text.strip()):
        if wide(each.strip()) > width and _NUMBER not in each:
            first, *more = wrap(each.strip(), width, size, weight)
            parts += [each[: len(each) - len(each.lstrip(" "))] + first, *more]
        else:
            parts.append(each)
    widths = [wide(each) for each in parts]
    spaces = [wide(each) - wide(each.lstrip(" ")) for each in parts]
    return ["".join(parts[a:b]).strip(" ") for a, b in _breaks(widths, spaces, width, indent)]


def _breaks(
    widths: Sequence[float], spaces: Sequence[float], width: float, indent: float
) -> list[tuple[int, int]]:
    """Return from which part to which each line goes, at the least cost of all."""
    number = len(widths)
    best: list[tuple[float, int]] = [(0.0, 0)] + [(float("inf"), 0)] * number
    for start in range(number):
        used = -spaces[start] if start else indent - spaces[start]
        for stop in range(start + 1, number + 1):
            used += widths[stop - 1]
            if used > width + 1e-9 and stop > start + 1:
                break
            cost = best[start][0] + _cost(used, width, last=stop == number)
            if cost < best[stop][0]:
                best[stop] = (cost, start)
    lines: list[tuple[int, int]] = []
    stop = number
    while stop:
        lines.append((best[stop][1], stop))
        stop = best[stop][1]
    return lines[::-1]


def _cost(used: float, width: float, *, last: bool) -> float:
    if last:
        return _LINE + (_SHORT_COST if used < _SHORT * width else 0.0)
    return _LINE + (max(0.0, width - used) / width) ** 2


@dataclass(frozen=True, slots=True)
class Prose:
    """Sets text; `pages` has the number of the page that each name stands for, as far as known."""

    pages: Mapping[str, int] = field(default_factory=dict)
    digits: int = 2

    def number(self, name: str) -> str:
        """Return the number of a page, eights while it is not known."""
        known = self.pages.get(name)
        return "8" * self.digits if known is None else str(known)

    def lines(
        self,
        text: str,
        width: float,
        size: float,
        weight: Weight = "regular",
        indent: float = 0.0,
    ) -> list[str]:
        """Return text in lines, with the numbers of pages put in."""
        names = iter(_PAGE.findall(text))
        marked = _PAGE.sub(_NUMBER, text)
        marked = _TIED.sub("\N{NO-BREAK SPACE}", marked)
        found = chain.from_iterable(
            fit_lines(each, width, size, weight, self.digits, 0.0 if place else indent)
            for place, each in enumerate(marked.split("\n"))
        )
        return [re.sub(_NUMBER, lambda _: self.number(next(names)), line) for line in found]

    def paragraph(
        self,
        text: str,
        width: float,
        size: float = BODY,
        weight: Weight = "regular",
        colour: str = INK,
        role: Role = "paragraph",
    ) -> list[Slice]:
        """Return a paragraph line by line; two lines at least stay together at either end."""
        lines = self.lines(text, width, size, weight)
        return _together([_line(line, size, weight, colour) for line in lines], Tag(role))

    def defined(self, word: str, text: str, width: float, size: float = BODY) -> list[Slice]:
        """Return a paragraph that begins with a word in bold."""
        indent = measure(word, size, "bold") + 2.0
        if indent > width / 2:
            return [
                *(replace(each, keep=True) for each in self.paragraph(word, width, size, "bold")),
                *self.paragraph(text, width, size),
            ]
        lines = self.lines(text, width, size, "regular", indent)
        blocks = [_line(line, size, "regular", INK) for line in lines]
        first = [(0.0, _line(word, size, "bold", INK)), *((indent, each) for each in blocks[:1])]
        return _together([beside(first), *blocks[1:]], Tag("paragraph"))

    def block(
        self,
        text: str,
        width: float,
        size: float = BODY,
        weight: Weight = "regular",
        colour: str = INK,
        role: Role = "paragraph",
    ) -> Block:
        """Return a paragraph that stays together."""
        slices = self.paragraph(text, width, size, weight, colour)
        return part(stack([each.block for each in slices]), role)

    def bullets(self, texts: Iterable[str], width: float, size: float = BODY) -> list[Slice]:
        """Return a list whose items hang from a dot."""
        return self._items(texts, width, size, _BULLET, _dot)

    def ticked(self, texts: Iterable[str], width: float, size: float = BODY) -> list[Slice]:
        """Return a list whose items hang from a box to tick."""
        return self._items(texts, width, size, _TICK_ROOM, _tick)

    def _items(
        self, texts: Iterable[str], width: float, size: float, indent: float, mark: _Marker
    ) -> list[Slice]:
        found: list[Slice] = []
        whole = Tag("list")
        for text in texts:
            item = (whole, Tag("item"))
            body = (*item, Tag("item body"))
            lines = self.paragraph(text, width - indent, size)
            sign = Block(0.0, lambda x, y: (mark(x, y, size),))
            made = [
                replace(each, block=_indented(each.block, indent), within=body) for each in lines
            ]
            below = made[-1].block
            made[-1] = replace(made[-1], block=stack([below, room(_BETWEEN_ITEMS).block]))
            found += [Slice(sign, keep=True, within=(*item, Tag("item label"))), *made]
        return found

    def captioned(self, figure: Block, caption: str, width: float) -> Slice:
        """Return a figure with its caption under it, which are never parted."""
        words = self.block(caption, width, NOTE, colour=SOFT, role="caption")
        return Slice(stack([figure, words], 2.4))


def _together(lines: Sequence[Block], tag: Tag) -> list[Slice]:
    """Return lines of a paragraph, of which two at least stay together at either end."""
    last = len(lines) - 1
    return [
        Slice(line, keep=place < last and place in {0, last - 1}, within=(tag,))
        for place, line in enumerate(lines)
    ]


_Marker = Callable[[float, float, float], Mark]


def _line(text: str, size: float, weight: Weight, colour: str) -> Block:
    step = line_step(size)
    at = baseline(size) + (step - size * MM_PER_PT * 1.28) / 2

    def draw(x: float, y: float) -> Iterable[Mark]:
        if text:
            yield label(x, y + at, text, size, weight, colour=colour)

    return Block(step, draw)


def _indented(block: Block, indent: float) -> Block:
    return Block(block.height, lambda x, y: block.draw(x + indent, y))


def _middle(y: float, size: float) -> float:
    """Return the middle of the capitals of a line whose top is at `y`."""
    at = baseline(size) + (line_step(size) - size * MM_PER_PT * 1.28) / 2
    return y + at - cap_height(size) / 2


def _dot(x: float, y: float, size: float) -> Mark:
    return Disc(x + 0.9, _middle(y, size), 0.55, fill=INK, stroke=None)


def _tick(x: float, y: float, size: float) -> Mark:
    return tick_box(x, _middle(y, size) - _TICK / 2, _TICK)
