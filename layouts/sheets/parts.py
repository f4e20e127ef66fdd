"""Small pieces that every sheet is put together from: paragraphs, boxes to tick, key figures."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from cards.project.model import ProjectYarn
from layouts.drawing import Anchor, Box, Figure, Line, Mark, Part, Role, Text, Weight, flat
from layouts.patch import hatch_count, patch
from layouts.typeface import BODY, FIGURE, LABEL, MM_PER_PT, NOTE, label, measure, wrap

INK = "#111111"
SOFT = "#404040"
HAIR = "#8c8c8c"
HAIRLINE = 0.15
HEAVY = 0.7

# Line spacing as a share of the type size.
_LEADING = 1.28

# Width of the line for who checked a sheet.
CHECKED = 50.0

BOX = 5.0
BOX_PITCH = 6.4


# A figure and its unit, or a whole number and its fraction, stay on one line.
_UNIT = re.compile("([0-9½¼¾⅛⅜⅝⅞]) (in|yd|cm|m|g|oz|lb|per|[½¼¾⅛⅜⅝⅞])\\b")


@dataclass(frozen=True, slots=True)
class Block:
    """Something `height` mm high that stays together on a page; `draw` places its top left."""

    height: float
    draw: Callable[[float, float], Iterable[Mark]]


def leading(size: float) -> float:
    """Return the distance in mm from one line of text to the next."""
    return size * MM_PER_PT * _LEADING


def baseline(size: float) -> float:
    """Return how far in mm the baseline stands below the top of a line of text."""
    return size * MM_PER_PT * 0.98


def paragraph(
    text: str,
    width: float,
    size: float = BODY,
    weight: Weight = "regular",
    colour: str = INK,
    anchor: Anchor = "start",
    role: Role = "paragraph",
) -> Block:
    """Return text wrapped to `width` mm; `anchor` says which side of that width it keeps to.

    `role` says what it is to those who hear it, such as a heading.
    """
    lines = wrap(_UNIT.sub("\\1\N{NO-BREAK SPACE}\\2", text), width, size, weight)
    step = leading(size)
    offset = {"start": 0.0, "middle": width / 2, "end": width}[anchor]

    def draw(x: float, y: float) -> Iterable[Mark]:
        for number, line in enumerate(lines):
            if line:
                at = y + baseline(size) + number * step
                yield label(x + offset, at, line, size, weight, anchor, colour)

    return part(Block(step * len(lines), draw), role)


def part(block: Block, role: Role) -> Block:
    """Return a block that is read as one part of the page, such as a heading or a list."""
    return Block(block.height, lambda x, y: (Part(tuple(block.draw(x, y)), role),))


def stack(blocks: Sequence[Block], gap: float = 0.0) -> Block:
    """Return blocks one below another as one block."""

    def draw(x: float, y: float) -> Iterable[Mark]:
        for block in blocks:
            yield from block.draw(x, y)
            y += block.height + gap

    return Block(sum(block.height for block in blocks) + gap * max(0, len(blocks) - 1), draw)


def beside(blocks: Sequence[tuple[float, Block]]) -> Block:
    """Return blocks side by side, each at its own distance in mm from the left, tops level."""

    def draw(x: float, y: float) -> Iterable[Mark]:
        for left, block in blocks:
            yield from block.draw(x + left, y)

    return Block(max((block.height for _, block in blocks), default=0.0), draw)


def pictured(marks: Iterable[Mark], title: str, words: str = "") -> Iterable[Figure]:
    """Yield marks as a figure, nothing if there are none; `words` stand for it, else its own."""
    drawn = tuple(marks)
    if drawn:
        texts = (mark.text for mark in flat(drawn) if isinstance(mark, Text))
        yield Figure(drawn, title, words or ", ".join(texts))


def tick_box(x: float, y: float, size: float = BOX) -> Part:
    """Return a box to tick, from its top left corner."""
    box = Box(x, y, size, size, fill="#ffffff", stroke=INK, line_width=0.3)
    return Part((box,), "tick box")


def rule(x: float, y: float, width: float, weight: float = HAIRLINE, colour: str = HAIR) -> Line:
    """Return a level rule `width` mm long."""
    return Line(x, y, x + width, y, weight, colour)


def key_figures(figures: Sequence[tuple[str, str]], width: float) -> Block:
    """Return large figures with a word under each, in as few rows as `width` allows."""
    size = FIGURE + 2
    widths = [max(measure(value, size, "bold"), measure(word, BODY)) for value, word in figures]
    rows = rows_of(widths, width, least_gap=4.0)
    height = leading(size) + leading(BODY) + 1.5

    def draw(x: float, y: float) -> Iterable[Mark]:
        for place, row in enumerate(rows):
            top = y + place * height
            free = width - sum(widths[index] for index in row)
            gap = min(16.0, free / max(1, len(row) - 1))
            left = x
            for index in row:
                value, word = figures[index]
                under = top + leading(size) + baseline(BODY) - 0.8
                large = label(left, top + baseline(size), value, size, "bold", colour=INK)
                yield Part((large, label(left, under, word, BODY, colour=SOFT)), "paragraph")
                left += widths[index] + gap

    return Block(len(rows) * height, draw)


def rows_of(widths: Sequence[float], width: float, least_gap: float) -> list[list[int]]:
    """Return the indexes of things `widths` wide, as even rows that are not wider than `width`."""
    for number in range(1, len(widths) + 1):
        each = -(-len(widths) // number)
        rows = [list(range(at, min(at + each, len(widths)))) for at in range(0, len(widths), each)]
        if all(
            sum(widths[index] for index in row) + least_gap * (len(row) - 1) <= width
            for row in rows
        ):
            return rows
    return [[index] for index in range(len(widths))]


def yarn_patch(yarn: ProjectYarn, x: float, y: float, width: float, height: float) -> tuple[Figure]:
    """Return the patch of a yarn; where there are more yarns than hatches, the letter tells.

    The plain patch is left out, so that no patch is told by its colour alone.
    """
    marks = patch(x, y, width, height, yarn.colour, hatch_of(yarn), yarn.letter)
    return (Figure(marks, f"Yarn {yarn.letter}"),)


def hatch_of(yarn: ProjectYarn) -> int:
    """Return the hatch of a yarn."""
    return 1 + yarn.hatch % (hatch_count - 1)


# The patch of a yarn in a line of large figures, in mm.
PATCH_WIDTH = 9.0
PATCH_HEIGHT = 7.0


def yarn_names(yarns: Sequence[ProjectYarn], width: float) -> Block:
    """Return yarns with patch and name, as many in a row as there is room for."""
    between = PATCH_WIDTH + 3.0
    names = [paragraph(yarn.name, width - between, LABEL) for yarn in yarns]
    widths = [between + min(measure(yarn.name, LABEL), width - between) for yarn in yarns]
    placed = [_yarn_name(yarn, name) for yarn, name in zip(yarns, names, strict=True)]
    rows = []
    for row in rows_of(widths, width, least_gap=8.0):
        lefts = [sum(widths[index] + 8.0 for index in row[:place]) for place in range(len(row))]
        rows.append(beside([(left, placed[index]) for left, index in zip(lefts, row, strict=True)]))
    return stack(rows)


def _yarn_name(yarn: ProjectYarn, name: Block) -> Block:
    height = max(name.height, PATCH_HEIGHT) + 1.2

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield from yarn_patch(yarn, x, y + 0.6, PATCH_WIDTH, PATCH_HEIGHT)
        yield from name.draw(x + PATCH_WIDTH + 3.0, y + (height - name.height) / 2)

    return Block(height, draw)


def blank(x: float, y: float, width: float, words: str) -> Iterable[Mark]:
    """Return a line to write on in pencil, with the words that say what, on the baseline `y`."""
    yield label(x, y, words, BODY, colour=SOFT)
    start = measure(words, BODY) + 1.5
    yield rule(x + start, y + 0.8, width - start, HAIRLINE, SOFT)


def heading_line(text: str, width: float, under: str = "") -> Block:
    """Return the heading of a part of a sheet, with smaller words under it."""
    parts = [paragraph(text, width, LABEL + 1, "bold", role="heading")]
    if under:
        parts.append(paragraph(under, width, BODY, colour=SOFT))
    return stack(parts)


def note_lines(height: float, width: float) -> Block:
    """Return ruled space for notes in pencil, `height` mm high."""

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield label(x, y + baseline(NOTE), "Notes", NOTE, "bold", colour=SOFT)
        yield from blank(x + width - CHECKED, y + baseline(BODY), CHECKED, "checked by")
        line = y + leading(NOTE) + 6.0
        while line < y + height:
            yield rule(x, line, width)
            line += 8.0

    return Block(height, draw)
