"""What does not allow a cloth to be larger: yarn on hand, a warp that is there, loom and budget.

Each limit says how much of what is allowed a cloth takes, so that it can be told how far it is off.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from cards.calculation.hours import Hours
from cards.calculation.warp import Needed
from cards.calculation.workings import Unit, Workings
from cards.project.bill import bill_of
from cards.project.model import Totals, Warp
from cards.project.pieces import Reckoned
from cards.project.rates import hours_taken, yarn_allowances_of
from cards.spec import Spec, Yarn

_CLOSE = 1 + 1e-9  # what is over by a hair only comes of the arithmetic


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit and the `share` of it that is taken, over 1 where it is too much.

    `words` say that it is reached, as "the sand runs out". Where the share goes by jumps, as by
    whole packages, `steady` is a measure that a larger cloth raises without any.
    """

    kind: str
    words: str
    share: float
    steady: float | None = None

    @property
    def holds(self) -> bool:
        """Whether no more is taken than is allowed."""
        return self.share <= _CLOSE

    @property
    def measure(self) -> float:
        """What grows with the cloth if the limit is ever to be reached."""
        return self.share if self.steady is None else self.steady


def has_limits(spec: Spec) -> bool:
    """Whether anything but the loom, whose width and beam every project has, sets a limit."""
    given = spec.given
    things = (given.warp_length, given.ends, spec.costs.budget)
    return any(thing is not None for thing in things) or any(
        yarn.on_hand is not None for yarn in spec.yarns.values()
    )


def limits_of(spec: Spec, reckoned: Reckoned) -> tuple[Limit, ...]:
    """Return every limit that a spec sets, and what the cloth reckoned from it takes of each."""
    taken, needed = reckoned.taken, reckoned.first.needed
    limits = [
        Limit("on hand", f"{each.yarn.name} runs out", _share_on_hand(spec, each))
        for each in taken.totals
        if _is_limit(spec.yarns[each.yarn.key], spec)
    ]
    limits += _of_warp(spec, taken.warp, needed)
    hours = hours_of_all(spec, reckoned, Workings())
    bill = bill_of(spec, taken.totals, hours)
    if bill.over is not None and bill.budget is not None and bill.total is not None:
        spent = float(bill.total.amount / bill.budget.amount) if bill.budget.amount else 2.0
        steady = _worth(spec, taken.totals, hours)
        limits.append(Limit("budget", "the budget is spent", spent, steady))
    return tuple(limits)


def _worth(spec: Spec, totals: Sequence[Totals], hours: Hours) -> float:
    """Return what yarn and hours are worth: all the yarn, to the gram, and hours to the minute."""
    worth = 0.0
    for each in totals:
        put_up = each.yarn.put_up
        package = put_up.mass or (put_up.length or 0.0) * each.yarn.tex / 1e6
        if package and put_up.price is not None:
            worth += each.need.mass / package * float(put_up.price)
    own = spec.costs.hour
    return worth + (hours.total * float(own.amount) if own is not None else 0.0)


def hours_of_all(spec: Spec, reckoned: Reckoned, work: Workings) -> Hours:
    """Return the hours that pieces of all kinds take together."""
    work.begin("hours")
    picks = _picks_of_all(spec, reckoned, work)
    return hours_taken(spec, reckoned.taken.warp, picks, work)


def _picks_of_all(spec: Spec, reckoned: Reckoned, work: Workings) -> int:
    several = len(spec.pieces) > 1
    counted: list[tuple[str, float, Unit]] = [
        (f"picks {place}" if several else "picks", each.weft.picks, "picks")
        for place, each in enumerate(reckoned.amounts, start=1)
    ]
    sampled = sum(each.weft.sample_picks for each in reckoned.amounts)
    if sampled:
        counted.append(("picks of the sample", sampled, "picks"))
    total = sum(number for _, number, _ in counted)
    kinds = [
        f"picks {place} are those of {each.piece}" for place, each in enumerate(spec.pieces, 1)
    ]
    if len(counted) > 1:
        formula = " + ".join(name for name, _, _ in counted)
        note = ", ".join(kinds) if several else ""
        work.worked("picks to weave", formula, tuple(counted), total, "picks", note=note)
    return int(total)


def _is_limit(yarn: Yarn, spec: Spec) -> bool:
    """Whether there is no more of a yarn than what is on hand: with a budget more may be bought."""
    bought = spec.costs.budget is not None and yarn.price is not None and yarn.put_up is not None
    return yarn.on_hand is not None and not bought


def _share_on_hand(spec: Spec, total: Totals) -> float:
    margin = yarn_allowances_of(spec).buy_margin.value
    return total.need.mass * (1 + margin) / total.need.on_hand


def _of_warp(spec: Spec, warp: Warp, needed: Needed | None) -> list[Limit]:
    given, loom, limits = spec.given, spec.loom, []
    if given.warp_length is not None and needed is not None:
        share = needed.total / given.warp_length
        limits.append(Limit("warp", "the warp given is used up", share))
    elif loom.longest_warp is not None:
        share = warp.length / loom.longest_warp
        steady = needed.total if needed is not None else None
        limits.append(Limit("beam", "the beam holds no longer warp", share, steady))
    if loom.width is not None:
        share = warp.width_in_reed / loom.width
        limits.append(Limit("loom", "the loom weaves no wider", share))
    return limits


def ends_limit(ends: int, given: int) -> Limit:
    """Return the limit that the ends of a warp set which is there already."""
    return Limit("ends", f"the warp given has no more than {given} ends", ends / given)
