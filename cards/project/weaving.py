"""The weaving of one piece: its sections in order, each with its picks, sheds and weft."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from cards.calculation.rounding import whole_up
from cards.calculation.warp import Rates, finished_length, on_loom
from cards.calculation.workings import Inputs, Workings
from cards.project.model import Sett, WovenSection
from cards.project.problems import Problems
from cards.sequence import Repeat, Run, Sequence
from cards.spec import Section, Spec

if TYPE_CHECKING:
    from cards.project.layered import LayeredPlan

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
class Planned:
    """A section before it is woven: `picks` of it, None while it is to fill.

    `sheds` are those that the spec writes, None where they are to be built. `unit` is the picks of
    a repeat, `density` the picks per mm on the loom.
    """

    index: int | None
    section: Section
    sheds: Sequence[Shed] | None
    by_treadle: bool
    unit: int
    density: float
    picks: int | None

    def path(self, *keys: str) -> tuple[str | int, ...]:
        """Return the place in the spec of the section, or of the draft where there is none."""
        return ("weave", self.index, *keys) if self.index is not None else ("draft", *keys)

    @property
    def fills(self) -> bool:
        """Whether a group of its sheds stands `to fill`."""
        return self.sheds is not None and self.sheds.fill is not None


@dataclass(frozen=True, slots=True)
class Piece:
    """The sections of a piece, and how many picks each has."""

    planned: tuple[Planned, ...]
    picks: tuple[int, ...]


def plan_piece(
    spec: Spec,
    weave_to: float,
    sett: Sett,
    rates: Rates,
    layered: LayeredPlan | None,
    work: Workings,
    problems: Problems,
) -> Piece:
    """Return the sections of one piece that measures `weave_to` mm under tension."""
    sections = spec.weave or [Section(section="body", length="fill")]
    planned = [
        _planned(spec, index, section, sett, rates, layered, problems)
        for index, section in enumerate(sections)
    ]
    total = _picks_of_piece(spec, planned, weave_to, sett, work, problems)
    picks = _share_out(planned, total, rates, problems)
    if spec.given.picks is None:
        picks = [
            _whole_repeats(spec, plan, number, total) if plan.picks is None else number
            for plan, number in zip(planned, picks, strict=True)
        ]
    _check_total(sum(picks), total, problems)
    _record_sections(picks, work)
    return Piece(tuple(planned), tuple(picks))


def _record_sections(picks: list[int], work: Workings) -> None:
    """Write the picks of one piece as the sum of its sections."""
    inputs: Inputs = tuple(
        (f"section {place}", number, "picks") for place, number in enumerate(picks, start=1)
    )
    formula = " + ".join(name for name, _, _ in inputs)
    name = "picks of one piece, as its sections have them"
    work.worked(name, formula, inputs, sum(picks), "picks")


def weave_piece(
    spec: Spec, piece: Piece, rates: Rates, problems: Problems
) -> tuple[WovenSection, ...]:
    """Return the sections of one piece as they are woven, of a draft that is written out."""
    woven: list[WovenSection] = []
    for plan, number in zip(piece.planned, piece.picks, strict=True):
        if plan.sheds is None:
            raise AssertionError("only a draft that is written out has sheds to weave")
        key = "treadling" if plan.by_treadle else "lifts"
        sheds = _come_out(plan.sheds, number, plan, key, problems)
        weft = weft_of(spec, plan, number, problems)
        woven.append(woven_section(plan, woven, sheds, weft, rates))
    return tuple(woven)


def woven_section(
    plan: Planned,
    before: list[WovenSection],
    sheds: Sequence[Shed],
    weft: Sequence[str],
    rates: Rates,
) -> WovenSection:
    """Return a section with its sheds and weft complete, woven after those `before` it."""
    picks = sheds.length
    length = picks / plan.density
    return WovenSection(
        name=plan.section.section,
        note=plan.section.note or "",
        first_pick=sum(section.picks for section in before),
        picks=picks,
        start=sum(section.length for section in before),
        length=length,
        finished=finished_length(length, rates),
        by_treadle=plan.by_treadle,
        sheds=sheds,
        weft=weft,
        whole=plan.fills or plan.unit <= _UNNOTICED or picks % plan.unit == 0,
    )


def _picks_of_piece(
    spec: Spec,
    planned: list[Planned],
    weave_to: float,
    sett: Sett,
    work: Workings,
    problems: Problems,
) -> int:
    """Return the picks of one piece: given, or as its length on the loom asks for."""
    work.begin("picks")
    raw = _picks_to(planned, weave_to, sett)
    given = spec.given.picks
    if given is None:
        inputs: Inputs = (
            ("weave to", weave_to, "mm"),
            ("picks on the loom", raw / weave_to, "per mm"),
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


def _picks_to(planned: list[Planned], weave_to: float, sett: Sett) -> float:
    """Return the picks of `weave_to` mm, where sections may have picks of different density."""
    if len({plan.density for plan in planned}) == 1:
        return weave_to * planned[0].density
    fixed = sum(plan.picks or 0 for plan in planned)
    length = sum((plan.picks or 0) / plan.density for plan in planned)
    filling = next((plan.density for plan in planned if plan.picks is None), sett.picks_total)
    return max(1.0, fixed + (weave_to - length) * filling)


def _planned(
    spec: Spec,
    index: int,
    section: Section,
    sett: Sett,
    rates: Rates,
    layered: LayeredPlan | None,
    problems: Problems,
) -> Planned:
    place = index if spec.weave else None
    if layered is not None:
        share = layered.weft_share(layered.sections[index].joins)
        density = sett.picks_layer * float(share)
        repeat = layered.repeat(index)
        plan = Planned(
            place, section, None, by_treadle=False, unit=repeat, density=density, picks=None
        )
        return replace(plan, picks=_picks(plan, rates))
    own = section.treadling or section.lifts
    sheds = own or spec.draft.treadling or spec.draft.lifts
    if sheds is None:
        raise problems.stop(
            "no-treadling",
            f"section '{section.section}' has no treadling, and neither has the draft",
            "add `treadling:` (or `lifts:`) to the section or to the draft",
            "weave",
            index,
        )
    by_treadle = section.treadling is not None if own else spec.draft.treadling is not None
    unit = max(1, sheds.unit.length)
    plan = Planned(place, section, sheds, by_treadle, unit, sett.picks_total, None)
    return replace(plan, picks=_picks(plan, rates))


def _picks(plan: Planned, rates: Rates) -> int | None:
    section = plan.section
    if section.picks is not None:
        return section.picks
    if section.length is not None and section.length != "fill":
        return whole_up(on_loom(float(section.length), rates) * plan.density)
    if section.repeats is None and (section.length == "fill" or plan.sheds is None):
        return None
    once = plan.unit if plan.sheds is None else plan.sheds.length
    return once * (section.repeats or 1)


def _share_out(planned: list[Planned], total: int, rates: Rates, problems: Problems) -> list[int]:
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
            over = finished_length((fixed - total + 1) / plan.density, rates)
            raise problems.stop(
                "no-room-to-fill",
                f"the other sections take {fixed} picks of {total}: no room is left for "
                f"'{plan.section.section}' to fill",
                f"shorten them by {problems.figures.width(over)} or more, or make the piece longer",
                *plan.path("length"),
            )
        if plan.picks == 0:
            raise problems.stop(
                "section-without-picks",
                f"section '{plan.section.section}' has no picks",
                "give it a length, a number of picks, or a treadling that is not `to fill`",
                *plan.path(),
            )
    return [total - fixed if plan.picks is None else plan.picks for plan in planned]


def _whole_repeats(spec: Spec, plan: Planned, picks: int, total: int) -> int:
    """Return the picks of a section that fills, raised to whole repeats where that adds little.

    Treadling and weft come out together if they can, else the treadling alone.
    """
    order = plan.section.weft or spec.weft_order
    unit = plan.unit
    weft = order.unit.length if order is not None else 1
    if plan.fills or (order is not None and order.fill and weft > 1):
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


def _come_out(
    sheds: Sequence[Shed], picks: int, plan: Planned, key: str, problems: Problems
) -> Sequence[Shed]:
    try:
        return sheds.cycled(picks)
    except ValueError:
        group = sheds.fill
        once = group.once if group else 1
        rest = (picks - sheds.length) % once
        verb = "do" if key == "lifts" else "does"
        raise problems.stop(
            "treadling-does-not-divide",
            f"the {key} of '{plan.section.section}' {verb} not come out on its {picks} picks",
            f"{max(sheds.length + once, picks - rest)} or {picks - rest + once} picks would do; or "
            "leave `to fill` out, then it is cut where the section ends",
            *(plan.path(key) if _has_own(plan) else ("draft", key)),
        ) from None


def _has_own(plan: Planned) -> bool:
    return plan.section.treadling is not None or plan.section.lifts is not None


def weft_of(spec: Spec, plan: Planned, picks: int, problems: Problems) -> Sequence[str]:
    """Return the yarn of every pick of a section, as its order or that of the spec has it."""
    order = plan.section.weft or spec.weft_order
    path = plan.path("weft") if plan.section.weft else ("weft_order",)
    if order is None:
        if len(spec.yarns) > 1:
            raise problems.stop(
                "no-weft-order",
                f"there are several yarns, and section '{plan.section.section}' names no weft",
                "add `weft: slate` to the section, or `weft_order:` for all sections",
                *plan.path(),
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
