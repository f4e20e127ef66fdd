"""Draws the handout: large type, boxes to tick, the draft in small, an empty grid at the end.

The student reads it from the bench. Steps are never cut; what follows from the plan goes on to a
second page, and the empty grid is drawn only where a page has room left for it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from cards.draft_sheet import DraftSheet
from cards.exercises import Field, ShownDraft
from cards.handout import Handout
from cards.pattern_text import PatternStage
from layouts.drawing import Drawing, Mark
from layouts.paper import Frame
from layouts.sheets.draft_block import chart_block
from layouts.sheets.draft_tiles import chart_of, on_one_page
from layouts.sheets.draft_words import foot_words, key
from layouts.sheets.exercise_picture import Chart, Look, draw_picture
from layouts.sheets.page import PageFlow
from layouts.sheets.parts import (
    BOX,
    Block,
    baseline,
    beside,
    heading_line,
    key_figures,
    leading,
    paragraph,
    stack,
    tick_box,
)
from layouts.typeface import LABEL, cap_height

SLUG: Final = "handout"

# Sizes of type in points that are read from the bench, the largest first.
_READ: Final = (13.0, 12.0, 11.0)
_PAGES: Final = 2
_AFTER: Final = 3.0
_BETWEEN: Final = 1.2
_BULLET: Final = 5.0
_AFTER_BOX: Final = 3.0
# The draft takes no more than this share of a page: one repeat of it is enough.
_DRAFT: Final = 0.42
_LEAST_DRAFT: Final = 50.0
_LARGEST: Final = 3.5
# An empty grid of fewer picks than this is not worth its place.
_LEAST_PICKS: Final = 8
_MOST_PICKS: Final = 24
_GRID: Final = 6.0
_MOST_SHAFTS: Final = 8


def draw_handout(card: Handout, frame: Frame) -> Drawing:
    """Return the pages of the handout, in the largest type in which it takes fewest pages."""
    drawings: list[Drawing] = []
    for read in _READ:
        drawings.append(_drawn(card, frame, read))
        if len(drawings[-1].pages) <= _PAGES:
            break
    return min(drawings, key=lambda drawing: len(drawing.pages))


def _drawn(card: Handout, frame: Frame, read: float) -> Drawing:
    """Return the pages of the handout with type of `read` points."""
    flow = PageFlow(frame, card.heading, foot_words(card.draft))
    width = flow.width
    if card.aim:
        flow.add(paragraph(card.aim, width, read))
        flow.gap(_AFTER)
    flow.add(key_figures(card.figures, width))
    flow.gap(_AFTER)
    _add_list(flow, "Skills", card.skills, read)
    _add_list(flow, "Materials", card.materials, read)
    _add_draft(flow, card.draft)
    for stage in card.stages:
        _add_stage(flow, stage, read)
    _add_list(flow, "Take care", card.cautions, read)
    _add_grid(flow, card.draft, frame)
    flow.notes()
    return flow.drawing("Handout", SLUG)


def _add_list(flow: PageFlow, title: str, items: Sequence[str], read: float) -> None:
    if not items:
        return
    heading = heading_line(title, flow.width)
    lines = [_item(each, flow.width, read) for each in items]
    flow.add(stack([heading, lines[0]], _BETWEEN))
    for line in lines[1:]:
        flow.gap(_BETWEEN)
        flow.add(line)
    flow.gap(_AFTER)


def _item(words: str, width: float, read: float) -> Block:
    dot = paragraph("·", _BULLET, read, "bold")
    return beside([(0.0, dot), (_BULLET, paragraph(words, width - _BULLET, read))])


def _add_draft(flow: PageFlow, card: DraftSheet) -> None:
    """Place one repeat of the longest section's draft, if it goes on a part of the page."""
    section = max(card.sections, key=lambda each: each.picks.total)
    heading = heading_line(f"The draft: {', '.join(section.names)}", flow.width)
    meanings, _ = key(replace(card, sections=(section,)), flow.width)
    words = stack([heading, *meanings], _BETWEEN)
    height = _DRAFT * flow.full_room
    # Where a little less has room on this page, it is drawn here.
    here = flow.room - words.height - 2 * _BETWEEN
    height = min(height, here) if here >= _LEAST_DRAFT else height
    ranges = on_one_page(card, section, flow.width, height)
    if ranges is None:
        return
    chart = chart_of(card, section, ranges)
    chart = chart.grown(flow.width, height, _LARGEST) or chart
    flow.add(stack([words, chart_block(chart)], _BETWEEN))
    flow.gap(_AFTER)


def _add_stage(flow: PageFlow, stage: PatternStage, read: float) -> None:
    """Place a stage; its heading stands on a page with its first step, and again on the next."""
    heading = heading_line(stage.name, flow.width)
    steps = [_step(each, flow.width, read) for each in stage.steps]
    if not steps:
        return
    flow.add(stack([heading, steps[0]], _BETWEEN))
    again = paragraph(f"{stage.name}, continued", flow.width, LABEL, "bold")
    flow.running_head = stack([again, Block(_BETWEEN, lambda x, y: ())])
    for step in steps[1:]:
        flow.gap(_BETWEEN)
        flow.add(step)
    flow.running_head = None
    flow.gap(_AFTER)


def _step(words: str, width: float, read: float) -> Block:
    """Return a step with its box in front, where a left hand that ticks lies on no words."""
    room = BOX + _AFTER_BOX
    text = paragraph(words, width - room, read)
    height = max(text.height, leading(read), BOX + 0.8)
    # The box stands level with the capitals of the first line.
    top = max(0.0, baseline(read) - cap_height(read) / 2 - BOX / 2)

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield tick_box(x, y + top)
        yield from text.draw(x + room, y)

    return Block(height, draw)


def _add_grid(flow: PageFlow, card: DraftSheet, frame: Frame) -> None:
    """Place an empty draft for the student's own, where there is room left for one."""
    heading = heading_line("A draft of your own", flow.width)
    room = flow.room - heading.height - _AFTER
    chart = _empty_chart(card, flow.width, room, _GRID / frame.magnify)
    if chart is None:
        return
    left = (flow.width - chart.width) / 2
    picture = Block(chart.height, lambda x, y: draw_picture(chart, x + left, y))
    flow.add(stack([heading, picture], _BETWEEN))


def _empty_chart(card: DraftSheet, width: float, room: float, cell: float) -> Chart | None:
    """Return the largest empty draft that has room, or None."""
    shafts = min(card.shafts, _MOST_SHAFTS)
    ways, treadles = card.conventions, card.treadle_1
    tied = any(each.by_treadle for each in card.sections)
    columns = max((each.number for each in card.tied), default=shafts) if tied else shafts
    for picks in range(_MOST_PICKS, _LEAST_PICKS - 1, -4):
        for ends in range(32, 7, -2):
            picture = _empty(shafts, min(columns, _MOST_SHAFTS), ends, picks, tied=tied)
            chart = Chart(picture, Look(ways, treadles), cell, cell)
            if chart.width <= width and chart.height <= room:
                return chart
    return None


def _empty(shafts: int, columns: int, ends: int, picks: int, *, tied: bool) -> ShownDraft:
    def blank(*shape: int) -> Field:
        return Field(np.zeros(shape, dtype=np.bool_), np.ones(shape, dtype=np.bool_))

    return ShownDraft(
        tuple(range(ends)),
        tuple(range(picks)),
        tuple(range(1, columns + 1)),
        blank(shafts, ends),
        blank(shafts, columns) if tied else None,
        blank(picks, columns),
        blank(picks, ends),
    )
