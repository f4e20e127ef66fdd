"""The allowances of a project: the weaver's own where given, else assumed from a named source."""

from __future__ import annotations

from dataclasses import dataclass

from cards.calculation import allowances as table
from cards.calculation import hours
from cards.calculation.allowances import Allowance
from cards.calculation.bobbins import BOBBIN, Bobbin
from cards.calculation.hours import Hours, Pace, hours_of
from cards.calculation.warp import Fringe, LoomLengths, Rates
from cards.calculation.workings import Known, Workings
from cards.loom.shed import DEFAULT_ACTION
from cards.project.at_the_loom import Winding
from cards.project.model import Warp
from cards.sequence import Repeat, Run, Sequence
from cards.spec import Spec
from cards.units import INCH, YARD, Units


@dataclass(frozen=True, slots=True)
class YarnAllowances:
    """What yarn needs beyond the bare cloth: fractions, and spare ends of every yarn."""

    weft_take_up: Known
    joins: Known
    buy_margin: Known
    spare_ends: Known


def _known(given: float | None, assumed: Allowance) -> Known:
    """Return the weaver's own figure, or the assumed one; the range stands beside either."""
    if given is not None:
        return Known(given, "given", assumed.source, assumed.low, assumed.high)
    return Known(assumed.value, "assumed", assumed.source, assumed.low, assumed.high)


def rates_of(spec: Spec) -> Rates:
    """Return take-up, relaxation, draw-in and shrinkage; of several fibres the highest."""
    fibres = [
        name
        for yarn in spec.yarns.values()
        for name in (yarn.fibre.names if yarn.fibre else (table.BLEND,))
    ]
    assumed = table.allowances_for(fibres)
    own = spec.allowances
    return Rates(
        take_up=_known(own.take_up, assumed.take_up),
        relaxation=_known(own.relaxation, assumed.relaxation),
        draw_in=_known(own.draw_in, assumed.draw_in),
        shrinkage_length=_known(
            own.shrinkage.length if own.shrinkage else None, assumed.shrinkage_length
        ),
        shrinkage_width=_known(
            own.shrinkage.width if own.shrinkage else None, assumed.shrinkage_width
        ),
    )


def yarn_allowances_of(spec: Spec) -> YarnAllowances:
    """Return weft take-up, joins, buying margin and spare ends."""
    own = spec.allowances
    return YarnAllowances(
        weft_take_up=_known(own.weft_take_up, table.WEFT_TAKE_UP),
        joins=_known(own.joins, table.JOINS),
        buy_margin=_known(own.buy_margin, table.BUY_MARGIN),
        spare_ends=_known(own.spare_ends, table.SPARE_ENDS),
    )


def fringe_of(spec: Spec, units: Units) -> Fringe | None:
    """Return the fringe of each end of a piece, or None for a piece without."""
    fringe = spec.cloth.fringe
    if fringe is None:
        return None
    return Fringe(
        finished=fringe.length,
        twist=_known(fringe.twist, table.FRINGE_TWIST),
        knot=_known(fringe.knot, table.LENGTHS["knot"].chosen(units)),
        from_waste=fringe.from_waste,
    )


def loom_lengths_of(spec: Spec, units: Units) -> LoomLengths:
    """Return header, sample, waste, margin and gap between pieces."""
    own = spec.allowances
    gap = _known(spec.cloth.gap, table.LENGTHS["gap"].chosen(units))
    alone = spec.cloth.pieces == 1 and len(spec.pieces) < 2
    if spec.cloth.gap is None and (spec.cloth.fringe is None or alone):
        gap = Known(0.0, "assumed", "no gap is left between pieces without fringe")
    return LoomLengths(
        header=_known(own.header, table.LENGTHS["header"].chosen(units)),
        sample=_known(own.sample, table.LENGTHS["sample"].chosen(units)),
        waste=_known(
            spec.loom.waste,
            table.waste_for(spec.loom.action or DEFAULT_ACTION, spec.loom.shafts, units),
        ),
        margin=_known(own.warp_margin, table.WARP_MARGIN),
        margin_least=table.LENGTHS["least margin"].chosen(units).value,
        gap=gap,
    )


def pace_of(spec: Spec) -> Pace:
    """Return how fast the work goes on the loom of a spec."""
    own = spec.loom.pace
    return Pace(
        winding=_known(own.winding if own else None, hours.WINDING),
        dressing=_known(own.dressing if own else None, hours.DRESSING),
        weaving=_known(own.weaving if own else None, hours.WEAVING),
    )


def hours_taken(spec: Spec, warp: Warp, picks: int, work: Workings) -> Hours:
    """Return the hours of a project with so many picks in all, those of the sample too.

    What is done already of the warp takes none.
    """
    return hours_of(
        0 if warp.state else warp.wound,
        0 if warp.state == "on the loom" else warp.ends,
        picks,
        pace_of(spec),
        work,
    )


def bobbin_of(spec: Spec) -> Bobbin:
    """Return what a bobbin holds."""
    own = spec.loom.bobbin
    return Bobbin(own.mass, own.length, "given") if own is not None else BOBBIN


# Common practice, no source: bouts that a hand can hold, a choke at every metre or yard.
_LARGEST_BOUT = 120
_RADDLE = {"metric": 20.0, "imperial": float(INCH)}
_CHOKE = {"metric": 1000.0, "imperial": float(YARD)}
_PRACTICE = "common practice, no source"


def winding_of(spec: Spec, order: Sequence[str], units: Units) -> Winding:
    """Return how a warp of this complete colour order is wound."""
    own = spec.warping

    def known(given: float | None, assumed: float) -> Known:
        return Known(assumed, "assumed", _PRACTICE) if given is None else Known(given, "given")

    return Winding(
        strands=known(own.strands, strands_together(order)),
        bout=known(own.bout, _LARGEST_BOUT),
        raddle=known(own.raddle, _RADDLE[units]),
        choke=known(own.choke, _CHOKE[units]),
    )


def strands_together(order: Sequence[str]) -> int:
    """Return how many yarns alternate end by end through the whole warp, so are wound together.

    >>> strands_together(Sequence((Repeat((Run("slate"), Run("sand")), 120),)))
    2
    """
    if len(order.items) != 1 or not isinstance(order.items[0], Repeat):
        return 1
    group = order.items[0].items
    single = all(isinstance(each, Run) and each.count == 1 for each in group)
    return len(group) if single and len(group) <= _MOST_STRANDS else 1


# More than this many strands are hard to keep in order by hand (common practice).
_MOST_STRANDS = 4
