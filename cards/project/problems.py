"""Collects the findings of the working-out, each with its place in the spec."""

from __future__ import annotations

from collections.abc import Mapping

from cards.figures import Figures
from cards.spec import Finding, Place, Places
from cards.units import Units

Path = tuple[str | int, ...]


class Stopped(Exception):  # noqa: N818 -- it ends the working-out, it is not a fault of the program
    """Raised after an error was recorded without which nothing further can be worked out."""


class Problems:
    """The findings so far, in the units of the spec.

    Paths name a place in the spec, such as ("draft", "threading").
    """

    def __init__(
        self, places: Places, units: Units, moved: Mapping[Path, Path] | None = None
    ) -> None:
        self._places = places
        self._moved = moved or {}
        self.figures = Figures(units)
        self.findings: list[Finding] = []

    def apart(self) -> Problems:
        """Return a record of its own for a trial, whose findings nobody is told."""
        return Problems(self._places, self.figures.units, self._moved)

    def moved(self, moved: Mapping[Path, Path]) -> Problems:
        """Return the same record for a part of the spec in which some paths begin elsewhere."""
        other = Problems(self._places, self.figures.units, moved)
        other.findings = self.findings
        return other

    def _place(self, path: Path, offset: int = 0) -> Place:
        for begin, instead in self._moved.items():
            if path[: len(begin)] == begin:
                path = (*instead, *path[len(begin) :])
                break
        return self._places.of(*path, offset=offset)

    def _tell(self, finding: Finding) -> None:
        """Record a finding once: what is shared by several kinds of pieces is found for each."""
        if finding not in self.findings:
            self.findings.append(finding)

    @property
    def has_errors(self) -> bool:
        """Whether an error was recorded."""
        return any(finding.level == "error" for finding in self.findings)

    def error(self, code: str, message: str, mend: str, *path: str | int, offset: int = 0) -> None:
        """Record an error: the spec cannot be printed like this."""
        self._tell(Finding("error", code, message, mend, self._place(path, offset)))

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
        self._tell(Finding("warning", code, message, mend, self._place(path, offset)))

    def note(self, code: str, message: str, mend: str, *path: str | int) -> None:
        """Record something worth knowing."""
        self._tell(Finding("note", code, message, mend, self._place(path)))
