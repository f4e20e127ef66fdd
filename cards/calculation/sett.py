"""How close threads can lie: diameters, intersections, the closest sett, and what share suits what.

Ashenhurst's rule: D = K x the square root of yd/lb is how many threads lie side by side in an inch.
Where a weave has E ends and I intersections in its repeat, D x E / (E + I) is the closest that it
can be set, since a thread of the other system stands in every intersection. The rule and its
constants: medievaltextiles.org, ash page, 1999.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from cards.calculation.allowances import BLEND, MEMORY, USUAL_COMPONENTS
from cards.calculation.names import unknown
from cards.calculation.workings import Known
from cards.calculation.yarn_size import tex_of, yards_per_pound
from cards.units import INCH

_ASH = "medievaltextiles.org, ash page, 1999"
_INCH = float(INCH)
# What weavers may set, from loose roving to hard reeled silk (assumed).
LEAST_CONSTANT: Final = 0.5
MOST_CONSTANT: Final = 1.3
_FIRM: Final = 0.90

_CONSTANTS: Final[Mapping[str, tuple[float, str]]] = MappingProxyType(
    {
        "cotton": (_FIRM, _ASH),
        "worsted": (_FIRM, _ASH),
        "woollen": (0.84, _ASH),
        "woollen fulled": (0.84, _ASH),
        "linen": (0.92, MEMORY),
        "silk": (0.96, MEMORY),
        "alpaca": (0.84, "taken for a soft yarn"),
    }
)


def constant_for(fibres: Iterable[str]) -> Known:
    """Return Ashenhurst's constant of a yarn: of a blend the lowest of its components.

    No fibre at all is taken for a firm yarn. Raises ValueError for an unknown fibre.
    """
    named = tuple(dict.fromkeys(fibres))
    for fibre in named:
        if fibre != BLEND and fibre not in _CONSTANTS:
            raise unknown("fibre", fibre, (*_CONSTANTS, BLEND))
    if not named:
        return _assumed(_FIRM, "the fibre is not named, so a firm yarn is assumed")
    components = tuple(fibre for fibre in named if fibre != BLEND) or USUAL_COMPONENTS
    value, source = min(_CONSTANTS[fibre] for fibre in components)
    if len(components) > 1:
        source = f"{source}; lowest of {', '.join(components[:-1])} and {components[-1]}"
    return _assumed(value, source)


def _assumed(value: float, source: str) -> Known:
    return Known(value, "assumed", source, LEAST_CONSTANT, MOST_CONSTANT)


def diameters(constant: float, tex: float) -> float:
    """Return how many threads of `tex` lie side by side in a mm."""
    return constant * math.sqrt(yards_per_pound(tex)) / _INCH


def diameter(constant: float, tex: float) -> float:
    """Return the diameter in mm of a thread of `tex`."""
    return 1 / diameters(constant, tex)


def tex_by_wraps(constant: float, wraps_per_mm: float) -> float:
    """Return the tex of a yarn by its wraps, an estimate: yd/lb = (wraps to the inch / K) squared.

    >>> round(yards_per_pound(tex_by_wraps(0.9, 36 / 25.4)))
    1600
    """
    return tex_of("yd/lb", (wraps_per_mm * _INCH / constant) ** 2)


def closest(diameter_mm: float, across_mm: float, intersections: float) -> float:
    """Return the most threads to a mm of which each is crossed `intersections` times.

    A thread takes its own diameter and its share of those that pass between it and the next one:
    D x E / (E + I) where both systems are of one yarn (Ashenhurst).

    >>> cotton = diameter(0.9, tex_of("Ne", 8, 2))
    >>> round(closest(cotton, cotton, 2 / 2) * 25.4, 1)
    26.1
    """
    return 1 / (diameter_mm + intersections * across_mm)


def by_wraps(wraps_per_mm: float, intersections: float) -> float:
    """Return the threads to a mm that wraps advise: half of them in plain weave.

    Wraps / 2 for a balanced plain weave: interweave.com, choosing setts; in other weaves by the
    same share as the closest sett, so two thirds in a 2/2 twill: common practice, no source.
    """
    return wraps_per_mm / (1 + intersections)


@dataclass(frozen=True, slots=True)
class UseRange:
    """What share of the closest sett suits a use: from, to, and the usual one."""

    use: str
    low: float
    high: float
    usual: float


def _use(use: str, low: int, high: int, usual: int) -> UseRange:
    return UseRange(use, low / 100, high / 100, usual / 100)


# Per cent of the closest sett: common practice, no source. A working sett is about three quarters
# or slightly more, says the ash page.
USES: Final[Mapping[str, UseRange]] = MappingProxyType(
    {
        each.use: each
        for each in (
            _use("upholstery", 90, 100, 95),
            _use("bag", 90, 100, 95),
            _use("apparel", 75, 85, 80),
            _use("towel", 70, 80, 75),
            _use("table linen", 70, 80, 75),
            _use("blanket", 60, 70, 65),
            _use("scarf", 60, 70, 65),
            _use("drape", 60, 70, 65),
            _use("fulled", 55, 65, 60),
            _use("lace", 50, 60, 55),
        )
    }
)
# Whatever the cloth is for, its sett lies between these (assumed: the table's ends with some room).
LEAST_SHARE: Final = 0.45
MOST_SHARE: Final = 1.0
# A sett this much outside the range of its use, in shares of the closest, makes another cloth.
FAR_OFF: Final = 0.05


def is_far_off(share: float, use: UseRange | None) -> bool:
    """Whether a share of the closest sett is far from what a use wants, or from any cloth."""
    if use is None:
        return not LEAST_SHARE - _HAIR <= share <= MOST_SHARE + _HAIR
    return not use.low - FAR_OFF - _HAIR <= share <= use.high + FAR_OFF + _HAIR


_HAIR: Final = 1e-9
