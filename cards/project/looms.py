"""The same project on all looms that its spec names, worked out for each from the beginning.

So a card for another loom is as sure as that of the first. Ends and draft are the same on all; the
length of the warp is not, since looms waste more or less of it.
"""

from __future__ import annotations

from dataclasses import replace

from cards.figures import Figures
from cards.project.model import MostOf, Outcome, Project
from cards.project.most import of_size
from cards.project.work_out import work_out
from cards.spec import Finding, Reading

_CLOSE = 1 + 1e-9  # a warp longer by a hair comes of the arithmetic


def work_out_on_all(reading: Reading) -> Outcome:
    """Return what a spec comes to on its loom, with the `others` of its `looms` in their order.

    A finding of another loom says of which; one that the spec's own loom has too is told once.
    """
    main = work_out(reading)
    if reading.spec is None or main.project is None:
        return main
    asked = main.project.asked
    if asked is not None and not asked.value:
        return main  # there is nothing to weave, on whatever loom
    told = {(each.code, each.message) for each in main.findings}
    findings: list[Finding] = list(main.findings)
    others: list[Project] = []
    for position, loom in enumerate(reading.spec.looms):
        name = loom.name or ""
        outcome = work_out(of_same_size(reading.on_loom(name), asked))
        findings += [
            replace(each, message=f"on '{name}': {each.message}")
            for each in outcome.findings
            if (each.code, each.message) not in told
        ]
        if outcome.project is not None:
            findings += _longer_warp(reading, position, main.project, outcome.project)
            others.append(outcome.project)
    return replace(main, findings=tuple(findings), others=tuple(others))


def of_same_size(reading: Reading, asked: MostOf | None) -> Reading:
    """Return a reading with the size put in that is the most on the spec's own loom."""
    if asked is None or reading.spec is None:
        return reading
    return replace(reading, spec=of_size(reading.spec, asked))


def _longer_warp(reading: Reading, position: int, main: Project, other: Project) -> list[Finding]:
    """Note a loom on which a warp wound for the spec's own loom would be too short."""
    if other.warp.length <= main.warp.length * _CLOSE:
        return []
    figures, name = Figures(main.units), other.loom.name
    what = (
        f"on '{name}' the warp is {figures.long(other.warp.length)} long, and "
        f"{figures.long(main.warp.length)} on the spec's own loom"
    )
    mend = "each has its warping card; wind the longer one if you do not know yet where to weave"
    return [Finding("note", "longer-warp", what, mend, reading.places.of("looms", position))]
