"""The exercises of a project and their answers as drawings, and the handout for the loom."""

from __future__ import annotations

from cards.exercises import exercises_of
from cards.handout import handout
from cards.project import Project
from layouts.drawing import Drawing
from layouts.files import File
from layouts.folio import pdf_file, svg_files
from layouts.paper import Frame
from layouts.sheets.exercise import draw_answer, draw_exercise
from layouts.sheets.handout import draw_handout
from layouts.variants import finished


def exercise_drawings(project: Project, frame: Frame) -> list[Drawing]:
    """Return the exercises that the spec asks for as printed, one drawing each, without answers.

    What this loom or this draft gives nothing for is left out; a finding says so. Raises
    PaperTooSmall where cells to write in have no room.
    """
    return [finished(draw_exercise(project, each, frame), frame) for each in exercises_of(project)]


def answer_drawings(project: Project, frame: Frame) -> list[Drawing]:
    """Return the answers to the exercises, one drawing each, under the same numbers."""
    return [finished(draw_answer(project, each, frame), frame) for each in exercises_of(project)]


def exercise_files(project: Project, frame: Frame, stem: str, form: str = "both") -> list[File]:
    """Return the files of exercises and of answers; none where there is no exercise.

    `form` is "pdf", "svg" or "both". Raises PaperTooSmall. No file of exercises has the spec in it,
    from which every answer could be worked out.
    """
    files = []
    both = (
        ("exercises", exercise_drawings(project, frame)),
        ("answers", answer_drawings(project, frame)),
    )
    for name, drawings in both:
        if drawings and form != "svg":
            files.append(pdf_file(project, drawings, f"{stem}.{name}"))
        if form != "pdf":
            for drawing in drawings:
                files.extend(svg_files(project, drawing, stem))
    return files


def handout_drawing(project: Project, frame: Frame) -> Drawing:
    """Return the handout for a student at the project's loom, as it is printed."""
    return finished(draw_handout(handout(project), frame), frame)
