"""The folio of a project: which sheets there are, and which files they become.

Everything is made in memory first, then written under a temporary name and moved into place, so
that an older print stays whole until a newer one is complete.
"""

from __future__ import annotations

import os
import re
import tempfile
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from cards.pick_tally import pick_tally
from cards.project import Project
from cards.spec import parse_paper_size
from cards.threading_chart import GROUP, threading_chart
from cards.warping_card import warping_card
from layouts.drawing import Drawing
from layouts.paper import Frame, PaperTooSmall, frame_for
from layouts.pdf import pdf_bytes
from layouts.sheets import pick_tally as tally_sheet
from layouts.sheets import threading_chart as threading_sheet
from layouts.sheets import warping_card as warping_sheet
from layouts.svg import svg_text

Sheet = Callable[[Project, Frame], Drawing]


def _warping_card(project: Project, frame: Frame) -> Drawing:
    return warping_sheet.draw_warping_card(warping_card(project), frame)


def _threading_chart(project: Project, frame: Frame) -> Drawing:
    card = threading_chart(project)
    most = threading_sheet.most_in_a_group(card, frame.content[2])
    if most < GROUP:
        card = threading_chart(project, most)
    return threading_sheet.draw_threading_chart(card, frame)


def _pick_tally(project: Project, frame: Frame) -> Drawing:
    return tally_sheet.draw_pick_tally(pick_tally(project), frame)


# In the order in which a weaver takes them up.
SHEETS: dict[str, Sheet] = {
    warping_sheet.SLUG: _warping_card,
    threading_sheet.SLUG: _threading_chart,
    tally_sheet.SLUG: _pick_tally,
}

# What a sheet needs between its margins: three columns of figures at arm's length and a row of
# boxes beside them.
LEAST_WIDTH = 94.0
LEAST_HEIGHT = 110.0


def frame_of(project: Project, size: str | None = None) -> Frame:
    """Return the page of a project, on paper of another `size` if one is named.

    Raises ValueError for an unknown size, PaperTooSmall for one that no sheet fits.
    """
    paper = project.paper
    default = "A4" if project.units == "metric" else "Letter"
    chosen = parse_paper_size(size or default) if size or paper.size is None else paper.size
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
) -> list[Path]:
    """Print the sheets named, or all, into `folder`; return the files that were written.

    `form` is "pdf", "svg" or "both"; `step` is told the share of the work that is done. A print of
    some sheets only has their names in that of its PDF, so that it never replaces a whole folio.
    Raises OSError when the folder cannot be written; then nothing in it has changed.
    """
    chosen = [name for name in SHEETS if name in names] if names else list(SHEETS)
    drawings = []
    for number, name in enumerate(chosen, start=1):
        drawings.append(SHEETS[name](project, frame))
        step(0.5 * number / len(chosen))
    files = []
    if form != "svg":
        parts = [stem] if len(chosen) == len(SHEETS) else [stem, *chosen]
        files.append(pdf_file(project, drawings, "-".join(parts)))
        step(0.75)
    if form != "pdf":
        for drawing in drawings:
            files.extend(svg_files(project, drawing, stem))
    step(0.95)
    written = write_files(files, folder)
    remove_stale_pages(folder, stem, written)
    step(1.0)
    return written


@dataclass(frozen=True, slots=True)
class File:
    """One finished file, still in memory."""

    name: str
    data: bytes


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
    return f"{info.title} ({info.code})" if info.code else info.title


def write_files(files: Sequence[File], folder: Path) -> list[Path]:
    """Write all files into `folder`, or none of them; older files are replaced when all are ready.

    Raises OSError when the folder cannot be made or written.
    """
    folder.mkdir(parents=True, exist_ok=True)
    waiting: list[tuple[Path, Path]] = []
    try:
        for file in files:
            aside = _write_aside(file, folder)
            waiting.append((aside, folder / file.name))
        for temporary, final in waiting:
            temporary.replace(final)
    except BaseException:
        for temporary, _ in waiting:
            with suppress(OSError):
                temporary.unlink(missing_ok=True)
        raise
    return [final for _, final in waiting]


def _write_aside(file: File, folder: Path) -> Path:
    handle, name = tempfile.mkstemp(prefix=f".{file.name}.", suffix=".part", dir=folder)
    path = Path(name)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(file.data)
            stream.flush()
            os.fsync(stream.fileno())
        path.chmod(0o666 & ~_umask())
    except BaseException:
        path.unlink(missing_ok=True)
        raise
    return path


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def remove_stale_pages(folder: Path, stem: str, written: Sequence[Path]) -> list[Path]:
    """Remove SVG pages of an earlier print of the same sheets that this print no longer has.

    A page that is no longer part of the sheet would be worked from by mistake.
    """
    kept = {path.name for path in written}
    slugs = {name.rsplit("-", 1)[0] for name in kept if name.endswith(".svg")}
    page = re.compile(rf"({re.escape(stem)}-[a-z-]+)-\d+\.svg")
    removed = []
    for path in sorted(folder.glob("*.svg")):
        match = page.fullmatch(path.name)
        if match and match[1] in slugs and path.name not in kept:
            path.unlink()
            removed.append(path)
    return removed
