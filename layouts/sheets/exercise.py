"""Draws exercises, and their answers on sheets of their own: the task, then the part to fill in.

The sheet of an exercise is drawn from what is given alone, so that nothing of its answer can be in
the file, in whatever hidden way.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Final

from cards.draft_sheet import draft_sheet
from cards.exercises import Exercise, Picture, Sums
from cards.heading import loom_heading_of
from cards.project import Project
from layouts.drawing import Drawing, Mark
from layouts.paper import Frame, PaperTooSmall
from layouts.sheets.draft_words import foot_words, key
from layouts.sheets.exercise_lines import gapped, sum_line
from layouts.sheets.exercise_picture import Chart, Look, draw_picture, fitted
from layouts.sheets.page import PageFlow
from layouts.sheets.parts import SOFT, Block, paragraph, stack
from layouts.typeface import BODY, FIGURE, LABEL

SLUG: Final = "exercise"
ANSWERS: Final = "answer"

# The task in points: on narrow paper so much less that the draft stays on the page with it.
_TASK: Final = 14.0
_NARROW_TASK: Final = 12.0
_NARROW: Final = 140.0
_GAP: Final = 2.0


def draw_exercise(project: Project, exercise: Exercise, frame: Frame) -> Drawing:
    """Return the pages of one exercise. Raises PaperTooSmall where its cells cannot be written."""
    name = f"Exercise {exercise.number}"
    flow = PageFlow(frame, loom_heading_of(project, name), _foot(project, exercise.given))
    width = flow.width
    flow.add(
        stack(
            [
                paragraph(exercise.title, width, FIGURE, "bold"),
                paragraph(exercise.task, width, _TASK if width >= _NARROW else _NARROW_TASK),
                paragraph(exercise.part, width, BODY, colour=SOFT),
            ],
            gap=1.0,
        )
    )
    flow.gap(_GAP)
    written = stack([gapped(words, width) for words in exercise.written])
    _add_shown(flow, project, exercise.given, frame, below=written.height)
    flow.add(written)
    flow.notes()
    return flow.drawing(f"{name}: {exercise.title}", f"{SLUG}-{exercise.number}")


def draw_answer(project: Project, exercise: Exercise, frame: Frame) -> Drawing:
    """Return the pages with the answer to one exercise, under its number."""
    name = f"Answers · Exercise {exercise.number}"
    answer = exercise.answer
    flow = PageFlow(frame, loom_heading_of(project, name), _foot(project, answer.shown))
    width = flow.width
    flow.add(
        stack(
            [
                paragraph(f"Answers: {exercise.title}", width, FIGURE, "bold"),
                paragraph(exercise.part, width, BODY, colour=SOFT),
                *(paragraph(each, width, LABEL) for each in answer.remarks),
            ],
            gap=1.0,
        )
    )
    flow.gap(_GAP)
    _add_shown(flow, project, answer.shown, frame, answers=True)
    flow.notes()
    return flow.drawing(f"{name}: {exercise.title}", f"{ANSWERS}-{exercise.number}")


def _foot(project: Project, shown: object) -> str:
    return foot_words(draft_sheet(project)) if isinstance(shown, Picture) else ""


def _add_shown(
    flow: PageFlow,
    project: Project,
    shown: object,
    frame: Frame,
    *,
    answers: bool = False,
    below: float = 0.0,
) -> None:
    """Place what is given or solved, so that `below` mm are left under a picture."""
    if isinstance(shown, Picture):
        look = Look(project.conventions, project.loom.treadle_1, answers, frame.grey)
        _add_picture(flow, project, shown, look, frame.magnify, below)
    elif isinstance(shown, Sums):
        for line in shown.lines:
            flow.add(sum_line(line, flow.width, frame, asked=line.number in shown.asked))


def _add_picture(
    flow: PageFlow, project: Project, picture: Picture, look: Look, magnify: float, below: float
) -> None:
    """Place the key and the picture, on this page if its cells are large enough there."""
    meanings = stack(_key(project, picture, flow.width))
    flow.add(meanings)
    flow.gap(_GAP)
    chart = fitted(picture, look, flow.width, flow.room - below, magnify)
    if chart is None:
        flow.turn()
        # Lines to write on that have no room below it go on to a further page.
        rooms = (
            fitted(picture, look, flow.width, flow.room - less, magnify) for less in (below, 0.0)
        )
        chart = next((each for each in rooms if each is not None), None)
    if chart is None:
        raise PaperTooSmall(
            f"{len(picture.ends)} ends and {len(picture.picks)} picks do not fit on the paper in "
            "cells to write in: show fewer of them under `part`"
        )
    flow.add(_block(chart, flow.width))


def _key(project: Project, picture: Picture, width: float) -> list[Block]:
    card = draft_sheet(project)
    sections = [each for each in card.sections if each.by_treadle == picture.by_treadle]
    shown = {yarn.key for yarn in (*picture.warp, *picture.weft)}
    used = tuple(yarn for yarn in card.yarns if yarn.key in shown)
    meanings, yarns = key(replace(card, sections=tuple(sections), yarns=used), width)
    return [*meanings, *(yarns if picture.warp else [])]


def _block(chart: Chart, width: float) -> Block:
    """Return the picture in the middle of the width."""
    left = (width - chart.width) / 2

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield from draw_picture(chart, x + left, y)

    return Block(chart.height, draw)
