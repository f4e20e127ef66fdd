"""How many hours a warp and its cloth take, at the pace of one weaver: an estimate, no promise.

Winding counts the ends that are wound, dressing those that are beamed, threaded, sleyed and tied
on, weaving the picks of all layers, those of the sample too. Hours are reckoned by whole quarters:
nobody is paid, and nobody plans a day, by the minute.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from cards.calculation.allowances import PRACTICE, Allowance
from cards.calculation.workings import Inputs, Known, Workings

# An hour of somebody who does it now and then; the high figure is that of daily work.
WINDING: Final = Allowance(120, 60, 240, PRACTICE)
DRESSING: Final = Allowance(50, 25, 100, PRACTICE)
WEAVING: Final = Allowance(400, 150, 1200, PRACTICE)

QUARTERS: Final = 4


def quarter(hours: float) -> float:
    """Return hours to the nearest quarter, at least one where there is anything to do.

    >>> quarter(3.3), quarter(0.02), quarter(0.0)
    (3.25, 0.25, 0.0)
    """
    if not hours:
        return 0.0
    return max(1, math.floor(hours * QUARTERS + 0.5)) / QUARTERS


@dataclass(frozen=True, slots=True)
class Pace:
    """How fast work goes: ends wound an hour, ends dressed an hour, picks woven an hour."""

    winding: Known
    dressing: Known
    weaving: Known


@dataclass(frozen=True, slots=True)
class Hours:
    """Hours for winding, dressing and weaving, as reckoned, and the pace that they go by."""

    winding: float
    dressing: float
    weaving: float
    pace: Pace

    @property
    def total(self) -> float:
        """Hours of all three, as reckoned."""
        return self.winding + self.dressing + self.weaving

    @property
    def counted(self) -> float:
        """Hours of all three in whole quarters each, as they are printed and paid."""
        return quarter(self.winding) + quarter(self.dressing) + quarter(self.weaving)


def hours_of(wound: int, dressed: int, picks: int, pace: Pace, work: Workings) -> Hours:
    """Return the hours for ends `wound`, ends `dressed` and `picks` woven at a pace.

    The picks are those of all layers and pieces, those of a sample too.
    """
    work.begin("hours")
    return Hours(
        _hours("winding", _wound(wound, dressed), pace.winding, work),
        _hours("dressing the loom", (("ends", dressed, "ends"),), pace.dressing, work),
        _hours("weaving", (("picks", picks, "picks"),), pace.weaving, work),
        pace,
    )


def _wound(wound: int, dressed: int) -> Inputs:
    """Return what is wound: beside the ends in the heddles the floating selvedges, if any."""
    if not dressed or wound == dressed:
        return (("ends", wound, "ends"),)
    return (("ends", dressed, "ends"), ("floating selvedges", wound - dressed, "ends"))


def _hours(name: str, counted: Inputs, pace: Known, work: Workings) -> float:
    """Return the hours for what is `counted` at a pace; the workings have quarters of them."""
    an_hour = work.known(f"{name}: pace", pace, "per hour")
    hours = sum(number for _, number, _ in counted) / an_hour
    names = " + ".join(what for what, _, _ in counted)
    work.worked(
        f"{name}: hours",
        f"{names if len(counted) == 1 else f'({names})'} ÷ pace, to the nearest quarter",
        (*counted, ("pace", an_hour, "per hour")),
        hours,
        "hours",
        rounded=quarter(hours),
    )
    return hours
