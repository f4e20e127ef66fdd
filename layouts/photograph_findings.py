"""What is wrong with the photographs of a spec, before anything is printed."""

from __future__ import annotations

from cards.project.photographs import photographs_of
from cards.spec import Finding, Level, Reading
from cards.spec.photograph_models import MOST_PHOTOGRAPHS
from cards.spec.refusal import NotationError

# Without them the sheets can be printed: a spec that was recovered from its cards has none.
_LACKING = "no-photograph"


def photograph_findings(reading: Reading) -> list[Finding]:
    """Return a finding for every photograph that cannot be printed."""
    found: list[Finding] = []
    photographs = photographs_of(reading)
    if len(photographs) > MOST_PHOTOGRAPHS:
        return found  # that is told, and nobody waits for all of them
    for number, photograph in enumerate(photographs):
        from layouts.photographs import check_photograph  # noqa: PLC0415 -- few specs have any

        try:
            check_photograph(photograph.data())
        except NotationError as error:
            place = reading.places.of("photographs", number, "file")
            level: Level = "warning" if error.code == _LACKING else "error"
            found.append(Finding(level, error.code, error.message, error.mend, place))
    return found
