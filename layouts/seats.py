"""The seats of a class as they are printed, and what stands in the way of any of them."""

from __future__ import annotations

import re
from collections.abc import Sequence

from cards.project import Outcome
from cards.project.seats import Seated, seat_findings, work_out_seats
from cards.spec import Finding, Reading
from layouts.folio import frame_of
from layouts.glyphs import name_finding, printed_texts
from layouts.imposition import imposition_of
from layouts.paper import PaperTooSmall

_SIDE = re.compile(r"\b(left|right)\b", re.IGNORECASE)
# Texts that tell what to do; a name is only a name.
_PROSE = frozenset({"weave", "pieces", "pattern", "exercises"})


def seated(reading: Reading, main: Outcome) -> tuple[tuple[Seated, ...], list[Finding]]:
    """Return the seats of a spec worked out, and what is found at them and nowhere else."""
    seats = work_out_seats(reading, main)
    return seats, [
        *seat_findings(seats, main.findings),
        *_on_paper(reading, seats),
        *_sided(reading, seats),
    ]


def _sided(reading: Reading, seats: Sequence[Seated]) -> list[Finding]:
    """Return a note on every text that names a side, where cloth comes out mirrored at a seat."""
    mirrored = [each.seat.seat for each in seats if each.project and each.project.mirrored]
    if not mirrored or reading.spec is None:
        return []
    found = []
    for path, text in printed_texts(reading.spec):
        side = _SIDE.search(text)
        if side is not None and path[0] in _PROSE and path[-1] not in {"section", "piece"}:
            message = (
                f"for seat '{mirrored[0]}': this text says '{side[0]}', and for a left-handed "
                "weaver that lies at the other side"
            )
            mend = "name what lies there, such as the fold or the first end"
            place = reading.places.of(*path, offset=side.start())
            found.append(Finding("note", "side-in-a-text", message, mend, place))
    return found


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
