"""A spec worked out for a command, and its findings told on stderr."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import click

from cards.needs import NONE
from layouts.streams import seen_by_a_person, tell

if TYPE_CHECKING:
    from cards.needs import Needs
    from cards.project import Outcome, Project
    from cards.project.seats import Seated
    from cards.spec import ClassOf, Finding, Reading

_COLOURS = {"error": "red", "warning": "yellow", "note": "cyan"}


def work_out_spec(
    spec: str,
    loom: str | None,
    candidate: str | None = None,
    *,
    with_candidates: bool = False,
    needs: Needs = NONE,
) -> Outcome:
    """Read and work out a spec, with what the font cannot print among the findings.

    Without a `loom` it is worked out on all looms of the spec, else on that one alone. With a
    `candidate` it has the changes of that one; `with_candidates` tells of all the others too, and
    of the seats of a class. It is worked out for who has these `needs`.
    """
    from cards.project import work_out, work_out_on_all  # noqa: PLC0415
    from cards.spec import read_spec  # noqa: PLC0415

    reading = read_spec(spec, loom, candidate)
    reading = reading.for_reader(needs)
    outcome = work_out_on_all(reading) if loom is None else work_out(reading)
    outcome = with_texts(outcome, reading)
    if not with_candidates:
        return outcome
    found = [*outcome.findings]
    if candidate is None and reading.candidates:
        found += _others(reading, outcome)
    if loom is None and reading.spec is not None and reading.spec.class_ is not None:
        from layouts.seats import seated  # noqa: PLC0415 - only few specs have a class

        found += seated(reading, outcome)[1]
    return replace(outcome, findings=_in_order(found))


@dataclass(frozen=True, slots=True)
class Class:
    """The class of a spec, None where there is none, its seats, and what is found in all of it."""

    class_: ClassOf | None
    project: Project | None
    seats: tuple[Seated, ...]
    findings: tuple[Finding, ...]

    @property
    def has_errors(self) -> bool:
        """Whether any finding is an error, so that nothing may be printed."""
        return any(finding.level == "error" for finding in self.findings)


def work_out_class(spec: str, candidate: str | None = None) -> Class:
    """Read a spec and work it out on its own loom and for every seat of its class."""
    from cards.project import work_out  # noqa: PLC0415
    from cards.spec import read_spec  # noqa: PLC0415
    from layouts.seats import seated  # noqa: PLC0415

    reading = read_spec(spec, None, candidate)
    main = with_texts(work_out(reading), reading)
    seats, found = seated(reading, main)
    class_ = reading.spec.class_ if reading.spec is not None else None
    return Class(class_, main.project, seats, _in_order([*main.findings, *found]))


def with_glyphs(outcome: Outcome, reading: Reading) -> Outcome:
    """Return an outcome with what can only be told when it is printed among its findings.

    That is what the font cannot print, and exercises for which the draft gives nothing.
    """
    from layouts.glyphs import glyph_findings, name_findings  # noqa: PLC0415

    if reading.spec is None:
        return outcome
    more = glyph_findings(reading.spec, reading.places) + name_findings(reading)
    if reading.spec.exercises and outcome.project is not None:
        from cards.exercises import exercise_findings  # noqa: PLC0415 -- few specs ask for any

        more += exercise_findings(outcome.project, reading.places)
    return replace(outcome, findings=_in_order([*outcome.findings, *more]))


def with_texts(outcome: Outcome, reading: Reading) -> Outcome:
    """Return an outcome with what is wrong with the texts and photographs of its spec."""
    from cards.spec_texts import says_figures  # noqa: PLC0415
    from layouts.photograph_findings import photograph_findings  # noqa: PLC0415

    outcome = with_glyphs(outcome, reading)
    more = photograph_findings(reading)
    if says_figures(reading):
        from cards.text_check import text_findings  # noqa: PLC0415 - most specs have no such text

        more += text_findings(outcome, reading)
    return replace(outcome, findings=_in_order([*outcome.findings, *more])) if more else outcome


def _others(reading: Reading, outcome: Outcome) -> list[Finding]:
    """Return what is found in the candidates of a spec and not in the spec itself."""
    from cards.project.candidates import of_candidates_only, work_out_candidates  # noqa: PLC0415

    tried = (
        replace(each, outcome=with_texts(each.outcome, each.reading))
        for each in work_out_candidates(reading)
    )
    return of_candidates_only(tried, outcome.findings)


def _in_order(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    return tuple(sorted(findings, key=lambda each: (each.place.line, each.place.column)))


def project_to_print(outcome: Outcome, spec: str) -> Project:
    """Tell what was found in a spec and return its project; leave where nothing may be printed."""
    report(outcome.findings)
    refuse_kept(outcome)
    if outcome.project is None or outcome.has_errors:
        tell(f"{spec}: not printed; mend the errors first")
        sys.exit(1)
    return outcome.project


def refuse_kept(outcome: Outcome) -> None:
    """Refuse a file of looms and yarns where a spec is to be named."""
    if outcome.is_kept:
        raise click.BadParameter(
            "this is a file of looms and yarns, and no spec", param_hint="SPEC"
        )


def report(findings: Sequence[Finding]) -> None:
    """Tell findings on stderr, in colours where a person sees them and wants them."""
    coloured = seen_by_a_person() and not os.environ.get("NO_COLOR")
    for finding in findings:
        text = finding.text()
        if coloured:
            word = f" {finding.level}: "
            styled = click.style(word, fg=_COLOURS[finding.level], bold=True)
            text = text.replace(word, styled, 1)
        tell(text)
