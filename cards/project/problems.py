"""Collects the findings of the working-out, each with its place in the spec."""

from __future__ import annotations

from cards.figures import Figures
from cards.spec import Finding, Places
from cards.units import Units


class Stopped(Exception):  # noqa: N818 -- it ends the working-out, it is not a fault of the program
    """Raised after an error was recorded without which nothing further can be worked out."""


class Problems:
    """The findings so far, in the units of the spec.

    Paths name a place in the spec, such as ("draft", "threading").
    """

    def __init__(self, places: Places, units: Units) -> None:
        self._places = places
        self.figures = Figures(units)
        self.findings: list[Finding] = []

    def apart(self) -> Problems:
        """Return a record of its own for a trial, whose findings nobody is told."""
        return Problems(self._places, self.figures.units)

    @property
    def has_errors(self) -> bool:
        """Whether an error was recorded."""
        return any(finding.level == "error" for finding in self.findings)

    def error(self, code: str, message: str, mend: str, *path: str | int, offset: int = 0) -> None:
        """Record an error: the spec cannot be printed like this."""
        place = self._places.of(*path, offset=offset)
        self.findings.append(Finding("error", code, message, mend, place))

    def stop(
        self, code: str, message: str, mend: str, *path: str | int, offset: int = 0
    ) -> Stopped:
        """Record an error and return the exception to raise."""
        self.error(code, message, mend, *path, offset=offset)
        return Stopped(message)

    def warning(
        self, code: str, message: str, mend: str, *path: str | int, offset: int = 0
    ) -> None:
        """Record a warning: it can be woven, but the weaver should know."""
        place = self._places.of(*path, offset=offset)
        self.findings.append(Finding("warning", code, message, mend, place))

    def note(self, code: str, message: str, mend: str, *path: str | int) -> None:
        """Record something worth knowing."""
        self.findings.append(Finding("note", code, message, mend, self._places.of(*path)))
