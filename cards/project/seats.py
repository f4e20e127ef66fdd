"""The seats of a class: the same project for the loom, the units and the needs of each.

Every loom is worked out from the beginning, as for a spec of several looms, and once for all seats
that have it in the same units and for the same hand.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from cards.needs import Needs
from cards.project.looms import of_same_size
from cards.project.model import Outcome, Project
from cards.project.work_out import work_out
from cards.spec import Finding, Paper, Place, Reading, Seat
from cards.spec.words import plain_name

_Key = tuple[str | None, str | None, Needs]


@dataclass(frozen=True, slots=True)
class Seated:
    """A seat with its needs, and what the spec comes to there."""

    seat: Seat
    needs: Needs
    outcome: Outcome

    @property
    def project(self) -> Project | None:
        """The project at this seat, None where nothing may be printed for it."""
        return None if self.outcome.has_errors else self.outcome.project


def at_seat(project: Project, seat: str, paper: Paper) -> Project:
    """Return a project as it is printed for a seat, on the paper of that."""
    further = tuple(at_seat(each, seat, paper) for each in project.further)
    return replace(project, seat=seat, paper=paper, further=further)


def work_out_seats(reading: Reading, main: Outcome) -> tuple[Seated, ...]:
    """Return all seats of the class of a spec; `main` is what it comes to on its own loom."""
    if reading.spec is None or reading.spec.class_ is None or main.project is None:
        return ()
    done: dict[_Key, Outcome] = {}
    seats = []
    for position, seat in enumerate(reading.spec.class_.seats):
        needs = Needs.of(seat.needs)
        loom = plain_name(seat.loom) if seat.loom else None
        # Large print is a matter of the page alone.
        key = (loom, seat.units, replace(needs, large_print=False))
        if key not in done:
            done[key] = _outcome(reading, main, position, seat, key[2])
        outcome = done[key]
        if outcome.project is not None:
            paper = seat.paper_of(reading.spec.paper)
            project = at_seat(outcome.project, seat.seat, paper)
            outcome = replace(outcome, project=replace(project, needs=needs))
        seats.append(Seated(seat, needs, outcome))
    return tuple(seats)


def _outcome(reading: Reading, main: Outcome, position: int, seat: Seat, needs: Needs) -> Outcome:
    """Return what a spec comes to on the loom of a seat, in its units."""
    own = reading.on_loom(seat.loom) if seat.loom else reading
    if own.spec is None:
        place = reading.places.of("class", "seats", position, "loom")
        return Outcome(tuple(_moved(each, place) for each in own.findings))
    asked = main.project.asked if main.project is not None else None
    own = of_same_size(own, asked)
    if seat.units and own.spec is not None:
        own = replace(own, spec=own.spec.model_copy(update={"units": seat.units}))
    return work_out(own.for_reader(needs))


def _moved(finding: Finding, place: Place) -> Finding:
    return replace(finding, place=place) if finding.code == "no-such-loom" else finding


def seat_findings(seats: Sequence[Seated], told: Sequence[Finding]) -> list[Finding]:
    """Return what is found at seats alone, each once, with the names of all its seats."""
    known = {(each.code, each.place) for each in told}
    found: dict[tuple[str, Place], tuple[Finding, list[str]]] = {}
    for each in seats:
        for finding in each.outcome.findings:
            key = (finding.code, finding.place)
            if key not in known:
                names = found.setdefault(key, (finding, []))[1]
                if each.seat.seat not in names:
                    names.append(each.seat.seat)
    return [
        replace(finding, message=f"for seat '{_listed(names)}': {finding.message}")
        for finding, names in found.values()
    ]


def _listed(names: Sequence[str]) -> str:
    return "', '".join(names)
