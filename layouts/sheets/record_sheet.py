"""Draws the record: planned figures beside room for the real ones, samples, finish, changes.

What was measured stands where the pencil would write.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from cards.record_sheet import STAGES, Kept, Loss, RecordSheet, StageRow, YarnKept
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

_LINE: Final = 7.5  # room for a line of handwriting
_GAP: Final = 3.0
_FINISH: Final = (
    "water, soap", "how warm, how long", "rinsed, spun", "dried, pressed", "hems, fringes",
)  # fmt: skip
_TAPE: Final = 15.0
_PICTURE: Final = 42.0
_NARROW: Final = 125.0
_LEAST_LINE: Final = 22.0


def draw_record_sheet(card: RecordSheet, frame: Frame) -> Drawing:
    """Return the pages of a record."""
    flow = PageFlow(frame, card.heading, _LEGEND)
    flow.add(_blanks(("for", "off the loom on", "finished on"), flow.width))
    flow.gap(2.0)
    title = heading_line("Sizes", flow.width, card.sizes)
    flow.add(stack([title, _stages(card.stages, flow.width)]))
    for words, rows in (("What was lost", card.losses), ("Warp", card.lengths)):
        flow.gap(3.0)
        _add_losses(flow, words, rows)
    flow.gap(3.0)
    _add_yarns(flow, card.yarns)
    flow.gap(2.0)
    flow.add(_hours_and_cost(card, flow.width))
    flow.gap(3.0)
    flow.add(_finish(card, flow.width))
    flow.gap(3.0)
    flow.add(_pictures(flow.width))
    flow.gap(3.0)
    flow.add(_lines("What I would change", 3, flow.width))
    flow.notes()
    return flow.drawing("Record", SLUG)


def _blanks(words: Sequence[str], width: float) -> Block:
    """Return lines to write on, each behind a word: side by side where there is room to write."""
    each = (width - _GAP * (len(words) - 1)) / len(words)
    beside = all(measure(text, BODY) + _LEAST_LINE <= each for text in words)
    step = (each + _GAP, 0.0) if beside else (0.0, _LINE)

    def draw(x: float, y: float) -> Iterable[Mark]:
        for place, text in enumerate(words):
            at = y + _LINE - 2.0 + place * step[1]
            yield from blank(x + place * step[0], at, each if beside else width, text)

    return Block(_LINE * (1 if beside else len(words)), draw)


def _stages(rows: Sequence[StageRow], width: float) -> Block:
    """Return the sizes as a table: a column for each stage."""
    lead = max(measure(row.name, BODY, "bold") for row in rows) + _GAP
    lead = min(lead, 0.25 * width)
    pitch = (width - lead) / len(STAGES)
    names = [paragraph(row.name, lead - _GAP, BODY, "bold") for row in rows]
    heads = [paragraph(each, pitch - _GAP, BODY, "bold", colour=SOFT) for each in STAGES]
    head = max(block.height for block in heads) + 1.2
    tall = leading(NOTE) + _LINE

    def draw(x: float, y: float) -> Iterable[Mark]:
        for place, block in enumerate(heads):
            yield from block.draw(x + lead + place * pitch, y + head - 1.2 - block.height)
        yield rule(x, y + head - 0.6, width, 0.4, INK)
        for at, (row, name) in enumerate(zip(rows, names, strict=True)):
            top = y + head + at * tall
            yield from name.draw(x, top + tall - name.height - 1.6)
            for place, kept in enumerate(row.stages):
                left = x + lead + place * pitch
                if kept is None:
                    yield label(left, top + tall - 2.2, "–", BODY, colour=SOFT)
                else:
                    yield from _kept(kept, left, top, pitch - _GAP, tall)

    return Block(head + len(rows) * tall, draw)


def _kept(kept: Kept, x: float, y: float, width: float, tall: float) -> Iterable[Mark]:
    """Draw the planned figure small, and under it the real one or a line to write it on."""
    if kept.planned:
        yield label(x, y + baseline(NOTE) + 0.6, kept.planned, NOTE, colour=SOFT)
    if kept.actual:
        yield label(x, y + tall - 2.2, kept.actual, LABEL, "bold", colour=INK)
    yield rule(x, y + tall - 1.2, width, HAIRLINE, SOFT)


def _add_losses(flow: PageFlow, words: str, rows: Sequence[Loss]) -> None:
    """Place rows of figures under a heading, which never stands alone."""
    blocks = _losses(rows, flow.width)
    flow.add(stack([heading_line(words, flow.width), *blocks[:2]]))
    flow.running_head = heading_line(f"{words}, continued", flow.width)
    for block in blocks[2:]:
        flow.add(block)
    flow.running_head = None


def _losses(rows: Sequence[Loss], width: float) -> list[Block]:
    """Return a line for each figure: its name, planned, real, and how it is reckoned."""
    name, planned, real = 0.3 * width, 0.2 * width, 0.16 * width
    how = width - name - planned - real
    blocks = []
    for row in rows:
        texts = [
            (0.0, paragraph(row.name, name - _GAP, BODY, "bold")),
            (name, paragraph(row.kept.planned, planned - _GAP, BODY, colour=SOFT)),
            (name + planned + real, paragraph(row.how, how, NOTE, colour=SOFT)),
        ]
        blocks.append(_loss(row, texts, name + planned, real - _GAP))
    return blocks


def _loss(row: Loss, texts: Sequence[tuple[float, Block]], left: float, width: float) -> Block:
    tall = max(_LINE, *(block.height + 2.0 for _, block in texts))

    def draw(x: float, y: float) -> Iterable[Mark]:
        for at, block in texts:
            yield from block.draw(x + at, y + tall - block.height - 1.2)
        if row.kept.actual:
            yield label(x + left, y + tall - 2.2, row.kept.actual, LABEL, "bold", colour=INK)
        yield rule(x + left, y + tall - 1.2, width, HAIRLINE, SOFT)

    return Block(tall, draw)


def _add_yarns(flow: PageFlow, yarns: Sequence[YarnKept]) -> None:
    """Place the yarns, each with room to tape some of it; two in a row where that fits."""
    title = heading_line("Yarn", flow.width, "Tape a piece of each yarn into its box.")
    head = stack([title, _yarn_head(flow.width)])
    blocks = [_yarn(each, flow.width) for each in yarns]
    flow.add(stack([head, blocks[0]]))
    flow.running_head = _yarn_head(flow.width)
    for block in blocks[1:]:
        flow.add(block)
    flow.running_head = None


_MASSES: Final = ("planned", "before", "after", "used")


def _columns(width: float) -> tuple[float, float, float]:
    """Return where the masses begin, how far apart they are, and where the box to tape begins.

    On narrow paper they stand under the name.
    """
    box = 0.2 * width
    first = 0.0 if width < _NARROW else 0.34 * width
    return first, (width - first - box) / len(_MASSES), width - box + _GAP


def _yarn_head(width: float) -> Block:
    first, pitch, _ = _columns(width)

    def draw(x: float, y: float) -> Iterable[Mark]:
        for place, text in enumerate(_MASSES):
            yield label(
                x + first + place * pitch, y + baseline(NOTE), text, NOTE, "bold", colour=SOFT
            )
        yield rule(x, y + leading(NOTE) + 0.4, width, 0.4, INK)

    return Block(leading(NOTE) + 0.8, draw)


def _yarn(each: YarnKept, width: float) -> Block:
    first, pitch, box = _columns(width)
    room = first or box
    name = paragraph(each.yarn.name, room - PATCH_WIDTH - 2 * _GAP, BODY)
    titled = max(PATCH_HEIGHT, name.height)
    # Beside the name, or in a line of their own under it.
    masses = _LINE if not first else 0.0
    tall = max(_TAPE + 2.0, titled + masses + 2.0)

    def draw(x: float, y: float) -> Iterable[Mark]:
        middle = y + 1.0 + (tall - 2.0 - masses) / 2
        yield from yarn_patch(each.yarn, x, middle - PATCH_HEIGHT / 2, PATCH_WIDTH, PATCH_HEIGHT)
        yield from name.draw(x + PATCH_WIDTH + _GAP, middle - name.height / 2)
        at = y + tall - 3.0 if masses else middle + 1.8
        yield from _masses(each, x + first, at, pitch)
        yield Box(x + box, y + 1.0, width - box, tall - 2.0, None, HAIR, 0.3)
        letter = y + 1.0 + baseline(NOTE)
        yield label(x + box + 1.2, letter, each.yarn.letter, NOTE, "bold", colour=SOFT)

    return Block(tall, draw)


def _masses(each: YarnKept, x: float, y: float, pitch: float) -> Iterable[Mark]:
    """Draw what was planned, and what was weighed or lines to write it on, on the baseline `y`."""
    yield label(x, y, each.planned, BODY, colour=SOFT)
    for place, mass in enumerate((each.before, each.after, each.used), start=1):
        left = x + place * pitch
        if mass:
            yield label(left, y, mass, BODY, "bold", colour=INK)
        yield rule(left, y + 1.0, pitch - _GAP, HAIRLINE, SOFT)


def _hours_and_cost(card: RecordSheet, width: float) -> Block:
    """Return hours and cost, planned and real, side by side where there is room to write."""
    pairs = [("hours", card.hours), ("cost", card.cost)]
    words = [f"{name}, planned {kept.planned}" if kept.planned else name for name, kept in pairs]
    half = (width - _GAP) / 2
    beside = all(measure(each, BODY) + _LEAST_LINE <= half for each in words)
    each = half if beside else width

    def draw(x: float, y: float) -> Iterable[Mark]:
        for place, (text, (_, kept)) in enumerate(zip(words, pairs, strict=True)):
            left = x + place * (half + _GAP) * beside
            at = y + _LINE * (1 if beside else place + 1) - 2.2
            yield label(left, at, text, BODY, colour=SOFT)
            start = left + measure(text, BODY) + 2.0
            if kept.actual:
                yield label(start, at, kept.actual, LABEL, "bold", colour=INK)
            yield rule(start, at + 1.0, left + each - start, HAIRLINE, SOFT)

    return Block(_LINE * (1 if beside else 2), draw)


def _finish(card: RecordSheet, width: float) -> Block:
    """Return lines for how the cloth was finished, with the cautions."""
    half = (width - _GAP) / 2

    def draw(x: float, y: float) -> Iterable[Mark]:
        for place, words in enumerate(_FINISH):
            row, column = divmod(place, 2)
            left = x + column * (half + _GAP)
            yield from blank(left, y + (row + 1) * _LINE - 2.0, half, words)

    rows = -(-len(_FINISH) // 2)
    cautions = paragraph(" ".join(card.cautions), width, NOTE, colour=SOFT)
    return stack([heading_line("Finish", width), Block(rows * _LINE, draw), cautions], gap=0.6)


def _pictures(width: float) -> Block:
    """Return boxes for samples before and after washing, and for a photograph."""
    words = ("sample, unwashed", "sample, washed", "photograph")
    each = (width - _GAP * (len(words) - 1)) / len(words)

    def draw(x: float, y: float) -> Iterable[Mark]:
        for place, text in enumerate(words):
            left = x + place * (each + _GAP)
            yield label(left, y + baseline(NOTE), text, NOTE, "bold", colour=SOFT)
            top = y + leading(NOTE) + 0.6
            yield Box(left, top, each, _PICTURE, None, HAIR, 0.3)

    return Block(leading(NOTE) + 0.6 + _PICTURE, draw)


def _lines(words: str, number: int, width: float) -> Block:
    title = heading_line(words, width)

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield from title.draw(x, y)
        for place in range(1, number + 1):
            yield rule(x, y + title.height + place * _LINE, width, HAIRLINE, SOFT)

    return Block(title.height + number * _LINE + 0.5, draw)
