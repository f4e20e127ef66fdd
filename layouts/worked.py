"""A spec worked out for a command, and its findings told on stderr."""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

import click

from layouts.streams import seen_by_a_person, tell

if TYPE_CHECKING:
    from cards.project import Outcome
    from cards.spec import Finding, Reading

_COLOURS = {"error": "red", "warning": "yellow", "note": "cyan"}


def work_out_spec(
    spec: str,
    loom: str | None,
    candidate: str | None = None,
    *,
    with_candidates: bool = False,
    left_handed: bool = False,
) -> Outcome:
    """Read and work out a spec, with what the font cannot print among the findings.

    Without a `loom` it is worked out on all looms of the spec, else on that one alone. With a
    `candidate` it has the changes of that one; `with_candidates` tells of all the others too.
    For a `left_handed` weaver it is the mirror image.
    """
    from cards.project import work_out, work_out_on_all  # noqa: PLC0415
    from cards.spec import read_spec  # noqa: PLC0415

    reading = read_spec(spec, loom, candidate)
    if left_handed:
        reading = reading.for_left_hand()
    outcome = work_out_on_all(reading) if loom is None else work_out(reading)
    outcome = with_texts(outcome, reading)
    if not with_candidates or candidate is not None or not reading.candidates:
        return outcome
    return replace(outcome, findings=_in_order([*outcome.findings, *_others(reading, outcome)]))


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
    """Return an outcome with all that is wrong with the texts of its spec among its findings."""
    from cards.pattern_check import pattern_findings  # noqa: PLC0415

    outcome = with_glyphs(outcome, reading)
    more = pattern_findings(outcome, reading)
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
