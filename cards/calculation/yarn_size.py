"""Yarn sizes: every way of sizing a yarn turned into tex (g per km) and back.

Indirect systems count lengths to a mass, so a bigger number is a finer yarn and folding makes
it coarser: tex = tex of number 1 / count x ply. Direct systems weigh a length, so a bigger number
is a heavier yarn: tex = tex of number 1 x count x ply. Count and ply are separate figures: 8/2
cotton and 2/18 worsted write them the other way round, and guessing is the caller's mistake.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType

from cards.calculation.names import unknown
from cards.units import DRAM, GRAIN, KILOGRAM, KILOMETRE, METRE, OUNCE, POUND, YARD

MM_PER_KM = 1_000_000.0


@dataclass(frozen=True, slots=True)
class System:
    """A way of sizing yarn; `tex_of_one` is the exact tex of a single yarn of number 1.

    `whole` marks a length as a label gives it, of the yarn as it stands: it takes no ply.
    """

    title: str
    tex_of_one: Fraction
    indirect: bool
    whole: bool = False


def _counted(title: str, length: Fraction, mass: Fraction, *, whole: bool = False) -> System:
    """Return the indirect system whose number 1 has `length` mm in `mass` g."""
    return System(title, mass / length * KILOMETRE, indirect=True, whole=whole)


def _weighed(title: str, mass: Fraction, length: Fraction) -> System:
    """Return the direct system whose number 1 weighs `mass` g in `length` mm."""
    return System(title, mass / length * KILOMETRE, indirect=False)


# Hanks of 840, 300, 560 and 1600 yd/lb, and grains per 120 yd: ASTM D2260-03(2013), Table 1.
# Denier, dram, jute, grains per 20 yd: ISO 1144 factors. French number: 1000 m to 500 g (Brooks,
# Cotton Manufacturing, 1892). Yorkshire skein and cut: old textbooks. Galashiels: from memory.
SYSTEMS: Mapping[str, System] = MappingProxyType(
    {
        "Ne": _counted("cotton count", 840 * YARD, POUND),
        "lea": _counted("linen lea", 300 * YARD, POUND),
        "worsted": _counted("worsted count", 560 * YARD, POUND),
        "run": _counted("woollen run", 1600 * YARD, POUND),
        "cut": _counted("woollen cut", 300 * YARD, POUND),
        "skein": _counted("Yorkshire skein", 256 * YARD, POUND),
        "Galashiels": _counted("Galashiels cut", 200 * YARD, POUND),
        "Nm": _counted("metric count", 1000 * METRE, KILOGRAM),
        "Nf": _counted("French cotton number", 1000 * METRE, KILOGRAM / 2),
        "yd/lb": _counted("yards per pound", YARD, POUND, whole=True),
        "yd/oz": _counted("yards per ounce", YARD, OUNCE, whole=True),
        "m/kg": _counted("metres per kilogram", METRE, KILOGRAM, whole=True),
        "m/100 g": _counted("metres per 100 g", METRE, KILOGRAM / 10, whole=True),
        "m/50 g": _counted("metres per 50 g", METRE, KILOGRAM / 20, whole=True),
        "tex": _weighed("tex", Fraction(1), KILOMETRE),
        "dtex": _weighed("decitex", Fraction(1, 10), KILOMETRE),
        "denier": _weighed("denier", Fraction(1), 9 * KILOMETRE),
        "dram": _weighed("silk dram", DRAM, 1000 * YARD),
        "jute": _weighed("pounds per spyndle", POUND, 14400 * YARD),
        "grain/20 yd": _weighed("woollen grain", GRAIN, 20 * YARD),
        "grain/120 yd": _weighed("American grain count", GRAIN, 120 * YARD),
    }
)


def tex_of(system: str, count: float, ply: int = 1) -> float:
    """Resultant tex of `ply` singles of number `count`, twist not reckoned.

    Raises ValueError for an unknown system, a count that is not above nought, or a ply that
    makes no sense.

    >>> round(tex_of("Ne", 8, ply=2), 1)
    147.6
    >>> tex_of("tex", 49, ply=2)
    98.0
    """
    row = _system(system, ply)
    _positive("count", count)
    one = float(row.tex_of_one) * ply
    return one / count if row.indirect else one * count


def count_of(system: str, tex: float, ply: int = 1) -> float:
    """Return the number of each of `ply` equal singles that make up a yarn of `tex`.

    Raises ValueError as `tex_of` does.
    """
    row = _system(system, ply)
    _positive("tex", tex)
    one = float(row.tex_of_one) * ply
    return one / tex if row.indirect else tex / one


def tex_of_label(length_mm: float, mass_g: float) -> float:
    """Return the tex of a yarn of which `length_mm` weigh `mass_g`, as a label states.

    Raises ValueError when either is not above nought.
    """
    _positive("length", length_mm)
    _positive("mass", mass_g)
    return mass_g / length_mm * MM_PER_KM


def resultant(counts_tex: Iterable[float]) -> float:
    """Return the tex of unlike singles folded together: their sum, twist not reckoned.

    Raises ValueError when there are none, or one is not above nought.
    """
    singles = list(counts_tex)
    if not singles:
        raise ValueError("a folded yarn needs at least one single")
    for single in singles:
        _positive("tex", single)
    return math.fsum(singles)


def length_for_mass(tex: float, mass_g: float) -> float:
    """Return the length in mm of `mass_g` of a yarn of `tex`. Raises ValueError if negative."""
    _positive("tex", tex)
    _not_negative("mass", mass_g)
    return mass_g / tex * MM_PER_KM


def mass_for_length(tex: float, length_mm: float) -> float:
    """Return the mass in g of `length_mm` of a yarn of `tex`. Raises ValueError if negative."""
    _positive("tex", tex)
    _not_negative("length", length_mm)
    return tex * length_mm / MM_PER_KM


def metres_per_100g(tex: float) -> float:
    """Metres in 100 g of a yarn of `tex`."""
    return count_of("m/100 g", tex)


def yards_per_pound(tex: float) -> float:
    """Yards in a pound of a yarn of `tex`."""
    return count_of("yd/lb", tex)


def _system(slug: str, ply: int) -> System:
    if slug not in SYSTEMS:
        raise unknown("yarn size system", slug, SYSTEMS)
    if ply < 1 or ply != int(ply):
        raise ValueError(f"ply must be a whole number of 1 or more, not {ply}")
    if SYSTEMS[slug].whole and ply != 1:
        raise ValueError(f"{slug} is the length of the whole yarn, so it takes no ply (not {ply})")
    return SYSTEMS[slug]


def _positive(name: str, value: float) -> None:
    if not (value > 0 and math.isfinite(value)):
        raise ValueError(f"{name} must be above 0, not {value}")


def _not_negative(name: str, value: float) -> None:
    if not (value >= 0 and math.isfinite(value)):
        raise ValueError(f"{name} must be 0 or more, not {value}")
