"""The handouts of a class: a folio for every seat, its exercises, and a file for the teacher.

All is drawn before anything is written, and written all at once. A seat's folio begins with its
handout. Exercises stand in a file of their own, since the folio shows the draft that they ask for,
and answers in the teacher's file and nowhere else. The spec travels in the teacher's file alone:
answers could be worked out from it, and it says what every seat needs.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

from cards.project import Project
from cards.project.seats import Seated
from cards.spec import ClassOf
from cards.teacher_sheet import Printed, teacher_sheet
from layouts.drawing import Drawing
from layouts.drawn import drawn_sheets
from layouts.exercises import (
    answer_drawings,
    exercise_drawings,
    exercise_files_of,
    handout_drawing,
)
from layouts.files import File, write_files
from layouts.folio import files_of, frame_of
from layouts.imposition import how_to_print, imposition_of
from layouts.output import NOBODY, USUAL, Output, Told
from layouts.paper import Frame, PaperTooSmall
from layouts.sheets.teacher_sheet import draw_teacher_sheet
from layouts.slug import slugs_of
from layouts.variants import finished

_TEACHER = "teacher"


def print_handouts(
    project: Project,
    class_: ClassOf,
    seats: Sequence[Seated],
    stem: str,
    folder: Path,
    output: Output = USUAL,
    told: Told = NOBODY,
) -> list[Path]:
    """Print a folio for every seat of a class into `folder`, and the teacher's file.

    `project` is that of the spec's own loom; every seat must have been worked out. How the pages
    come onto the paper is as that of each seat has it, whatever `output` says. Returns the files
    written. Raises OSError when the folder cannot be written, PaperTooSmall when a seat's paper is
    too small; then nothing has changed.
    """
    files: list[File] = []
    printed: list[Printed] = []
    stems = [f"{stem}.seat-{slug}" for slug in slugs_of([each.seat.seat for each in seats], "seat")]
    for number, (seat, own) in enumerate(zip(seats, stems, strict=True), start=1):
        more, what = _folio(seat, own, output.form, told.note)
        files += more
        printed.append(what)
        told.step(0.9 * number / len(seats))
    own = f"{stem}.{_TEACHER}"
    files += _for_teacher(project, class_, printed, own, output)
    written = write_files(files, folder, stem, [*stems, own])
    told.step(1.0)
    return written


def _folio(
    seated: Seated, stem: str, form: str, note: Callable[[str], None]
) -> tuple[list[File], Printed]:
    """Return the files of a seat, and what was printed for it."""
    project, name = seated.project, seated.seat.seat
    if project is None:
        raise ValueError(f"nothing can be printed for seat {name!r}")
    output = Output(form, imposition_of(project.paper), with_spec=False)
    frame = frame_of(project, None, seated.needs, output.how)

    def here(words: str) -> None:
        note(f"for seat '{name}': {words}")

    try:
        drawings = _drawings(project, frame, here)
        tasks = [finished(each, frame) for each in exercise_drawings(project, frame, here)]
    except PaperTooSmall as error:
        raise PaperTooSmall(f"for seat '{name}': {error}") from None
    if output.has_pdf and (words := how_to_print(frame, output.how)):
        here(words)
    pages = Counter[str]()
    for drawing in drawings:
        pages[drawing.title] += len(drawing.pages)
    if tasks:
        pages["Exercises"] = sum(len(task.pages) for task in tasks)
    what = Printed(name, project, _paper(project), tuple(pages.items()))
    files = files_of(project, drawings, frame, stem, output)
    return [*files, *exercise_files_of(project, tasks, stem, form)], what


def _drawings(project: Project, frame: Frame, note: Callable[[str], None]) -> list[Drawing]:
    """Return the sheets of a seat in the order in which they are taken up."""
    return [
        finished(handout_drawing(project, frame), frame),
        *drawn_sheets(project, frame, (), note),
    ]


def _paper(project: Project) -> str:
    """Return the paper of a project in words."""
    paper = project.paper
    size = paper.size.name if paper.size else "A4" if project.units == "metric" else "Letter"
    words = [size, "landscape" if paper.orientation == "landscape" else ""]
    words.append(f"bound {paper.binding}" if paper.binding != "none" else "")
    return ", ".join(text for text in words if text)


def _for_teacher(
    project: Project,
    class_: ClassOf,
    printed: Sequence[Printed],
    stem: str,
    output: Output,
) -> list[File]:
    """Return the teacher's file: the sheet, and the answers to the exercises of every loom."""
    date = class_.date.isoformat() if class_.date else ""
    output = replace(output, how=imposition_of(project.paper))
    frame = frame_of(project, None, how=output.how)
    card = teacher_sheet(project, printed, class_.title or "", date)
    drawings = [draw_teacher_sheet(card, frame), *_answers(printed, frame)]
    return files_of(project, drawings, frame, stem, output)


def _answers(printed: Sequence[Printed], frame: Frame) -> list[Drawing]:
    """Return the answers of all seats, once for those whose exercises are the same."""
    groups: dict[tuple[str, str, bool], list[Printed]] = {}
    for each in printed:
        project = each.project
        key = (project.loom.name, project.units, project.mirrored)
        groups.setdefault(key, []).append(each)
    drawings: list[Drawing] = []
    for number, group in enumerate(groups.values(), start=1):
        names = ", ".join(each.seat for each in group)
        words = f"seats: {names}" if len(group) > 1 else names
        for drawing in answer_drawings(replace(group[0].project, seat=words), frame):
            pages = tuple(replace(page, name=f"{names}: {page.name}") for page in drawing.pages)
            slug = f"{drawing.slug}-{number}" if len(groups) > 1 else drawing.slug
            drawings.append(
                replace(drawing, title=f"{names}: {drawing.title}", slug=slug, pages=pages)
            )
    return drawings
