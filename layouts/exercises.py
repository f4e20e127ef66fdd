"""The exercises of a project and their answers as drawings, and the handout for the loom."""

from __future__ import annotations

from cards.exercises import exercises_of
from cards.project import Project
from layouts.drawing import Drawing
from layouts.paper import Frame
from layouts.sheets.exercise import draw_answer, draw_exercise


def exercise_drawings(project: Project, frame: Frame) -> list[Drawing]:
    """Return the exercises that the spec asks for, one drawing each, without their answers.

    What this loom or this draft gives nothing for is left out; a finding says so. Raises
    PaperTooSmall where cells to write in have no room.
    """
    return [draw_exercise(project, each, frame) for each in exercises_of(project)]


def answer_drawings(project: Project, frame: Frame) -> list[Drawing]:
    """Return the answers to the exercises, one drawing each, under the same numbers."""
    return [draw_answer(project, each, frame) for each in exercises_of(project)]
