"""How well threads cover the ground: cover factors, threads to a cm times the root of tex, over 10.

This is the form in SI units, in which a system whose threads of cotton touch has about 28.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from cards.units import CENTIMETRE

_FULL = 28.0


def cover_factor(per_mm: float, yarns: Iterable[tuple[float, int]]) -> float:
    """Return the cover factor of threads that lie `per_mm`; `yarns` has tex and number of each.

    Source of the form: "Woven fabric calculation", scribd.com document 455076497.

    >>> round(cover_factor(2.8, [(20.0, 1)]), 1)
    12.5
    """
    known = list(yarns)
    threads = sum(number for _, number in known)
    root = math.fsum(math.sqrt(tex) * number for tex, number in known) / threads
    return per_mm * float(CENTIMETRE) * root / 10


def cloth_cover(warp: float, weft: float) -> float:
    """Return the cover factor of the cloth, K1 + K2 - K1 x K2 / 28 (from memory).

    Where warp and weft cross, they cover the same ground, which counts once.
    """
    return warp + weft - warp * weft / _FULL
