"""One project made ready for a binder: its pages without numbers, and what the binder says of it.

Whatever is kept of it is plain data, so that it can be read again without trust in who wrote it.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from cards.binder import BinderEntry, entry_of
from cards.project.source import Source
from cards.spec import Finding
from layouts.drawn import drawn_sheets
from layouts.paper import Frame, PaperTooSmall
from layouts.pdf import pdf_bytes
from layouts.worked import work_out_spec


@dataclass(frozen=True, slots=True)
class BoundSheet:
    """A sheet of a project: its title and how many pages it has."""

    title: str
    pages: int


@dataclass(frozen=True, slots=True)
class BoundFolio:
    """The whole folio of a spec, `name` being relative to the binder's folder.

    `findings` and `notes` are told to the weaver whenever it is bound. `pdf` has the pages.
    """

    name: str
    source: Source
    entry: BinderEntry
    sheets: tuple[BoundSheet, ...]
    findings: tuple[Finding, ...]
    notes: tuple[str, ...]
    pdf: bytes

    @property
    def pages(self) -> int:
        """Pages of all sheets."""
        return sum(sheet.pages for sheet in self.sheets)


@dataclass(frozen=True, slots=True)
class Unbound:
    """A spec that cannot be bound, and why: findings, or a line of words."""

    name: str
    findings: tuple[Finding, ...]
    why: str = ""


def folio_for_binder(folder: Path, name: str, frame: Frame) -> BoundFolio | Unbound:
    """Work a spec out and draw its whole folio on a binder's page."""
    outcome = work_out_spec(str(folder / name), None)
    project = outcome.project
    if project is None or outcome.has_errors:
        return Unbound(name, outcome.findings)
    notes: list[str] = []
    try:
        drawings = drawn_sheets(project, frame, note=notes.append, others=outcome.others)
    except PaperTooSmall as error:
        return Unbound(name, outcome.findings, str(error))
    entry = entry_of(project, outcome.others)
    return BoundFolio(
        name=name,
        source=project.source,
        entry=entry,
        sheets=tuple(BoundSheet(each.title, len(each.pages)) for each in drawings),
        findings=outcome.findings,
        notes=tuple(notes),
        pdf=pdf_bytes(drawings, title=entry.title),
    )
