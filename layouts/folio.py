"""The folio of a project: which sheets there are, and which files they become.

Everything is made in memory first, and then written all at once.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from cards.needs import NONE, Needs
from cards.project import Project
from cards.spec import PaperSize, parse_paper_size
from layouts.attachment import attachments_of
from layouts.drawing import Drawing, Page
from layouts.drawn import chosen_sheets, drawn_sheets
from layouts.files import File, write_files
from layouts.imposition import (
    PAGES,
    Duplex,
    Imposition,
    duplex,
    how_to_print,
    impose,
    page_frame,
    paper_that_would_do,
)
from layouts.output import NOBODY, USUAL, Output, Told
from layouts.paper import Frame, PaperTooSmall
from layouts.pdf import pdf_bytes
from layouts.sheet_list import folio_of
from layouts.variants import LARGE, varied

# What a sheet needs between its margins: three columns of figures at arm's length and a row of
# boxes beside them.
LEAST_WIDTH = 88.0
LEAST_HEIGHT = 110.0


def frame_of(
    project: Project,
    size: PaperSize | str | None = None,
    needs: Needs = NONE,
    how: Imposition = PAGES,
) -> Frame:
    """Return the page of a project, on paper of another `size` if one is named.

    For who has `needs` it is laid out on a page of its own, as `layouts.variants` says; `how` the
    pages are printed, they may be half of the paper. Raises NotationError for an unknown size,
    PaperTooSmall for one that no sheet fits.
    """
    paper = project.paper
    chosen = size or paper.size or ("A4" if project.units == "metric" else "Letter")
    if isinstance(chosen, str):
        chosen = parse_paper_size(chosen)
    frame = page_frame(chosen, paper, how)
    large = LARGE if needs.large_print else 1.0
    _, _, width, height = frame.content
    if width < LEAST_WIDTH * large or height < LEAST_HEIGHT * large:
        what, do = ("large print", ": use A4, Letter or larger") if large > 1 else ("a sheet", "")
        raise PaperTooSmall(
            f"the paper leaves {width:.0f} × {height:.0f} mm between its margins, and {what} "
            f"needs {LEAST_WIDTH * large:.0f} × {LEAST_HEIGHT * large:.0f} mm"
            f"{paper_that_would_do(frame, how, (LEAST_WIDTH * large, LEAST_HEIGHT * large)) or do}"
        )
    return varied(frame, needs)


def print_folio(
    project: Project,
    frame: Frame,
    stem: str,
    folder: Path,
    names: Sequence[str] = (),
    output: Output = USUAL,
    told: Told = NOBODY,
    others: Sequence[Project] = (),
) -> list[Path]:
    """Print the sheets named, or all, into `folder`; return the files that were written.

    It is `told` which sheet is left out. `others` is the project on other looms: of these only the
    sheets that tell looms apart are printed. A print of some sheets only has their names in that
    of its PDF, behind dots, so that it never replaces a whole folio. Raises OSError when the folder
    cannot be written, PaperTooSmall when a sheet does not fit that was named or that no weaver can
    do without; then nothing in the folder has changed.
    """
    whole = list(folio_of(project))
    chosen = chosen_sheets(project, names)
    drawings = drawn_sheets(
        project, frame, names, told.note, lambda share: told.step(0.5 * share), others
    )
    parts = [stem] if chosen == whole else [stem, *chosen]
    files = files_of(project, drawings, frame, stem, output, ".".join(parts))
    words = how_to_print(frame, output.how)
    if words and output.has_pdf:
        told.note(words)
    told.step(0.95)
    written = write_files(files, folder, stem)
    told.step(1.0)
    return written


def files_of(
    project: Project,
    drawings: Sequence[Drawing],
    frame: Frame,
    stem: str,
    output: Output = USUAL,
    pdf_stem: str = "",
) -> list[File]:
    """Return sheets drawn on `frame` as files: one PDF, and an SVG for each page, or one of both.

    The PDF may be called otherwise than its pages, `pdf_stem`.
    """
    files = []
    if output.has_pdf:
        sides = impose(drawings, frame, output.how)
        turned = duplex(frame, output.how)
        name = pdf_stem or stem
        files.append(pdf_file(project, sides, name, turned, with_spec=output.with_spec))
    if output.has_svg:
        for drawing in drawings:
            files.extend(svg_files(project, drawing, stem, with_spec=output.with_spec))
    return files


def pdf_file(
    project: Project,
    drawings: Sequence[Drawing],
    stem: str,
    turned: Duplex = "",
    title: str = "",
    *,
    with_spec: bool = True,
) -> File:
    """Return all sheets as one PDF, the spec attached to it unless `with_spec` is false.

    `turned` is how the paper is turned for its backs; `title` may be another than the project's.
    """
    info = project.info
    data = pdf_bytes(
        drawings,
        title=title or title_of(project),
        author=info.maker or "",
        subject=" ".join((info.summary or "").split()),
        attachments=attachments_of(project.source) if with_spec else (),
        duplex=turned,
    )
    return File(f"{stem}.pdf", data)


def svg_files(
    project: Project, drawing: Drawing, stem: str, *, with_spec: bool = True
) -> list[File]:
    """Return one SVG for each page of a sheet, the spec in each unless `with_spec` is false."""
    own = f"{stem}-{drawing.slug}"
    return svg_pages(project, drawing.pages, own, drawing.title, with_spec=with_spec)


def svg_pages(
    project: Project, pages: Sequence[Page], stem: str, name: str, *, with_spec: bool = True
) -> list[File]:
    """Return one SVG for each of the `pages` of what is called `name`, numbered behind `stem`."""
    from layouts.svg import svg_text  # noqa: PLC0415 - a print of the PDF alone has no need of it

    title, inside = title_of(project), attachments_of(project.source) if with_spec else ()
    files = []
    for number, page in enumerate(pages, start=1):
        text = svg_text(
            page,
            title=f"{title}, {page.name}",
            description=f"{name}, page {number} of {len(pages)}",
            attachments=inside,
        )
        files.append(File(f"{stem}-{number}.svg", text.encode("utf-8")))
    return files


def title_of(project: Project) -> str:
    """Return what a print is called in its own properties: title, code, candidate."""
    info = project.info
    title = f"{info.title} ({info.code})" if info.code else info.title
    return f"{title} · {project.candidate}" if project.candidate else title
