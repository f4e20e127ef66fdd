"""What is found in a spec: what is wrong, where it stands, and how to mend it.

A finding is a record, never a printed line; the command line decides what becomes of it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from cards.spec.quoting import one_line

Level = Literal["error", "warning", "note"]


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A place in a file; line and column count from 1, columns in characters."""

    file: str
    line: int
    column: int


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing to tell the weaver; `code` is a stable kebab-case name, `mend` says what to do."""

    level: Level
    code: str
    message: str
    mend: str
    place: Place

    def __post_init__(self) -> None:
        """Keep message and mend in one line each, whatever they quote."""
        object.__setattr__(self, "message", one_line(self.message))
        object.__setattr__(self, "mend", one_line(self.mend))

    def text(self) -> str:
        """Return the finding as one line.

        >>> place = Place("throw.yaml", 3, 9)
        >>> Finding("error", "missing-unit", "`130` has no unit", "write 130 cm", place).text()
        'throw.yaml:3:9: error: `130` has no unit (write 130 cm)'
        """
        place = self.place
        mend = f" ({self.mend})" if self.mend else ""
        where = f"{one_line(place.file)}:{place.line}:{place.column}"
        return f"{where}: {self.level}: {self.message}{mend}"
