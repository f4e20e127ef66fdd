"""The sheets of a project drawn: those of every kind of piece and of every loom, each named."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from cards.project import Project
from layouts.drawing import Drawing
from layouts.paper import Frame, PaperTooSmall
from layouts.sheet_list import BY_LOOM, BY_PIECE, OPTIONAL, SHEETS, folio_of, sheets_of
from layouts.slug import slugs_of
from layouts.variants import finished


def drawn_sheets(
    project: Project,
    frame: Frame,
    names: Sequence[str] = (),
    note: Callable[[str], None] = lambda words: None,
    step: Callable[[float], None] = lambda share: None,
    others: Sequence[Project] = (),
) -> list[Drawing]:
    """Draw the sheets named, or those of a whole folio, in the order of their use.

    `note` is told in words which sheet is left out, `step` the share of the work that is done,
    `others` is the project on other looms: of these only the sheets that tell looms apart are
    drawn. Raises PaperTooSmall when a sheet does not fit that was named or that no weaver can do
    without.
    """
    wanted = [*_of_pieces(project, chosen_sheets(project, names))]
    wanted += _on_others(project, others, names)
    drawings: list[Drawing] = []
    for number, each in enumerate(wanted, start=1):
        drawings += _drawn(each, frame, note, named=bool(names))
        step(number / len(wanted))
    return drawings


def chosen_sheets(project: Project, names: Sequence[str]) -> list[str]:
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
    slugs = slugs_of([kind.piece for kind in project.further], "piece")
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
    slugs = slugs_of([project.loom.name for project in projects], "loom")
    for project, slug in zip(projects, slugs, strict=True):
        chosen = chosen_sheets(project, names)
        there = [name for name in chosen if name in BY_LOOM and BY_LOOM[name](own, project)]
        yield from _of_pieces(project, there, slug)


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
    return [_named(finished(drawing, frame), wanted)]


def _named(drawing: Drawing, wanted: _Wanted) -> Drawing:
    """Name a sheet and its pages after loom and piece, in the outline and in the names of files."""
    project, slug = wanted.project, drawing.slug
    on = f"{project.loom.name}: " if wanted.loom else ""
    slug += f"-of-{wanted.piece}" if wanted.piece else ""
    slug += f"-on-{wanted.loom}" if wanted.loom else ""
    on += f"{project.piece}: " if wanted.piece else ""
    pages = tuple(replace(page, name=f"{on}{page.name}") for page in drawing.pages)
    return Drawing(f"{on}{drawing.title}", slug, pages)
