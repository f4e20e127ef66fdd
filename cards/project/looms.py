"""The same project on all looms that its spec names, worked out for each from the beginning.

So a card for another loom is as sure as that of the first. Ends and draft are the same on all.
"""

from __future__ import annotations

from dataclasses import replace

from cards.project.model import Outcome, Project
from cards.project.work_out import work_out
from cards.spec import Finding, Reading


def work_out_on_all(reading: Reading) -> Outcome:
    """Return what a spec comes to on its loom, with the `others` of its `looms` in their order.

    A finding of another loom says of which; one that the spec's own loom has too is told once.
    """
    main = work_out(reading)
    if reading.spec is None or main.project is None:
        return main
    told = {(each.code, each.message) for each in main.findings}
    findings: list[Finding] = list(main.findings)
    others: list[Project] = []
    for loom in reading.spec.looms:
        name = loom.name or ""
        outcome = work_out(reading.on_loom(name))
        findings += [
            replace(each, message=f"on '{name}': {each.message}")
            for each in outcome.findings
            if (each.code, each.message) not in told
        ]
        others += [outcome.project] if outcome.project is not None else []
    return replace(main, findings=tuple(findings), others=tuple(others))
