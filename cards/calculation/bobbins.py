"""How many bobbins, or fillings of a stick shuttle, a weft takes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from cards.calculation.rounding import whole_up
from cards.calculation.workings import Origin


@dataclass(frozen=True, slots=True)
class Bobbin:
    """What one bobbin holds, as a mass in g or a length in mm, given or assumed."""

    mass: float | None
    length: float | None = None
    origin: Origin = "assumed"


# Common practice, no source: 10 to 40 g of yarn on a bobbin.
BOBBIN: Final = Bobbin(20.0)


def bobbins(length_mm: float, tex: float, bobbin: Bobbin) -> int:
    """Return how many bobbins `length_mm` of weft fill, the last one in part; `tex` is g per km.

    >>> bobbins(400_000.0, 148.0, Bobbin(20.0)), bobbins(400_000.0, 148.0, Bobbin(None, 1e5))
    (3, 4)
    """
    if bobbin.length is not None:
        return whole_up(length_mm / bobbin.length)
    return whole_up(length_mm * tex / 1e6 / (bobbin.mass or 1.0))
