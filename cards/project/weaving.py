"""The weaving of one piece: its sections in order, each with its picks, sheds and weft."""

from __future__ import annotations

import math
from dataclasses import dataclass

from cards.calculation.rounding import whole_up
from cards.calculation.warp import Rates, finished_length, on_loom
from cards.calculation.workings import Inputs, Workings
from cards.project.model import Sett, WovenSection
from cards.project.problems import Problems
from cards.sequence import Repeat, Run, Sequence
from cards.spec import Section, Spec

Shed = frozenset[int]

# More picks than this in one piece are a slip of the pen, not a cloth.
MOST_PICKS = 100_000

# A repeat of two picks may end anywhere: nobody sees it in the cloth.
_UNNOTICED = 2

# A piece further off its length than this is not the piece that was asked for.
_LENGTH_TOLERANCE = 0.02

# A piece longer by this share is within what any weaver's beat varies (common practice).
_LITTLE = 0.01


@dataclass(frozen=True, slots=True)
class _Planned:
    """A section with its sheds as written and, unless it fills, its number of picks."""

    index: int | None
    section: Section
    sheds: Sequence[Shed]
    by_treadle: bool
    picks: int | None


def weave_piece(
    spec: Spec, weave_to: float, sett: Sett, rates: Rates, work: Workings, problems: Problems
) -> tuple[WovenSection, ...]:
    """Return the sections of one piece that measures `weave_to` mm under tension."""
    sections = spec.weave or [Section(section="body", length="fill")]
    planned = [
        _planned(spec, index if spec.weave else None, section, sett, rates, problems)
        for index, section in enumerate(sections)
    ]
    total = _picks_of_piece(spec, weave_to, sett, work, problems)
    picks = _share_out(planned, total, sett, rates, problems)
    if spec.given.picks is None:
        picks = [
            _whole_repeats(spec, plan, number, total) if plan.picks is None else number
            for plan, number in zip(planned, picks, strict=True)
        ]
    _check_total(sum(picks), total, problems)
    work.worked(
        "picks of one piece, as its sections have them",
        "sum of the sections",
        (("picks of one piece", total, "picks"),),
        sum(picks),
        "picks",
    )
    woven: list[WovenSection] = []
    first = 0
    for plan, number in zip(planned, picks, strict=True):
        woven.append(_woven(spec, plan, first, number, sett, rates, problems))
        first += number
    return tuple(woven)


def _picks_of_piece(
    spec: Spec, weave_to: float, sett: Sett, work: Workings, problems: Problems
) -> int:
    """Return the picks of one piece: given, or as its length on the loom asks for."""
    raw = weave_to * sett.picks_total
    given = spec.given.picks
    if given is None:
        inputs: Inputs = (
            ("weave to", weave_to, "mm"),
            ("picks on the loom", sett.picks_total, "per mm"),
        )
        formula = "weave to × picks on the loom"
        number = whole_up(raw)
        return int(work.worked("picks of one piece", formula, inputs, raw, "picks", rounded=number))
    off = given / raw - 1
    if abs(off) > _LENGTH_TOLERANCE:
        problems.warning(
            "length-off",
            f"the {given} picks given make the piece {abs(off):.1%} "
            f"{'longer' if off > 0 else 'shorter'} than asked for",
            "change the picks, their density or the length; or leave it so if you know it",
            "given",
            "picks",
        )
    return int(work.given("picks of one piece", given, "picks"))


def _path(plan: _Planned, *keys: str) -> tuple[str | int, ...]:
    return ("weave", plan.index, *keys) if plan.index is not None else ("draft", *keys)


def _planned(
    spec: Spec,
    index: int | None,
    section: Section,
    sett: Sett,
    rates: Rates,
    problems: Problems,
) -> _Planned:
    own = section.treadling or section.lifts
    sheds = own or spec.draft.treadling or spec.draft.lifts
    if sheds is None:
        raise problems.stop(
            "no-treadling",
            f"section '{section.section}' has no treadling, and neither has the draft",
            "add `treadling:` (or `lifts:`) to the section or to the draft",
            "weave",
            index or 0,
        )
    by_treadle = section.treadling is not None if own else spec.draft.treadling is not None
    plan = _Planned(index, section, sheds, by_treadle, None)
    return _Planned(index, section, sheds, by_treadle, _picks(plan, sett, rates))


def _picks(plan: _Planned, sett: Sett, rates: Rates) -> int | None:
    section = plan.section
    if section.picks is not None:
        return section.picks
    if section.length == "fill":
        return None
    if section.length is not None:
        return whole_up(on_loom(float(section.length), rates) * sett.picks_total)
    return plan.sheds.length * (section.repeats or 1)


