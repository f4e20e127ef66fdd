"""The files of a pattern booklet: one PDF, and one SVG for each page under its number."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

from cards.project import Project
from layouts.attachment import attachments_of
from layouts.files import File, write_files
from layouts.imposition import PAGES, Duplex, Imposition, duplex, how_to_print, impose
from layouts.paper import Frame
from layouts.pattern_booklet import Booklet, draw_pattern_booklet
from layouts.pdf import pdf_bytes


def print_pattern(
    project: Project,
    frame: Frame,
    stem: str,
    folder: Path,
    form: str = "both",
    step: Callable[[float], None] = lambda share: None,
    note: Callable[[str], None] = lambda words: None,
    others: Sequence[Project] = (),
    how: Imposition = PAGES,
    *,
    with_spec: bool = True,
) -> list[Path]:
    """Print the pattern booklet into `folder`, all its files or none; return their paths.

    `form` is "pdf", "svg" or "both"; `how` the pages come onto the paper is for the PDF alone. The
    spec travels inside unless `with_spec` is false. Raises OSError when the folder cannot be
    written, PaperTooSmall when the booklet does not fit the paper; then nothing in the folder has
    changed.
    """
    booklet = draw_pattern_booklet(project, frame, others, note)
    step(0.6)
    files = []
    if form != "svg":
        # A book runs on: no part of it begins on a leaf of its own.
        sides = impose(booklet.drawings, frame, replace(how, run_on=True))
        printed = replace(booklet, drawings=tuple(sides))
        turned = duplex(frame, how)
        files.append(pattern_pdf(project, printed, stem, turned, with_spec=with_spec))
        if words := how_to_print(frame, how):
            note(words)
        step(0.8)
    if form != "pdf":
        files += pattern_svgs(project, booklet, stem, with_spec=with_spec)
    step(0.95)
    written = write_files(files, folder, stem)
    step(1.0)
    return written


def pattern_pdf(
    project: Project,
    booklet: Booklet,
    stem: str,
    turned: Duplex = "",
    *,
    with_spec: bool = True,
) -> File:
    """Return the booklet as one PDF; `turned` is how the paper is turned for its backs."""
    info = project.info
    data = pdf_bytes(
        booklet.drawings,
        title=f"{_title(project)}: pattern",
        author=info.maker or "",
        subject=" ".join((info.summary or "").split()),
        attachments=attachments_of(project.source) if with_spec else (),
        duplex=turned,
    )
    return File(f"{stem}.pdf", data)


def pattern_svgs(
    project: Project, booklet: Booklet, stem: str, *, with_spec: bool = True
) -> list[File]:
    """Return an SVG for each page, named by its number."""
    from layouts.svg import svg_text  # noqa: PLC0415 - a print of the PDF alone has no need of it

    inside = attachments_of(project.source) if with_spec else ()
    files = []
    for number, page in enumerate(booklet.pages, start=1):
        text = svg_text(
            page,
            title=f"{_title(project)}, {page.name}",
            description=f"Pattern booklet, page {number} of {len(booklet.pages)}",
            attachments=inside,
        )
        files.append(File(f"{stem}-{number}.svg", text.encode("utf-8")))
    return files


def _title(project: Project) -> str:
    info = project.info
    title = f"{info.title} ({info.code})" if info.code else info.title
    return f"{title} · {project.candidate}" if project.candidate else title
