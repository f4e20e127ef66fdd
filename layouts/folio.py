"""The folio of a project: which sheets there are, and which files they become.

Everything is made in memory first, and then written all at once.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from cards.draft_sheet import draft_sheet
from cards.pick_tally import pick_tally
from cards.project import Project
from cards.sley_card import ENDS_IN_A_BOX, sley_card
from cards.spec import PaperSize, parse_paper_size
from cards.threading_chart import threading_chart
from cards.threading_groups import GROUP
from cards.warping_card import warping_card
from layouts.drawing import Drawing
from layouts.files import File, write_files
from layouts.paper import Frame, PaperTooSmall, frame_for
from layouts.pdf import pdf_bytes
from layouts.sheets import draft_sheet as draft_drawing
from layouts.sheets import pick_tally as tally_sheet
from layouts.sheets import sley_card as sley_sheet
from layouts.sheets import threading_chart as threading_sheet
from layouts.sheets import warping_card as warping_sheet

Sheet = Callable[[Project, Frame], Drawing]


def _warping_card(project: Project, frame: Frame) -> Drawing:
    return warping_sheet.draw_warping_card(warping_card(project), frame)


def _threading_chart(project: Project, frame: Frame) -> Drawing:
    card = threading_chart(project)
    most = threading_sheet.most_in_a_group(card, frame.content[2])
    if most < GROUP:
        card = threading_chart(project, most)
    return threading_sheet.draw_threading_chart(card, frame)


def _sley_card(project: Project, frame: Frame) -> Drawing:
    drawings: list[Drawing] = []
    for in_a_box in ENDS_IN_A_BOX:
        drawings.append(sley_sheet.draw_sley_card(sley_card(project, in_a_box), frame))
        if len(drawings[-1].pages) == 1:
            break
    return min(drawings, key=lambda drawing: len(drawing.pages))


def _sett_table(project: Project, frame: Frame) -> Drawing:
    # Read only where somebody keeps reeds: every other print would wait for it in vain.
    from cards.sett_table import sett_table  # noqa: PLC0415
    from layouts.sheets.sett_table import draw_sett_table  # noqa: PLC0415

    return draw_sett_table(sett_table(project), frame)


def _pick_tally(project: Project, frame: Frame) -> Drawing:
    return tally_sheet.draw_pick_tally(pick_tally(project), frame)


def _draft_sheet(project: Project, frame: Frame) -> Drawing:
    return draft_drawing.draw_draft_sheet(draft_sheet(project), frame)


def _cloth_sheet(project: Project, frame: Frame) -> Drawing:
    # Read only for projects of layers: every other print would wait for it in vain.
    from cards.cloth_sheet import cloth_sheet  # noqa: PLC0415
    from layouts.sheets.cloth_sheet import draw_cloth_sheet  # noqa: PLC0415

    return draw_cloth_sheet(cloth_sheet(project), frame)


CLOTH_SHEET = "cloth-sheet"
SETT_TABLE = "sett-table"

# In the order in which a weaver takes them up.
SHEETS: dict[str, Sheet] = {
    warping_sheet.SLUG: _warping_card,
    threading_sheet.SLUG: _threading_chart,
    sley_sheet.SLUG: _sley_card,
    tally_sheet.SLUG: _pick_tally,
    draft_drawing.SLUG: _draft_sheet,
    CLOTH_SHEET: _cloth_sheet,
    SETT_TABLE: _sett_table,
}

# Sheets that only some projects have, which do, and what the others lack.
_ONLY_FOR: dict[str, tuple[Callable[[Project], bool], str]] = {
    CLOTH_SHEET: (lambda project: project.cloth.has_layers, "whose draft makes a single layer"),
    sley_sheet.SLUG: (lambda project: project.in_reed is not None, "whose loom has no reed"),
    SETT_TABLE: (lambda project: project.in_reed is not None, "whose loom has no reed"),
}

# Sheets that are printed only when they are asked for, but for some projects.
_ON_REQUEST: dict[str, Callable[[Project], bool]] = {
    SETT_TABLE: lambda project: project.in_reed is None or not project.in_reed.owned
}

# A whole folio goes without these where the paper is too small for them: no loom waits for them.
OPTIONAL = frozenset({draft_drawing.SLUG, CLOTH_SHEET, SETT_TABLE})


def sheets_of(project: Project, *, asked: bool = False) -> dict[str, Sheet]:
    """Return the sheets of a project's folio; with `asked` also those printed on request only."""
    return {
        name: draw
        for name, draw in SHEETS.items()
        if not lacking(project, name)
        and (asked or name not in _ON_REQUEST or not _ON_REQUEST[name](project))
    }


def lacking(project: Project, name: str) -> str:
    """Return why there is nothing to draw on a sheet for a project, or nothing."""
    there, why = _ONLY_FOR.get(name, (None, ""))
    return "" if there is None or there(project) else why


# What a sheet needs between its margins: three columns of figures at arm's length and a row of
# boxes beside them.
LEAST_WIDTH = 94.0
LEAST_HEIGHT = 110.0


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
    whole = list(sheets_of(project))
    chosen = [name for name in sheets_of(project, asked=True) if name in names] if names else whole
    wanted = [_Wanted(project, name) for name in chosen]
    wanted += [each for each in _on_others(others) if each.name in chosen]
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


@dataclass(frozen=True, slots=True)
class _Wanted:
    """A sheet to be drawn; `loom` is a word for the loom, empty on the project's own."""

    project: Project
    name: str
    loom: str = ""


# Sheets that are not the same on every loom.
_BY_LOOM = frozenset({"tie-up-card", tally_sheet.SLUG})


def _on_others(projects: Sequence[Project]) -> Iterator[_Wanted]:
    """Yield the sheets of other looms, loom by loom."""
    taken: set[str] = set()
    for number, project in enumerate(projects, start=2):
        slug = loom_slug(project.loom.name)
        slug = f"{slug}-{number}" if slug in taken else slug
        taken.add(slug)
        for name in sheets_of(project):
            if name in _BY_LOOM:
                yield _Wanted(project, name, slug)


def loom_slug(name: str) -> str:
    """Return a loom's name as it stands in the name of a file.

    >>> loom_slug("Jack loom, no. 2")
    'jack-loom-no-2'
    """
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().casefold()
    return "-".join(re.findall(r"[a-z0-9]+", plain)) or "loom"


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
    return [_for_loom(drawing, wanted)] if wanted.loom else [drawing]


def _for_loom(drawing: Drawing, wanted: _Wanted) -> Drawing:
    """Name a sheet and its pages after the loom, in the outline and in the names of files."""
    on = f"{wanted.project.loom.name}: "
    pages = tuple(replace(page, name=f"{on}{page.name}") for page in drawing.pages)
    return Drawing(f"{on}{drawing.title}", f"{drawing.slug}-on-{wanted.loom}", pages)


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
    return f"{info.title} ({info.code})" if info.code else info.title
