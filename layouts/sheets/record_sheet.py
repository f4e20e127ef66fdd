"""Draws the record: planned figures beside room for the real ones, samples, finish, changes.

What was measured stands where the pencil would write.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from cards.record_sheet import STAGES, Group, Kept, RecordSheet, StageRow, YarnKept
from layouts.drawing import Box, Drawing, Mark
from layouts.paper import Frame
from layouts.sheets.page import PageFlow
from layouts.sheets.parts import (
    HAIR,
    HAIRLINE,
    INK,
    PATCH_HEIGHT,
    PATCH_WIDTH,
    SOFT,
    Block,
    baseline,
    beside,
    blank,
    heading_line,
    leading,
    paragraph,
    rule,
    stack,
    yarn_patch,
)
from layouts.typeface import BODY, LABEL, NOTE, label, measure

SLUG = "record"

_LEGEND: Final = "Small: planned. On the line: what it really was."

_LINE: Final = 7.0  # room for a line of handwriting
_GAP: Final = 3.0
_WRITING: Final = 22.0  # least room for a name or a date
_FINISH: Final = (
    "water, soap", "how warm, how long", "rinsed, spun", "dried, pressed", "hems, fringes",
)  # fmt: skip
_TAPE: Final = 10.0
_PICTURE: Final = (22.0, 46.0)  # least and most height of a sample

# Paper at least so wide has two columns of figures.
_WIDE: Final = 150.0
_BETWEEN: Final = 8.0
_GAP_PARTS: Final = 2.5


def draw_record_sheet(card: RecordSheet, frame: Frame) -> Drawing:
    """Return the pages of a record."""
    flow = PageFlow(frame, card.heading, _LEGEND)
    wide = flow.width >= _WIDE
    flow.add(_blanks(card.blanks, flow.width))
    for sizes in card.sizes:
        flow.gap(_GAP_PARTS)
        head = heading_line(sizes.title, flow.width, sizes.words)
        table = _stages(sizes.stages, flow.width, inline=wide, left_handed=flow.left_handed)
        flow.add(stack([head, table]))
    _add_groups(flow, card, 2 if wide else 1)
    flow.gap(_GAP_PARTS)
    _add_yarns(flow, card.yarns)
    flow.gap(_GAP_PARTS)
    flow.add(_finish(card, flow.width))
    flow.gap(_GAP_PARTS)
    _add_pictures(flow, _BOXES if card.photographs else (*_BOXES, "photograph"), wide=wide)
    if card.photographs:
        # Read where there are any: Pillow takes its time to come.
        from layouts.sheets.photographs import add_photographs  # noqa: PLC0415

        flow.gap(_GAP_PARTS)
        add_photographs(flow, card.photographs, frame)
    flow.notes()
    return flow.drawing("Record", SLUG)


def _add_groups(flow: PageFlow, card: RecordSheet, columns: int) -> None:
    """Place the groups of figures, `columns` of them side by side, and how they are reckoned."""
    each = (flow.width - _BETWEEN * (columns - 1)) / columns
    for at in range(0, len(card.groups), columns):
        flow.gap(_GAP_PARTS)
        row = card.groups[at : at + columns]
        flow.add(
            beside(
                [
                    (
                        place * (each + _BETWEEN),
                        _group(group, each, left_handed=flow.left_handed),
                    )
                    for place, group in enumerate(row)
                ]
            )
        )
    flow.gap(1.0)
    flow.add(paragraph(card.how, flow.width, NOTE, colour=SOFT))


def _group(group: Group, width: float, *, left_handed: bool) -> Block:
    """Return figures below one another: name, what was planned, and what it was.

    For a left hand the line to write on comes first.
    """
    planned, real = 0.47 * width, 0.76 * width
    long = width - real
    before = long + _GAP / 2 if left_handed else 0.0
    lines = [heading_line(group.title, width)]
    for row in group.rows:
        texts = [
            (before, paragraph(row.name, planned - _GAP, BODY)),
            (
                before + planned,
                paragraph(row.kept.planned, real - planned - _GAP / 2, NOTE, colour=SOFT),
            ),
        ]
        lines.append(_figure(texts, row.kept.actual, 0.0 if left_handed else real, long))
    return stack(lines)


def _figure(texts: Sequence[tuple[float, Block]], actual: str, left: float, width: float) -> Block:
    tall = max(_LINE, *(block.height + 1.5 for _, block in texts))

    def draw(x: float, y: float) -> Iterable[Mark]:
        for at, block in texts:
            yield from block.draw(x + at, y + tall - block.height - 0.6)
        if actual:
            yield label(x + left, y + tall - 1.8, actual, LABEL, "bold", colour=INK)
        yield rule(x + left, y + tall - 0.8, width, HAIRLINE, SOFT)

    return Block(tall, draw)


def _blanks(words: Sequence[str], width: float) -> Block:
    """Return lines to write on behind words, equally long, in as few rows as give them room."""
    rows = 1
    while (room := _writing(words, width, rows)) < _WRITING and rows < len(words):
        rows += 1
    in_row = -(-len(words) // rows)

    def draw(x: float, y: float) -> Iterable[Mark]:
        left = x
        for place, text in enumerate(words):
            row, column = divmod(place, in_row)
            left = x if not column else left
            # The last of a row goes on to the margin.
            last = column == in_row - 1 or place == len(words) - 1
            long = x + width - left if last else measure(text, BODY) + room
            yield from blank(left, y + (row + 1) * _LINE - 2.0, long, text)
            left += long + _GAP

    return Block(rows * _LINE, draw)


def _writing(words: Sequence[str], width: float, rows: int) -> float:
    """Return the room in mm for writing behind each of some words in so many rows."""
    in_row = -(-len(words) // rows)
    parts = [words[at : at + in_row] for at in range(0, len(words), in_row)]
    said = max(sum(measure(text, BODY) for text in part) for part in parts)
    return (width - said - _GAP * (in_row - 1)) / in_row


def _stages(rows: Sequence[StageRow], width: float, *, inline: bool, left_handed: bool) -> Block:
    """Return the sizes as a table, a column for each stage; `inline` has both figures on a line."""
    lead = min(max(measure(row.name, BODY) for row in rows) + _GAP, 0.25 * width)
    pitch = (width - lead) / len(STAGES)
    names = [paragraph(row.name, lead - _GAP, BODY) for row in rows]
    heads = [paragraph(stage, pitch - _GAP, NOTE, "bold", colour=SOFT) for stage in STAGES]
    head = max(block.height for block in heads) + 0.8
    tall = _LINE if inline else leading(NOTE) + _LINE

    def draw(x: float, y: float) -> Iterable[Mark]:
        for place, block in enumerate(heads):
            yield from block.draw(x + lead + place * pitch, y + head - 0.8 - block.height)
        yield rule(x, y + head - 0.4, width, 0.4, INK)
        for at, (row, name) in enumerate(zip(rows, names, strict=True)):
            top = y + head + at * tall
            yield from name.draw(x, top + tall - name.height - 0.6)
            for place, kept in enumerate(row.stages):
                left = x + lead + place * pitch
                if kept is None:
                    yield label(left, top + tall - 1.8, "–", BODY, colour=SOFT)
                else:
                    last = place == len(STAGES) - 1
                    room = pitch - (0.0 if last else _GAP)
                    swapped = inline and left_handed
                    yield from _kept(kept, left, top, room, tall, inline=inline, swapped=swapped)

    return Block(head + len(rows) * tall, draw)


def _kept(
    kept: Kept, x: float, y: float, width: float, tall: float, *, inline: bool, swapped: bool
) -> Iterable[Mark]:
    """Draw the planned figure small, and beside or under it the real one or a line for it.

    `swapped` has the line first.
    """
    start = x + (0.46 * width if inline and not swapped else 0.0)
    long = 0.54 * width if inline else width
    if kept.planned:
        at = y + tall - 1.8 if inline else y + baseline(NOTE) + 0.6
        left = x + long + _GAP / 3 if swapped else x
        yield label(left, at, kept.planned, NOTE, colour=SOFT)
    if kept.actual:
        yield label(start, y + tall - 1.8, kept.actual, LABEL, "bold", colour=INK)
    yield rule(start, y + tall - 0.8, long, HAIRLINE, SOFT)


def _add_yarns(flow: PageFlow, yarns: Sequence[YarnKept]) -> None:
    """Place the yarns, each with room to tape some of it."""
    title = heading_line("Yarn", flow.width)
    order = _FOR_A_LEFT_HAND if flow.left_handed else _MASSES
    head = stack([title, _yarn_head(flow.width, order)])
    blocks = [_yarn(each, flow.width, order) for each in yarns]
    flow.add(stack([head, blocks[0]]))
    more = heading_line("Yarn, continued", flow.width)
    flow.running_head = stack([more, _yarn_head(flow.width, order)])
    for block in blocks[1:]:
        flow.add(block)
    flow.running_head = None


_MASSES: Final = ("planned", "before", "after", "used")
_FOR_A_LEFT_HAND: Final = ("before", "after", "used", "planned")


def _columns(width: float) -> tuple[float, float, float]:
    """Return where the masses begin, how far apart they are, and where the box to tape begins."""
    box = 0.17 * width
    first = 0.31 * width
    return first, (width - first - box) / len(_MASSES), width - box + _GAP


def _yarn_head(width: float, order: Sequence[str]) -> Block:
    first, pitch, box = _columns(width)
    words = [(first + place * pitch, text) for place, text in enumerate(order)]
    words.append((box, "tape"))

    def draw(x: float, y: float) -> Iterable[Mark]:
        for left, text in words:
            yield label(x + left, y + baseline(NOTE), text, NOTE, "bold", colour=SOFT)
        yield rule(x, y + leading(NOTE) + 0.4, width, 0.4, INK)

    return Block(leading(NOTE) + 0.8, draw)


def _yarn(each: YarnKept, width: float, order: Sequence[str]) -> Block:
    first, pitch, box = _columns(width)
    name = paragraph(each.yarn.name, first - PATCH_WIDTH - 2 * _GAP, BODY)
    tall = max(_TAPE, name.height) + 2.0
    masses = [(name, str(getattr(each, name))) for name in order]

    def draw(x: float, y: float) -> Iterable[Mark]:
        middle = y + tall / 2
        yield from yarn_patch(each.yarn, x, middle - PATCH_HEIGHT / 2, PATCH_WIDTH, PATCH_HEIGHT)
        yield from name.draw(x + PATCH_WIDTH + _GAP, middle - name.height / 2)
        for place, (name_of_mass, mass) in enumerate(masses):
            left, at = x + first + place * pitch, middle + 1.8
            if name_of_mass == "planned":
                yield label(left, at, mass, BODY, colour=SOFT)
                continue
            if mass:
                yield label(left, at, mass, BODY, "bold", colour=INK)
            yield rule(left, at + 1.0, pitch - _GAP, HAIRLINE, SOFT)
        yield Box(x + box, y + 1.0, width - box, tall - 2.0, None, HAIR, 0.3)
        yield label(
            x + box + 1.2, y + 1.0 + baseline(NOTE), each.yarn.letter, NOTE, "bold", colour=SOFT
        )

    return Block(tall, draw)


def _finish(card: RecordSheet, width: float) -> Block:
    """Return lines for how the cloth was finished, with the cautions."""
    cautions = paragraph(card.cautions, width, NOTE, colour=SOFT)
    return stack([heading_line("Finish", width), _blanks(_FINISH, width), cautions], gap=0.4)


_BOXES: Final = ("sample unwashed", "sample washed")


def _add_pictures(flow: PageFlow, boxes: Sequence[str], *, wide: bool) -> None:
    """Place boxes for samples, with lines for what to change beside or below."""
    over = leading(NOTE) + 0.6
    if flow.room < over + _PICTURE[0]:
        flow.turn()
    height = min(_PICTURE[1], max(_PICTURE[0], flow.room - over))
    if wide:
        across = 0.66 * flow.width
        pictures = (0.0, _pictures(boxes, across, height))
        lines = (across + _BETWEEN, _lines(flow.width - across - _BETWEEN, height + over))
        flow.add(beside([pictures, lines]))
        return
    flow.add(_pictures(boxes, flow.width, _PICTURE[0]))
    flow.gap(_GAP_PARTS)
    least, most = leading(NOTE) + 2 * _LINE, leading(NOTE) + 4 * _LINE
    flow.add(_lines(flow.width, min(most, max(least, flow.room))))


def _pictures(boxes: Sequence[str], width: float, height: float) -> Block:
    """Return boxes with their words above them, for samples before and after washing."""
    each = (width - _GAP * (len(boxes) - 1)) / len(boxes)

    def draw(x: float, y: float) -> Iterable[Mark]:
        for place, text in enumerate(boxes):
            left = x + place * (each + _GAP)
            yield label(left, y + baseline(NOTE), text, NOTE, "bold", colour=SOFT)
            yield Box(left, y + leading(NOTE) + 0.6, each, height, None, HAIR, 0.3)

    return Block(leading(NOTE) + 0.6 + height, draw)


def _lines(width: float, height: float) -> Block:
    """Return lines for what the weaver would change."""
    number = int((height - leading(NOTE)) / _LINE)

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield label(x, y + baseline(NOTE), "what I would change", NOTE, "bold", colour=SOFT)
        for place in range(number):
            yield rule(x, y + height - place * _LINE, width, HAIRLINE, SOFT)

    return Block(height, draw)
