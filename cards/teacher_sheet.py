"""The teacher's sheet: every seat of a class with what was printed for it, and yarn for all.

What differs from loom to loom stands in the teacher's own units, so that it can be compared. Seats
are places in the room; the sheet knows nobody's name.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from cards.calculation.yarn_need import Need, need_of
from cards.figures import Figures
from cards.heading import Heading, heading_of
from cards.project.model import Project, ProjectYarn
from cards.tie_up_card import tie_up_card

CARD = "Teacher's sheet"


@dataclass(frozen=True, slots=True)
class Printed:
    """What was printed for a seat: its project, its paper in words, sheets and their pages."""

    seat: str
    project: Project
    paper: str
    sheets: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class SeatRow:
    """One seat: its loom in words, what is printed for it, and what differs there.

    `warp_length` is mm, `reed` dents per mm or None; `tied` are treadles in use, and `cords` their
    ties, None on a loom without a tie-up. `mirrored` is true of cloth that comes out mirrored.
    """

    seat: str
    loom: str
    units: str
    paper: str
    needs: str
    sheets: tuple[tuple[str, int], ...]
    warp_length: float
    reed: float | None
    tied: int | None
    treadles: int | None
    cords: int | None
    mirrored: bool

    @property
    def pages(self) -> int:
        """Pages of all its sheets."""
        return sum(pages for _, pages in self.sheets)


@dataclass(frozen=True, slots=True)
class ClassYarn:
    """One yarn: g with the buying margin at every seat that needs it, and the need of all."""

    yarn: ProjectYarn
    by_seat: tuple[tuple[str, float], ...]
    need: Need


@dataclass(frozen=True, slots=True)
class TeacherSheet:
    """All that the teacher's sheet says."""

    heading: Heading
    seats: tuple[SeatRow, ...]
    yarns: tuple[ClassYarn, ...]
    margin: float
    figures: Figures

    @property
    def shares_on_hand(self) -> bool:
        """Whether there is yarn on hand, which every seat's own yarn list counts for itself."""
        return any(each.need.on_hand for each in self.yarns)


def teacher_sheet(
    project: Project, seats: Sequence[Printed], title: str = "", date: str = ""
) -> TeacherSheet:
    """Return the teacher's sheet of a class, whose `title` and `date` stand in its name."""
    margin = next(step.value for step in project.steps if step.name == "buying margin")
    named = " · ".join(text for text in (CARD, title, date) if text)
    return TeacherSheet(
        heading=heading_of(project, named),
        seats=tuple(map(_row, seats)),
        yarns=_yarns(project, seats, margin),
        margin=margin,
        figures=Figures(project.units),
    )


def _row(printed: Printed) -> SeatRow:
    project = printed.project
    loom = project.loom
    cords = tie_up_card(project).cords
    return SeatRow(
        seat=printed.seat,
        loom=heading_of(project, CARD).loom,
        units=project.units,
        paper=printed.paper,
        needs=project.needs.words,
        sheets=printed.sheets,
        warp_length=project.warp.length,
        reed=project.reed,
        tied=len(loom.tied) if cords is not None else None,
        treadles=loom.treadles,
        cords=cords.cords if cords is not None else None,
        mirrored=project.mirrored,
    )


def _yarns(project: Project, seats: Sequence[Printed], margin: float) -> tuple[ClassYarn, ...]:
    """Return what the whole class needs of every yarn; what is on hand is there once for all."""
    found = []
    for yarn in project.yarns:
        needs = [
            (each.seat, total.need)
            for each in seats
            for total in each.project.totals
            if total.yarn.key == yarn.key
        ]
        if needs:
            length = sum(need.length for _, need in needs)
            by_seat = tuple((seat, need.mass * (1 + margin)) for seat, need in needs)
            whole = need_of(length, yarn.tex, margin, yarn.put_up, yarn.on_hand)
            found.append(ClassYarn(yarn, by_seat, whole))
    return tuple(found)
