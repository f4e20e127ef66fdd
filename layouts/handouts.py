"""The handouts of a class: a folio for every seat, and a file for the teacher.

All is drawn before anything is written, and written all at once. A seat's folio begins with its
handout and ends with its exercises; the answers are in the teacher's file and nowhere else.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from pathlib import Path

from cards.project import Project
from cards.project.seats import Seated
from cards.spec import ClassOf
from cards.teacher_sheet import Printed, teacher_sheet
from layouts.drawing import Drawing
from layouts.drawn import drawn_sheets
from layouts.exercises import answer_drawings, exercise_drawings
from layouts.files import File, write_files
from layouts.folio import files_of, frame_of
from layouts.imposition import how_to_print, imposition_of
from layouts.paper import Frame, PaperTooSmall
from layouts.sheets.teacher_sheet import draw_teacher_sheet
from layouts.slug import slugs_of
from layouts.variants import finished


def print_handouts(
    project: Project,
    class_: ClassOf,
    seats: Sequence[Seated],
    stem: str,
    folder: Path,
    form: str = "both",
    step: Callable[[float], None] = lambda share: None,
    note: Callable[[str], None] = lambda words: None,
) -> list[Path]:
    """Print a folio for every seat of a class into `folder`, and the teacher's file.

    `project` is that of the spec's own loom; every seat must have been worked out. `form` is
    "pdf", "svg" or "both"; `step` is told the share of the work that is done, `note` what is left
    out or to be done at the printer. Returns the files written. Raises OSError when the folder
    cannot be written, PaperTooSmall when a seat's paper is too small; then nothing has changed.
    """
    files: list[File] = []
    printed: list[Printed] = []
    stems = [f"{stem}.seat-{slug}" for slug in slugs_of([each.seat.seat for each in seats], "seat")]
    for number, (seat, own) in enumerate(zip(seats, stems, strict=True), start=1):
        more, told = _folio(seat, own, form, note)
        files += more
        printed.append(told)
        step(0.9 * number / len(seats))
    files += _for_teacher(project, class_, printed, f"{stem}.teacher", form)
    written = write_files(files, folder, stem, [*stems, f"{stem}.teacher"])
    step(1.0)
    return written


def _folio(
    seated: Seated, stem: str, form: str, note: Callable[[str], None]
) -> tuple[list[File], Printed]:
    """Return the files of a seat, and what was printed for it."""
    project, name = seated.project, seated.seat.seat
    if project is None:
        raise ValueError(f"nothing can be printed for seat {name!r}")
    how = imposition_of(project.paper)
    frame = frame_of(project, None, seated.needs, how)
    try:
        drawings = _drawings(project, frame, lambda words: note(f"for seat '{name}': {words}"))
    except PaperTooSmall as error:
        raise PaperTooSmall(f"for seat '{name}': {error}") from None
    if words := how_to_print(frame, how):
        note(f"for seat '{name}': {words}")
    pages = Counter[str]()
    for drawing in drawings:
        pages[drawing.title] += len(drawing.pages)
    told = Printed(name, project, _paper(project), tuple(pages.items()))
    return files_of(project, drawings, frame, stem, form, how), told


def _drawings(project: Project, frame: Frame, note: Callable[[str], None]) -> list[Drawing]:
    """Return the sheets of a seat in the order in which they are taken up."""
    drawings = drawn_sheets(project, frame, note=note)
    return [*drawings, *(finished(each, frame) for each in exercise_drawings(project, frame))]


def _paper(project: Project) -> str:
    """Return the paper of a project in words."""
    paper = project.paper
    size = paper.size.name if paper.size else "A4" if project.units == "metric" else "Letter"
    words = [size, "landscape" if paper.orientation == "landscape" else ""]
    words.append(f"bound {paper.binding}" if paper.binding != "none" else "")
    return ", ".join(text for text in words if text)


def _for_teacher(
    project: Project, class_: ClassOf, printed: Sequence[Printed], stem: str, form: str
) -> list[File]:
    """Return the teacher's file: the sheet, and the answers to all exercises."""
    date = class_.date.isoformat() if class_.date else ""
    how = imposition_of(project.paper)
    frame = frame_of(project, None, how=how)
    card = teacher_sheet(project, printed, class_.title or "", date)
    drawings = [draw_teacher_sheet(card, frame), *answer_drawings(project, frame)]
    return files_of(project, drawings, frame, stem, form, how)
