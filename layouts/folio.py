"""The folio of a project: which sheets there are, and which files they become.

Everything is made in memory first, and then written all at once.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain, count
from pathlib import Path

from cards.project import Project
from cards.spec import PaperSize, parse_paper_size
from layouts.drawing import Drawing
from layouts.files import File, write_files
from layouts.paper import Frame, PaperTooSmall, frame_for
from layouts.pdf import pdf_bytes
from layouts.sheet_list import BY_LOOM, BY_PIECE, OPTIONAL, SHEETS, folio_of, sheets_of

# What a sheet needs between its margins: three columns of figures at arm's length and a row of
# boxes beside them.
LEAST_WIDTH = 94.0
LEAST_HEIGHT = 110.0

# A longer name would leave too little room for that of the spec in the name of a file.
_LONGEST_SLUG = 50


def frame_of(project: Project, size: PaperSize | str | None = None) -> Frame:
    """Return the page of a project, on paper of another `size` if one is named.

    Raises NotationError for an unknown size, PaperTooSmall for one that no sheet fits.
    """
    paper = project.paper
    chosen = size or paper.size or ("A4" if project.units == "metric" else "Letter")
    if isinstance(chosen, str):
        chosen = parse_paper_size(chosen)
    frame = frame_for(chosen, paper.orientation, paper.binding, paper.holes)
    _, _, width, height = frame.content
    if width < LEAST_WIDTH or height < LEAST_HEIGHT:
        raise PaperTooSmall(
            f"the paper leaves {width:.0f} × {height:.0f} mm between its margins, and a sheet "
            f"needs {LEAST_WIDTH:.0f} × {LEAST_HEIGHT:.0f} mm"
        )
    return frame


def print_folio(
    project: Project,
    frame: Frame,
    stem: str,
    folder: Path,
    names: Sequence[str] = (),
    form: str = "both",
    step: Callable[[float], None] = lambda share: None,
    note: Callable[[str], None] = lambda words: None,
    others: Sequence[Project] = (),
) -> list[Path]:
    """Print the sheets named, or all, into `folder`; return the files that were written.

    `form` is "pdf", "svg" or "both"; `step` is told the share of the work that is done, `note` in
    words which sheet is left out. `others` is the project on other looms: of these only the sheets
    that tell looms apart are printed. A print of some sheets only has their names in that of its
    PDF, behind dots, so that it never replaces a whole folio. Raises OSError when the folder cannot
    be written, PaperTooSmall when a sheet does not fit that was named or that no weaver can do
    without; then nothing in the folder has changed.
    """
    whole = list(folio_of(project))
    chosen = _chosen(project, names)
    wanted = [*_of_pieces(project, chosen)]
    wanted += _on_others(project, others, names)
    drawings: list[Drawing] = []
    for number, each in enumerate(wanted, start=1):
        drawings += _drawn(each, frame, note, named=bool(names))
        step(0.5 * number / len(wanted))
    files = []
    if form != "svg":
        parts = [stem] if chosen == whole else [stem, *chosen]
        files.append(pdf_file(project, drawings, ".".join(parts)))
        step(0.75)
    if form != "pdf":
        for drawing in drawings:
            files.extend(svg_files(project, drawing, stem))
    step(0.95)
    written = write_files(files, folder, stem)
    step(1.0)
    return written


def _chosen(project: Project, names: Sequence[str]) -> list[str]:
    """Return the sheets named on which there is something to draw, or those of a whole folio."""
    if not names:
        return list(folio_of(project))
    return [name for name in sheets_of(project) if name in names]


@dataclass(frozen=True, slots=True)
class _Wanted:
    """A sheet to be drawn, of a loom and of a kind of piece.

    `loom` and `piece` are words for them, empty on the project's own loom and for its first kind.
    """

    project: Project
    name: str
    loom: str = ""
    piece: str = ""


def _of_pieces(project: Project, names: Sequence[str], loom: str = "") -> Iterator[_Wanted]:
    """Yield the sheets named, each followed by those of further kinds of pieces that differ."""
    slugs = _slugs([kind.piece for kind in project.further], "piece")
    for name in names:
        yield _Wanted(project, name, loom)
        for kind, slug in zip(project.further, slugs, strict=True):
            if name in BY_PIECE and BY_PIECE[name](project, kind):
                yield _Wanted(kind, name, loom, slug)


def _on_others(
    own: Project, projects: Sequence[Project], names: Sequence[str]
) -> Iterator[_Wanted]:
    """Yield the sheets of other looms that are not as on the `own` one, loom by loom.

    No two looms have the same word.
    """
    slugs = _slugs([project.loom.name for project in projects], "loom")
    for project, slug in zip(projects, slugs, strict=True):
        chosen = _chosen(project, names)
        there = [name for name in chosen if name in BY_LOOM and BY_LOOM[name](own, project)]
        yield from _of_pieces(project, there, slug)


def _slugs(names: Sequence[str], kind: str) -> list[str]:
    """Return a word for each name; no two are the same."""
    found: list[str] = []
    for name in names:
        slug = slug_of(name, kind)
        tries = chain([slug], (f"{slug}-{number}" for number in count(2)))
        found.append(next(each for each in tries if each not in found))
    return found


def slug_of(name: str, kind: str) -> str:
    """Return a name as it stands in the name of a file: small letters, without accents.

    Letters of other alphabets stay, so that such names are told apart.

    `kind` is what is taken for a name without a letter or figure.

    >>> slug_of("Jack loom, no. 2", "loom")
    'jack-loom-no-2'
    """
    letters = unicodedata.normalize("NFC", name).casefold()
    words = re.findall(r"[^\W_]+", "".join(_without_accent(each) for each in letters))
    return "-".join(words)[:_LONGEST_SLUG].rstrip("-") or kind


def _without_accent(letter: str) -> str:
    bare = unicodedata.normalize("NFKD", letter).encode("ascii", "ignore").decode()
    return bare or letter


def _drawn(
    wanted: _Wanted, frame: Frame, note: Callable[[str], None], *, named: bool
) -> list[Drawing]:
    """Return a sheet, or nothing and a note if it does not fit and can be done without."""
    try:
        drawing = SHEETS[wanted.name](wanted.project, frame)
    except PaperTooSmall as error:
        if named or wanted.name not in OPTIONAL:
            raise
        note(f"the {wanted.name} is left out: {error}")
        return []
    return [_named(drawing, wanted)]


def _named(drawing: Drawing, wanted: _Wanted) -> Drawing:
    """Name a sheet and its pages after loom and piece, in the outline and in the names of files."""
    project, slug = wanted.project, drawing.slug
    on = f"{project.loom.name}: " if wanted.loom else ""
    slug += f"-of-{wanted.piece}" if wanted.piece else ""
    slug += f"-on-{wanted.loom}" if wanted.loom else ""
    on += f"{project.piece}: " if wanted.piece else ""
    pages = tuple(replace(page, name=f"{on}{page.name}") for page in drawing.pages)
    return Drawing(f"{on}{drawing.title}", slug, pages)


def pdf_file(project: Project, drawings: Sequence[Drawing], stem: str) -> File:
    """Return all sheets as one PDF."""
    info = project.info
    data = pdf_bytes(
        drawings,
        title=_title(project),
        author=info.maker or "",
        subject=" ".join((info.summary or "").split()),
    )
    return File(f"{stem}.pdf", data)


def svg_files(project: Project, drawing: Drawing, stem: str) -> list[File]:
    """Return one SVG for each page of a sheet."""
    from layouts.svg import svg_text  # noqa: PLC0415 - a print of the PDF alone has no need of it

    files = []
    for number, page in enumerate(drawing.pages, start=1):
        text = svg_text(
            page,
            title=f"{_title(project)}, {page.name}",
            description=f"{drawing.title}, page {number} of {len(drawing.pages)}",
        )
        files.append(File(f"{stem}-{drawing.slug}-{number}.svg", text.encode("utf-8")))
    return files


def _title(project: Project) -> str:
    info = project.info
    title = f"{info.title} ({info.code})" if info.code else info.title
    return f"{title} · {project.candidate}" if project.candidate else title
