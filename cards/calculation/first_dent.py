"""Where in the reed a warp begins: counted in dents from the middle, so that it lies centred.

An even number of dents has a wire in its middle, an odd one a dent. Dents are counted beginning
with the one beside that middle, up to and with the one of the first end.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from cards.calculation.sley import Sleying

Middle = Literal["dent", "wire"]


@dataclass(frozen=True, slots=True)
class FirstDent:
    """The dent of the first end, from the middle of the reed.

    `count` dents are counted from the `middle`, the last of them being that of the first end; with
    a single dent that is the middle itself, and `count` is 0. `edge_mm` is the distance from the
    middle to the outer wire of that dent, half the width of the warp.
    """

    middle: Middle
    count: int
    edge_mm: float


@dataclass(frozen=True, slots=True)
class Check:
    """So many ends lie in the first `dents` dents; `share` of all dents are sleyed then."""

    share: Fraction
    dents: int
    ends: int


def first_dent(dents: int, reed: Fraction) -> FirstDent:
    """Return where the first of `dents` dents lies in a reed of `reed` dents per mm.

    >>> first_dent(6, Fraction(1, 2)).count, first_dent(7, Fraction(1, 2)).count
    (3, 3)
    """
    middle: Middle = "dent" if dents % 2 else "wire"
    return FirstDent(middle, dents // 2, float(dents / reed / 2))


def empty_dents(dents: int, reed: Fraction, width_mm: float) -> tuple[int, int] | None:
    """Return the dents left empty at the first end's side and at the other, None if it is too wide.

    `width_mm` is the length of the reed. One more stays empty at the other side where the warp
    cannot lie in the middle to the dent.
    """
    there = math.floor(reed * Fraction(width_mm) * (1 + Fraction(1, 10**9)))
    empty = there - dents
    return None if empty < 0 else (empty // 2, empty - empty // 2)


def checks_of(sleying: Sleying) -> tuple[Check, ...]:
    """Return the ends so far when a quarter, a half, three quarters and all of the dents are done.

    Where a share does not come out on a whole dent, the dent in which it ends is done too.
    """
    per_dent = sleying.per_dent()
    checks = []
    for quarters in (1, 2, 3, 4):
        dents = -(-len(per_dent) * quarters // 4)
        checks.append(Check(Fraction(quarters, 4), dents, sum(per_dent[:dents])))
    return tuple(checks)
