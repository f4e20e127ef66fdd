"""A layered piece as it is woven: its ends, and its sections with sheds, treadles and wefts."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import replace
from typing import TypeVar

from cards.calculation.rounding import whole_up
from cards.calculation.warp import Rates
from cards.calculation.workings import Inputs, Workings
from cards.draft.layer_threading import repeat_of, round_of
from cards.draft.layered_piece import LayeredPiece
from cards.draft.shortest import shortest
from cards.project.ends import Ends, check_ends, whole_order, width_wanted
from cards.project.layered import LayeredPlan, build_layers
from cards.project.model import Sett, WovenSection
from cards.project.problems import Problems
from cards.project.weaving import Piece, weft_of, woven_section
from cards.sequence import Run, Sequence
from cards.spec import Spec

Shed = frozenset[int]
T = TypeVar("T", bound=Hashable)


def settle_layers(
    spec: Spec,
    plan: LayeredPlan,
    piece: Piece,
    sett: Sett,
    rates: Rates,
    work: Workings,
    problems: Problems,
    on: int | None = None,
) -> tuple[Ends, LayeredPiece]:
    """Return the ends of all layers, and the draft that was built with them.

    They are `on` so many where other pieces have settled that.
    """
    wanted = on or _ends_wanted(spec, plan, sett, rates, work, problems)
    orders = [
        weft_of(spec, each, number, problems)
        if each.section.weft is not None
        or (each.section.wefts is None and spec.weft_order is not None)
        else None
        for each, number in zip(piece.planned, piece.picks, strict=True)
    ]
    built = build_layers(spec, plan, wanted, piece.picks, orders, problems)
    number = len(built.threading)
    if number != wanted:
        inputs: Inputs = (("ends", wanted, "ends"),)
        formula = "as many of these ends as let the weave run on over the folds"
        work.worked(
            "ends of all layers", formula, inputs, number, "ends", note=built.of_ends, counted=True
        )
    repeat = repeat_of(plan.weaves, plan.ratio)
    threading = _cycled(built.threading, repeat)
    if spec.warp_order is not None:
        order = _written_order(spec, number, problems)
    else:
        yarns = tuple(plan.warps[layer] for layer in built.end_layers)
        same = len(set(yarns)) == 1
        order = _cycled(yarns, 1 if same else len(round_of(plan.ratio)))
    return Ends(number, threading, order, (0, 0)), built


def _written_order(spec: Spec, number: int, problems: Problems) -> Sequence[str]:
    """Return the warp order that is written, filled to the ends of all layers."""
    order = whole_order(spec, problems)
    if not order.fits(number):
        once = order.fill.once if order.fill else 0
        left = (number - order.length) % once if once else number - order.length
        verb = "is" if abs(left) == 1 else "are"
        some = f"{abs(left)} {verb} {'left over' if left > 0 else 'too many'}"
        raise problems.stop(
            "order-does-not-divide",
            f"the layers take {number} ends, and the warp order does not come out on them: {some}",
            "write the ends left over behind the group `to fill`, or leave the order out and name "
            "the yarns of the layers with `warps`",
            "warp_order",
        )
    return order.filled(number)


def _ends_wanted(
    spec: Spec,
    plan: LayeredPlan,
    sett: Sett,
    rates: Rates,
    work: Workings,
    problems: Problems,
) -> int:
    work.begin("ends")
    if spec.given.ends is not None:
        return int(work.given("ends", spec.given.ends, "ends"))
    width = width_wanted(spec, sett, rates, plan.widths, work, problems)
    work.begin("ends")
    raw = width * sett.ends_total
    repeat = repeat_of(plan.weaves, plan.ratio)
    number = repeat * whole_up(raw / repeat)
    inputs: Inputs = (
        ("width in the reed", width, "mm"),
        ("sett of all layers", sett.ends_total, "per mm"),
    )
    note = "raised until the threading comes out whole"
    formula = "width in the reed × sett of all layers"
    work.worked("ends", formula, inputs, raw, "ends", rounded=number, note=note)
    check_ends(number, problems)
    return number


def weave_layers(
    plan: LayeredPlan, piece: Piece, built: LayeredPiece, rates: Rates
) -> tuple[WovenSection, ...]:
    """Return the sections as they are woven, by their lifts."""
    woven: list[WovenSection] = []
    for place, (each, picks) in enumerate(zip(piece.planned, built.picks, strict=True)):
        first = sum(section.picks for section in woven)
        lifts = _cycled(built.lifts[first : first + picks], plan.repeat(place))
        weft = _weft(plan, place, built, first, picks)
        woven.append(woven_section(each, woven, lifts, weft, rates))
    # Only at its very end can a layered piece be cut off: sheds and shuttles carry on before.
    return (*(replace(each, whole=True) for each in woven[:-1]), woven[-1])


def _weft(
    plan: LayeredPlan, place: int, built: LayeredPiece, first: int, picks: int
) -> Sequence[str]:
    course = built.course
    here = slice(first, first + picks)
    yarns = tuple(course.yarns[shuttle] for shuttle in course.shuttles[here].tolist())
    same = len(set(yarns)) == 1
    return _cycled(yarns, 1 if same else plan.repeat(place))


def _cycled(values: tuple[T, ...], repeat: int) -> Sequence[T]:
    """Return values that come again after `repeat` of them, else with their repeats found."""
    unit: Sequence[T] = Sequence(tuple(Run(value) for value in values[:repeat]))
    found = unit.cycled(len(values))
    return found if found.values() == list(values) else shortest(list(values))
