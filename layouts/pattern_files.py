"""The files of a pattern booklet: one PDF, and one SVG for each page under its number."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from cards.project import Project
from layouts.files import File, write_files
from layouts.folio import pdf_file, svg_pages, title_of
from layouts.imposition import Duplex, duplex, how_to_print, impose
from layouts.output import NOBODY, USUAL, Output, Told
from layouts.paper import Frame
from layouts.pattern_booklet import Booklet, draw_pattern_booklet


def print_pattern(
    project: Project,
    frame: Frame,
    stem: str,
    folder: Path,
    output: Output = USUAL,
    told: Told = NOBODY,
    others: Sequence[Project] = (),
) -> list[Path]:
    """Print the pattern booklet into `folder`, all its files or none; return their paths.

    Raises OSError when the folder cannot be written, PaperTooSmall when the booklet does not fit
    the paper; then nothing in the folder has changed.
    """
    booklet = draw_pattern_booklet(project, frame, others, told.note)
    told.step(0.6)
    files, how = [], output.how
    if output.has_pdf:
        # A book runs on: no part of it begins on a leaf of its own.
        sides = impose(booklet.drawings, frame, replace(how, run_on=True))
        printed = replace(booklet, drawings=tuple(sides))
        turned = duplex(frame, how)
        files.append(pattern_pdf(project, printed, stem, turned, with_spec=output.with_spec))
        if words := how_to_print(frame, how):
            told.note(words)
        told.step(0.8)
    if output.has_svg:
        files += pattern_svgs(project, booklet, stem, with_spec=output.with_spec)
    told.step(0.95)
    written = write_files(files, folder, stem)
    told.step(1.0)
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
    title = f"{title_of(project)}: pattern"
    return pdf_file(project, booklet.drawings, stem, turned, title, with_spec=with_spec)


def pattern_svgs(
    project: Project, booklet: Booklet, stem: str, *, with_spec: bool = True
) -> list[File]:
    """Return an SVG for each page, named by its number."""
    return svg_pages(project, booklet.pages, stem, "Pattern booklet", with_spec=with_spec)
