"""The seats of a class as they are printed, and what stands in the way of any of them."""

from __future__ import annotations

from collections.abc import Sequence

from cards.project import Outcome
from cards.project.seats import Seated, seat_findings, work_out_seats
from cards.spec import Finding, Reading
from layouts.folio import frame_of
from layouts.glyphs import name_finding
from layouts.imposition import imposition_of
from layouts.paper import PaperTooSmall


def seated(reading: Reading, main: Outcome) -> tuple[tuple[Seated, ...], list[Finding]]:
    """Return the seats of a spec worked out, and what is found at them and nowhere else."""
    seats = work_out_seats(reading, main)
    return seats, [*seat_findings(seats, main.findings), *_on_paper(reading, seats)]


def _on_paper(reading: Reading, seats: Sequence[Seated]) -> list[Finding]:
    """Return an error where no sheet fits on the paper of a seat, or its loom cannot be named."""
    found = []
    for position, each in enumerate(seats):
        if each.outcome.project is None:
            continue
        if each.seat.loom:
            place = reading.places.of("class", "seats", position, "loom")
            found += name_finding(each.outcome.project.loom.name, place)
        try:
            project = each.outcome.project
            frame_of(project, None, each.needs, imposition_of(project.paper))
        except PaperTooSmall as error:
            message = f"for seat '{each.seat.seat}': {error}"
            place = reading.places.of("class", "seats", position, "paper")
            mend = "give it larger paper, or leave large print out"
            if not each.needs.large_print:
                mend = "give it larger paper"
            found.append(Finding("error", "paper-too-small", message, mend, place))
    return found
