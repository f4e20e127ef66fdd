"""Works a spec out into a project, step by step, and collects what is wrong on the way."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace

from cards.calculation.warp import finished_width
from cards.loom.heddles import HeddlePlan, heddle_plan
from cards.project.checks import check_width
from cards.project.cloth_checks import check_cloth
from cards.project.cloth_mass import cloth_weight
from cards.project.counterbalance_checks import check_counterbalance
from cards.project.fit import check_fit
from cards.project.look_treadles import with_look_treadles
from cards.project.loom_plan import loom_plan
from cards.project.model import Outcome, Project, Warp
from cards.project.problems import Problems, Stopped
from cards.project.rates import winding_of
from cards.project.reckoning import Amounts, Reckoning, tried
from cards.project.sett_checks import check_sett
from cards.project.sett_look import sett_advice
from cards.spec import Reading, Spec


def work_out(reading: Reading) -> Outcome:
    """Return the project that a spec comes to, with all findings, in the order of the file."""
    spec = reading.spec
    if spec is None:
        return Outcome(reading.findings, is_kept=reading.is_kept)
    problems = Problems(reading.places, spec.units)
    # What was found in reading may make nonsense of the working-out, so it is done only without.
    if any(finding.level == "error" for finding in reading.findings):
        return Outcome(reading.findings)
    reckoning = Reckoning(spec, problems)
    project: Project | None = None
    with suppress(Stopped):
        project = _project(reckoning)
    findings = sorted(
        (*reading.findings, *problems.findings),
        key=lambda each: (each.place.line, each.place.column),
    )
    return Outcome(tuple(findings), project, reckoning.warp)


def _project(reckoning: Reckoning) -> Project:
    """Return the whole project; raises Stopped where something makes it impossible."""
    spec, problems = reckoning.spec, reckoning.problems
    taken = reckoning.amounts()
    check_width(spec, taken.warp, taken.sett, problems)
    loom = loom_plan(spec.loom, taken.draft, taken.ties)
    loom = with_look_treadles(loom, taken.cloth, taken.draft.threading)
    check_counterbalance(loom, taken.draft, problems)
    heddles = _heddles(reckoning, taken)
    check_cloth(spec, taken.draft, taken.warp, taken.weft, taken.cloth, taken.layered, problems)
    advice = sett_advice(
        spec.cloth.use, taken.yarns, taken.sett, taken.warp, taken.weft, taken.draft, taken.cloth
    )
    check_sett(spec, advice, taken.sett, taken.cloth, taken.reed, problems)
    return Project(
        info=spec.project,
        units=spec.units,
        conventions=spec.conventions,
        paper=spec.paper,
        yarns=taken.yarns,
        sett=taken.sett,
        warp=taken.warp,
        weft=replace(taken.weft, sections=taken.pressed),
        draft=taken.draft,
        loom=loom,
        heddle_plan=heddles,
        sleying=taken.sleying,
        reed=float(taken.sleying.reed) if taken.sleying else None,
        winding=winding_of(spec, taken.ends.order, spec.units),
        totals=taken.totals,
        steps=tuple(reckoning.work.steps),
        cloth=taken.cloth,
        chosen=taken.built.chosen if taken.built else (),
        in_reed=taken.reed,
        loom_width=spec.loom.width,
        sett_advice=advice,
        cloth_weight=cloth_weight(
            taken.warp, taken.weft, taken.cloth, reckoning.rates, reckoning.extra
        ),
    )


def _heddles(reckoning: Reckoning, taken: Amounts) -> HeddlePlan:
    """Return the heddles of the loom, with what does not fit on it among the findings."""
    spec, problems, warp = reckoning.spec, reckoning.problems, taken.warp
    heddles = heddle_plan(
        taken.draft.threading, spec.loom.shafts, warp.first_end, spec.loom.heddles
    )
    an_end = finished_width(1 / taken.sett.ends_total, reckoning.rates) * float(warp.widths)

    def again(changed: Spec) -> Warp | None:
        other = tried(changed, problems)
        return other.warp if other is not None else None

    check_fit(spec, warp, an_end, taken.draft, heddles, problems, again)
    return heddles
