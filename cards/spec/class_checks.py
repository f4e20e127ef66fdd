"""Checks of a class that need nothing worked out: that it has seats, each of its own name."""

from __future__ import annotations

from cards.spec.paper_checks import check_one
from cards.spec.parts import Parts
from cards.spec.quoting import shortened
from cards.spec.words import plain_name

# A folio is worked out and printed for each of them, and that takes its time.
MOST_SEATS = 40


def check_class(parts: Parts) -> None:
    """Tell a class without a seat, with too many, and two seats of one name."""
    if parts.class_ is None or not parts.sound("class", "seats"):
        return
    seats = parts.class_.seats
    if not seats:
        message, mend = "the class has no seat", "add one, as `- {seat: window}`"
        parts.tell_key("error", "no-seats", message, mend, "class", "seats")
    if len(seats) > MOST_SEATS:
        message = f"{len(seats)} seats, and folios are printed for {MOST_SEATS}"
        mend = "write two specs, or one seat for all who have the same loom and needs"
        parts.tell_key("error", "too-many", message, mend, "class", "seats")
    taken: set[str] = set()
    for position, seat in enumerate(seats):
        if plain_name(seat.seat) in taken:
            message = f"two seats are called '{shortened(seat.seat)}'"
            mend = "give one of them another name"
            parts.tell("error", "seat-twice", message, mend, "class", "seats", position, "seat")
        taken.add(plain_name(seat.seat))
        if parts.paper is not None and seat.paper is not None and parts.sound("paper"):
            path = ("class", "seats", position, "paper")
            check_one(parts, seat.paper_of(parts.paper), *path)
