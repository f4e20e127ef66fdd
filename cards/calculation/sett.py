"""How close threads can lie: diameters, intersections, the closest sett, and what share suits what.

Ashenhurst's rule: D = K x the square root of yd/lb is how many threads lie side by side in an inch.
Where a weave has E ends and I intersections in its repeat, D x E / (E + I) is the closest that it
can be set, since a thread of the other system stands in every intersection. The rule and its
constants: medievaltextiles.org, ash page, 1999.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
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
