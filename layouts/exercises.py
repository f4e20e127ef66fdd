"""The exercises of a project and their answers as drawings, and the handout for the loom."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from cards.exercises import exercises_of
from cards.handout import handout
from cards.project import Project
from layouts.drawing import Drawing
from layouts.files import File
from layouts.folio import pdf_file, svg_files
from layouts.paper import Frame, PaperTooSmall
from layouts.sheets.exercise import draw_answer, draw_exercise
from layouts.sheets.handout import draw_handout
from layouts.variants import finished


def exercise_drawings(
    project: Project, frame: Frame, note: Callable[[str], None] | None = None
) -> list[Drawing]:
    """Return the exercises that the spec asks for, one drawing each, without their answers.

    What this loom or this draft gives nothing for is left out; a finding says so. As all sheets
    they are laid out on the frame, and `variants.finished` before they are printed. Where cells to
    write in have no room, raises PaperTooSmall, or leaves that one out and tells `note` in words.
    """
    drawings = []
    for exercise in exercises_of(project):
        try:
            drawings.append(draw_exercise(project, exercise, frame))
        except PaperTooSmall as error:
            if note is None:
                raise
            note(f"exercise {exercise.number}, {exercise.title}, is left out: {error}")
    return drawings


def answer_drawings(project: Project, frame: Frame) -> list[Drawing]:
    """Return the answers to the exercises, one drawing each, under the same numbers."""
    return [draw_answer(project, each, frame) for each in exercises_of(project)]


def handout_drawing(project: Project, frame: Frame) -> Drawing:
    """Return the handout for a student at the project's loom."""
    return draw_handout(handout(project), frame)


def exercise_files(
    project: Project,
    frame: Frame,
    stem: str,
    form: str = "both",
    note: Callable[[str], None] | None = None,
) -> list[File]:
    """Return the files of the exercises, none where there are none; `form` as in a folio.

    No file has the spec in it, from which every answer could be worked out, nor its summary, which
    may tell of the weave; nor may exercises stand in one file with sheets of the folio, which show
    the draft. Raises PaperTooSmall, or leaves an exercise out and tells `note` so.
    """
    drawings = [finished(each, frame) for each in exercise_drawings(project, frame, note)]
    return exercise_files_of(project, drawings, stem, form)


def exercise_files_of(
    project: Project, drawings: Sequence[Drawing], stem: str, form: str
) -> list[File]:
    """Return the files of exercises that are drawn and finished, as `exercise_files` has them."""
    info = project.info.model_copy(update={"summary": None})
    return _files(replace(project, info=info), drawings, stem, "exercises", form, with_spec=False)


def answer_files(
    project: Project, frame: Frame, stem: str, form: str = "both", *, with_spec: bool = True
) -> list[File]:
    """Return the files of the answers, none where there are no exercises. Raises PaperTooSmall."""
    drawings = [finished(each, frame) for each in answer_drawings(project, frame)]
    return _files(project, drawings, stem, "answers", form, with_spec=with_spec)


def _files(
    project: Project,
    drawings: Sequence[Drawing],
    stem: str,
    name: str,
    form: str,
    *,
    with_spec: bool,
) -> list[File]:
    files: list[File] = []
    if drawings and form != "svg":
        files.append(pdf_file(project, drawings, f"{stem}.{name}", with_spec=with_spec))
    if form != "pdf":
        for drawing in drawings:
            files.extend(svg_files(project, drawing, stem, with_spec=with_spec))
    return files
