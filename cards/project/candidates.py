"""The candidates of a spec, each worked out from the beginning as a spec of its own."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from cards.project.model import Outcome
from cards.project.work_out import work_out
from cards.spec import Finding, Reading


@dataclass(frozen=True, slots=True)
class Tried:
    """A candidate: its name, how it was read and what it comes to."""

    name: str
    reading: Reading
    outcome: Outcome


def work_out_candidates(reading: Reading) -> Iterator[Tried]:
    """Yield everything that a spec has to compare, in its order; nothing if it is one alone."""
    for name in reading.candidates:
        own = reading.on_candidate(name)
        yield Tried(name, own, work_out(own))


def in_candidate(name: str, finding: Finding) -> Finding:
    """Return a finding that says in which candidate it is."""
    return replace(finding, message=f"in candidate '{name}': {finding.message}")


def of_candidates_only(tried: Iterable[Tried], told: tuple[Finding, ...]) -> list[Finding]:
    """Return the findings of candidates that the spec as written has not, each with its name."""
    known = {(each.code, each.message, each.place) for each in told}
    return [
        in_candidate(each.name, finding)
        for each in tried
        for finding in each.outcome.findings
        if (finding.code, finding.message, finding.place) not in known
    ]
