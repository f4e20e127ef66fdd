"""Works a spec out into a project, step by step, and collects what is wrong on the way."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace

from cards.calculation.cloth_weight import ClothWeight
from cards.calculation.warp import finished_width
from cards.calculation.workings import Unit, Workings
from cards.loom.heddles import HeddlePlan, heddle_plan
from cards.project.allowance_checks import check_ranges
from cards.project.amounts import Amounts
from cards.project.at_the_loom import LoomPlan
from cards.project.bill import bill_of
from cards.project.bill_steps import record_bill
from cards.project.checks import check_width
from cards.project.cloth_checks import check_cloth
from cards.project.cloth_mass import cloth_weight
from cards.project.cost_checks import check_costs
from cards.project.counterbalance_checks import check_counterbalance
from cards.project.fit import check_fit
from cards.project.layer_take_up import check_layer_take_up
from cards.project.limits import hours_of_all
from cards.project.look_treadles import with_look_treadles
from cards.project.loom_plan import loom_plan
from cards.project.model import MostOf, Outcome, Project, Warp, Weft
from cards.project.most import Largest, sized
from cards.project.photographs import photographs_of
from cards.project.pieces import Reckoned, first_kind, reckon, tried
from cards.project.problems import Problems, Stopped
from cards.project.rates import bobbin_of, winding_of
from cards.project.read_back import ReadBack
from cards.project.reckoning import Reckoning
from cards.project.sett_advice import SettAdvice
from cards.project.sett_checks import check_sett
from cards.project.sett_look import sett_advice
from cards.project.source import source_of
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
    reckoning: Reckoning | None = None
    project: Project | None = None
    with suppress(Stopped):
        spec, asked = sized(spec, problems)
        reckoning = first_kind(spec, problems)
        project = _project(spec, reckoning, asked, reading)
    findings = sorted(
        (*reading.findings, *problems.findings),
        key=lambda each: (each.place.line, each.place.column),
    )
    return Outcome(tuple(findings), project, reckoning.warp if reckoning else None)


def _project(spec: Spec, reckoning: Reckoning, asked: MostOf | None, reading: Reading) -> Project:
    """Return the whole project, looked over; raises Stopped where it is impossible."""
    _record_most(asked, reckoning.work)
    reckoned = reckon(spec, reckoning)
    project = _of_first_kind(spec, reckoning, reckoned, asked, reading)
    _check(reckoning, reckoned.taken, project.loom)
    check_ranges(reckoning.work.steps, reckoning.problems)
    check_costs(project.totals, project.bill, asked, reckoning.problems)
    project = replace(project, measured=_measured(spec, reckoning, reckoned))
    further = tuple(
        _further(project, piece.piece, *kind)
        for piece, kind in zip(spec.pieces[1:], reckoned.further, strict=True)
    )
    return replace(project, further=further)


def _of_first_kind(
    spec: Spec, reckoning: Reckoning, reckoned: Reckoned, asked: MostOf | None, reading: Reading
) -> Project:
    """Return the project of the first kind of piece, with the sums of all kinds."""
    taken = reckoned.taken
    hours = hours_of_all(spec, reckoned, reckoning.work)
    bill = bill_of(spec, taken.totals, hours)
    record_bill(bill, taken.totals, hours, reckoning.work)
    return Project(
        info=spec.project,
        source=source_of(reading),
        mirrored=reading.mirrored,
        needs=reading.needs,
        units=spec.units,
        conventions=spec.conventions,
        paper=spec.paper,
        yarns=taken.yarns,
        sett=taken.sett,
        warp=taken.warp,
        weft=_weft(taken),
        draft=taken.draft,
        loom=_loom(spec, taken),
        heddle_plan=_heddles(spec, reckoning, taken),
        sleying=taken.sleying,
        reed=float(taken.sleying.reed) if taken.sleying else None,
        winding=winding_of(spec, taken.ends.order, spec.units),
        totals=taken.totals,
        steps=tuple(reckoning.work.steps),
        cloth=taken.cloth,
        chosen=taken.built.chosen if taken.built else (),
        in_reed=taken.reed,
        loom_width=spec.loom.width,
        cloth_weight=_weight(reckoning, taken),
        sett_advice=_advice(reckoning, taken),
        hours=hours,
        bill=bill,
        bobbin=bobbin_of(spec),
        asked=asked,
        sizes=Largest(spec, reckoning.problems),
        piece=spec.pieces[0].piece if spec.pieces else "",
        every_kind=_every_kind(spec),
        candidate=reading.candidate or "",
        pattern=spec.pattern,
        photographs=photographs_of(reading),
        exercises=tuple(spec.exercises),
    )


def _record_most(asked: MostOf | None, work: Workings) -> None:
    """Write the size that was found to be the most, if one was, into the workings."""
    if asked is None or not asked.value:
        return
    pieces = asked.size == "pieces"
    name = "pieces" if pieces else f"{asked.size}, finished"
    unit: Unit = "pieces" if pieces else "mm"
    work.begin("width" if asked.size.startswith("width") else "lengths")
    formula = "the most that there can be, found by trying"
    work.worked(name, formula, (), asked.value, unit, note=asked.limit, counted=True)


def _loom(spec: Spec, taken: Amounts) -> LoomPlan:
    plan = loom_plan(spec.loom, taken.draft, taken.ties)
    return with_look_treadles(plan, taken.cloth, taken.draft.threading)


def _every_kind(spec: Spec) -> tuple[tuple[str, int], ...]:
    """Return names and numbers of all kinds of pieces, in weaving order."""
    if not spec.pieces:
        return (("", spec.cloth.pieces),)
    return tuple((each.piece, each.number) for each in spec.pieces)


def _further(first: Project, name: str, reckoning: Reckoning, taken: Amounts) -> Project:
    """Return the project of a further kind of piece on the warp of the `first` one."""
    _check(reckoning, taken, first.loom)
    own = [step for step in reckoning.work.steps if step not in first.steps]
    check_ranges(own, reckoning.problems)
    return replace(
        first,
        sett=taken.sett,
        warp=taken.warp,
        weft=_weft(taken),
        draft=taken.draft,
        steps=tuple(reckoning.work.steps),
        cloth=taken.cloth,
        cloth_weight=_weight(reckoning, taken),
        sett_advice=_advice(reckoning, taken),
        chosen=taken.built.chosen if taken.built else (),
        piece=name,
    )


def _measured(spec: Spec, reckoning: Reckoning, reckoned: Reckoned) -> ReadBack | None:
    """Return what was measured, read back; nothing to read is the rule."""
    if spec.measured is None:
        return None
    from cards.project.measured import read_back  # noqa: PLC0415 -- only few specs have any

    allowed = (reckoning.rates, reckoning.lengths, reckoning.extra)
    taken, wefts = reckoned.taken, tuple(each.weft for each in reckoned.amounts)
    return read_back(
        spec, taken.warp, wefts, taken.totals, taken.width, allowed, reckoning.problems
    )


def _weft(taken: Amounts) -> Weft:
    return replace(taken.weft, sections=taken.pressed)


def _weight(reckoning: Reckoning, taken: Amounts) -> ClothWeight:
    return cloth_weight(taken.warp, taken.weft, taken.cloth, reckoning.rates, reckoning.extra)


def _advice(reckoning: Reckoning, taken: Amounts) -> SettAdvice:
    """Return what the weave says of the sett, with what is far off among the findings."""
    spec = reckoning.spec
    advice = sett_advice(
        spec.cloth.use, taken.yarns, taken.sett, taken.warp, taken.weft, taken.draft, taken.cloth
    )
    check_sett(spec, advice, taken.sett, taken.cloth, taken.reed, reckoning.problems)
    return advice


def _check(reckoning: Reckoning, taken: Amounts, loom: LoomPlan) -> None:
    """Record what is wrong with one kind of piece."""
    spec, problems = reckoning.spec, reckoning.problems
    check_width(spec, taken.warp, taken.sett, problems)
    check_counterbalance(loom, taken.draft, problems)
    check_layer_take_up(spec, taken, reckoning.rates, problems)
    check_cloth(spec, taken.draft, taken.warp, taken.weft, taken.cloth, taken.layered, problems)


def _heddles(spec: Spec, reckoning: Reckoning, taken: Amounts) -> HeddlePlan:
    """Return the heddles of the loom, with what does not fit on it among the findings."""
    problems, warp = reckoning.problems, taken.warp
    heddles = heddle_plan(
        taken.draft.threading, spec.loom.shafts, warp.first_end, spec.loom.heddles
    )
    an_end = finished_width(1 / taken.sett.ends_total, reckoning.rates) * float(warp.widths)

    def again(changed: Spec) -> Warp | None:
        other = tried(changed, problems)
        return other.warp if other is not None else None

    check_fit(spec, warp, an_end, taken.draft, heddles, problems, again)
    return heddles