def _share_out(
    planned: list[_Planned], total: int, sett: Sett, rates: Rates, problems: Problems
) -> list[int]:
    """Return the picks of every section; one that fills takes what the others leave."""
    fixed = sum(plan.picks or 0 for plan in planned)
    if max(fixed, total) > MOST_PICKS:
        raise problems.stop(
            "too-many-picks",
            f"one piece has {max(fixed, total)} picks; {MOST_PICKS} are the most",
            "is a length, a number of repeats or the density of the picks mistyped?",
            *(("weave",) if fixed > total else ("cloth", "length")),
        )
    for plan in planned:
        if plan.picks is None and total - fixed <= 0:
            over = finished_length((fixed - total + 1) / sett.picks_total, rates)
            raise problems.stop(
                "no-room-to-fill",
                f"the other sections take {fixed} picks of {total}: no room is left for "
                f"'{plan.section.section}' to fill",
                f"shorten them by {problems.figures.width(over)} or more, or make the piece longer",
                *_path(plan, "length"),
            )
        if plan.picks == 0:
            raise problems.stop(
                "section-without-picks",
                f"section '{plan.section.section}' has no picks",
                "give it a length, a number of picks, or a treadling that is not `to fill`",
                *_path(plan),
            )
    return [total - fixed if plan.picks is None else plan.picks for plan in planned]


def _whole_repeats(spec: Spec, plan: _Planned, picks: int, total: int) -> int:
    """Return the picks of a section that fills, raised to whole repeats where that adds little.

    Treadling and weft come out together if they can, else the treadling alone.
    """
    order = plan.section.weft or spec.weft_order
    unit = max(1, plan.sheds.unit.length)
    weft = order.unit.length if order is not None else 1
    if plan.sheds.fill is not None or (order is not None and order.fill and weft > 1):
        return picks
    for period in (math.lcm(unit, weft), unit):
        more = -picks % period
        if period > _UNNOTICED and more <= _LITTLE * total:
            return picks + more
    return picks


def _check_total(woven: int, total: int, problems: Problems) -> None:
    off = woven / total - 1
    if abs(off) > _LENGTH_TOLERANCE:
        longer = "longer" if off > 0 else "shorter"
        problems.warning(
            "length-off",
            f"the sections have {woven} picks, {abs(off):.1%} {longer} than the piece ({total})",
            "let one section say `length: fill`, or change the length of the cloth",
            "weave",
        )


def _woven(
    spec: Spec,
    plan: _Planned,
    first: int,
    picks: int,
    sett: Sett,
    rates: Rates,
    problems: Problems,
) -> WovenSection:
    key = "treadling" if plan.by_treadle else "lifts"
    sheds = _come_out(plan.sheds, picks, plan, key, problems)
    unit = max(1, plan.sheds.unit.length)
    length = picks / sett.picks_total
    return WovenSection(
        name=plan.section.section,
        note=plan.section.note or "",
        first_pick=first,
        picks=picks,
        start=first / sett.picks_total,
        length=length,
        finished=finished_length(length, rates),
        by_treadle=plan.by_treadle,
        sheds=sheds,
        weft=_weft(spec, plan, picks, problems),
        whole=plan.sheds.fill is not None or unit <= _UNNOTICED or picks % unit == 0,
    )


def _come_out(
    sheds: Sequence[Shed], picks: int, plan: _Planned, key: str, problems: Problems
) -> Sequence[Shed]:
    try:
        return sheds.cycled(picks)
    except ValueError:
        group = sheds.fill
        once = group.once if group else 1
        rest = (picks - sheds.length) % once
        raise problems.stop(
            "treadling-does-not-divide",
            f"the {key} of '{plan.section.section}' does not come out on its {picks} picks",
            f"{max(sheds.length + once, picks - rest)} or {picks - rest + once} picks would do; or "
            "leave `to fill` out, then it is cut where the section ends",
            *(_path(plan, key) if _has_own(plan) else ("draft", key)),
        ) from None


def _has_own(plan: _Planned) -> bool:
    return plan.section.treadling is not None or plan.section.lifts is not None


def _weft(spec: Spec, plan: _Planned, picks: int, problems: Problems) -> Sequence[str]:
    order = plan.section.weft or spec.weft_order
    path = _path(plan, "weft") if plan.section.weft else ("weft_order",)
    if order is None:
        if len(spec.yarns) > 1:
            raise problems.stop(
                "no-weft-order",
                f"there are several yarns, and section '{plan.section.section}' names no weft",
                "add `weft: slate` to the section, or `weft_order:` for all sections",
                *_path(plan),
            )
        order = Sequence((Repeat((Run(next(iter(spec.yarns))),), None),))
    if order.fill is not None and not order.fits(picks):
        raise problems.stop(
            "weft-does-not-divide",
            f"the weft of '{plan.section.section}' does not come out on its {picks} picks",
            "change its repeats, or leave `to fill` out, then it is cut where the section ends",
            *path,
        )
    if order.fill is None and order.length > picks:
        problems.warning(
            "weft-cut-off",
            f"the weft of '{plan.section.section}' has {order.length} picks, the section {picks}",
            "the order is cut off there; make the section longer or the order shorter",
            *path,
        )
    return order.cycled(picks)
