"""Rounding as weavers do it: whole threads and packages, always up; warps up to a handy length.

Common practice, no source: ends, picks and packages up to whole ones; a warp up to the next
quarter yard or 10 cm.
"""

from __future__ import annotations

import math

from cards.units import YARD, Units

# Floating arithmetic may put an exact 264 at 264.00000000000006; a whole thread is far larger.
_SLACK = 1e-9

WARP_STEP_MM: dict[Units, float] = {"metric": 100.0, "imperial": float(YARD) / 4}


def whole_up(value: float) -> int:
    """Return the smallest whole number that is not below `value`.

    >>> whole_up(264.00000000000006), whole_up(264.1)
    (264, 265)
    """
    return math.ceil(value - _SLACK * max(1.0, abs(value)))


def whole_down(value: float) -> int:
    """Return the largest whole number that is not above `value`.

    >>> whole_down(263.99999999999994), whole_down(263.9)
    (264, 263)
    """
    return math.floor(value + _SLACK * max(1.0, abs(value)))


def warp_length_up(length_mm: float, units: Units) -> float:
    """Return `length_mm` raised to the next 10 cm (metric) or quarter yard (imperial).

    >>> warp_length_up(4723.0, "metric")
    4800.0
    """
    step = WARP_STEP_MM[units]
    return whole_up(length_mm / step) * step
