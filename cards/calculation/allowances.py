"""What weavers allow when nothing better is known: defaults, their range, and where they are from.

Fractions are always of the larger, earlier length: divide by (1 - x). Lengths have a metric and an
imperial default that are both round figures, not conversions of each other. A woven and washed
sample beats every one of them, so each carries its source to be printed beside it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields
from types import MappingProxyType
from typing import Final

from cards.calculation.names import unknown
from cards.units import CENTIMETRE, INCH, Units

PRACTICE: Final = "common practice, no source"
MEMORY: Final = "from memory"


@dataclass(frozen=True, slots=True)
class Allowance:
    """A default with the range seen in practice: a fraction, a length in mm, or a number."""

    value: float
    low: float
    high: float
    source: str


@dataclass(frozen=True, slots=True)
class FibreAllowances:
    """How a fibre behaves; each figure a fraction of the larger, earlier length.

    take_up: warp used -> relaxed cloth. relaxation: measured under tension -> relaxed, a part of
    the take-up. draw_in: width in reed -> relaxed width. shrinkage: relaxed -> wet finished.
    """

    take_up: Allowance
    relaxation: Allowance
    draw_in: Allowance
    shrinkage_length: Allowance
    shrinkage_width: Allowance


def _percent(low: float, high: float, value: float, source: str) -> Allowance:
    return Allowance(value / 100, low / 100, high / 100, source)


def _fibre(*figures: tuple[float, float, float]) -> FibreAllowances:
    return FibreAllowances(*(_percent(*figure, source=MEMORY) for figure in figures))


# Low, high, default in per cent: take-up, relaxation, draw-in, shrinkage of length, of width.
FIBRES: Final[Mapping[str, FibreAllowances]] = MappingProxyType(
    {
        "cotton": _fibre((6, 12, 10), (2, 5, 3), (5, 10, 7), (5, 12, 8), (4, 10, 7)),
        "linen": _fibre((5, 10, 8), (1, 3, 2), (4, 8, 6), (3, 8, 5), (3, 8, 5)),
        "worsted": _fibre((6, 10, 8), (4, 8, 6), (6, 10, 8), (5, 10, 8), (5, 10, 8)),
        "woollen": _fibre((8, 12, 10), (5, 12, 8), (8, 12, 10), (10, 20, 15), (10, 20, 15)),
        "woollen fulled": _fibre((8, 12, 10), (5, 12, 8), (8, 12, 10), (20, 35, 25), (20, 35, 25)),
        "silk": _fibre((5, 8, 7), (2, 4, 3), (4, 8, 6), (2, 6, 4), (2, 6, 4)),
        "alpaca": _fibre((6, 10, 8), (4, 8, 5), (5, 10, 7), (4, 10, 6), (4, 10, 6)),
    }
)
BLEND: Final = "blend"
# A blend whose components nobody named.
USUAL_COMPONENTS: Final = ("cotton", "linen", "worsted")


def allowances_for(fibres: Iterable[str]) -> FibreAllowances:
    """Return the allowances for a cloth of these `fibres`: of several, the highest of each figure.

    "blend" alone stands for the highest of cotton, linen and worsted, and the source says so.
    Raises ValueError for an unknown fibre, or none.
    """
    components = _components(fibres)
    if len(components) == 1:
        return FIBRES[components[0]]
    return FibreAllowances(
        *(
            _highest(components, [getattr(FIBRES[each], field.name) for each in components])
            for field in fields(FibreAllowances)
        )
    )


def _components(fibres: Iterable[str]) -> tuple[str, ...]:
    named = dict.fromkeys(fibres)
    for fibre in named:
        if fibre != BLEND and fibre not in FIBRES:
            raise unknown("fibre", fibre, (*FIBRES, BLEND))
    known = tuple(fibre for fibre in named if fibre != BLEND)
    if not named:
        raise ValueError("name at least one fibre")
    return known or USUAL_COMPONENTS


def _highest(components: tuple[str, ...], figures: list[Allowance]) -> Allowance:
    """Return the highest figure, with the range of its own component."""
    top = max(figures, key=lambda figure: (figure.value, figure.high))
    *others, last = components
    source = f"{top.source}; highest of {', '.join(others)} and {last}"
    return Allowance(top.value, top.low, top.high, source)


WEFT_TAKE_UP: Final = _percent(5, 15, 10, PRACTICE)
JOINS: Final = _percent(2, 10, 5, MEMORY)  # joins and bobbin ends, of the weft
FRINGE_TWIST: Final = _percent(10, 20, 15, MEMORY)  # of the fringe before it is twisted
WARP_MARGIN: Final = _percent(3, 10, 5, MEMORY)  # of the warp length, never below its minimum
BUY_MARGIN: Final = _percent(5, 15, 10, PRACTICE)
SPARE_ENDS: Final = Allowance(2, 0, 4, PRACTICE)


@dataclass(frozen=True, slots=True)
class LengthAllowance:
    """A length in mm as the metric and the imperial weaver would each round it."""

    metric: Allowance
    imperial: Allowance

    def chosen(self, units: Units) -> Allowance:
        """Return the default of those `units`."""
        return self.metric if units == "metric" else self.imperial


def _length(
    inches: tuple[float, float, float], centimetres: tuple[float, float, float], source: str
) -> LengthAllowance:
    def sized(figures: tuple[float, float, float], unit: float) -> Allowance:
        low, high, value = (round(figure * unit, 9) for figure in figures)
        return Allowance(value, low, high, source)

    return LengthAllowance(sized(centimetres, float(CENTIMETRE)), sized(inches, float(INCH)))


# Low, high, default: inches, then centimetres.
LENGTHS: Final[Mapping[str, LengthAllowance]] = MappingProxyType(
    {
        "header": _length((1, 3, 2), (2.5, 7.5, 5), PRACTICE),
        "sample": _length((6, 18, 12), (15, 45, 30), PRACTICE),
        "fringe": _length((3, 8, 5), (8, 20, 12), PRACTICE),  # each, finished
        "knot": _length((2, 2, 2), (5, 5, 5), MEMORY),
        "gap": _length((0.5, 2, 1), (1, 5, 2.5), MEMORY),  # beyond both fringes of two items
        "hem": _length((1, 2.5, 1.5), (2.5, 6, 4), PRACTICE),  # at each end, woven
        "least margin": _length((6, 6, 6), (15, 15, 15), MEMORY),
    }
)

_JACK = _length((24, 36, 30), (60, 90, 75), MEMORY)
_TABLE = _length((18, 27, 24), (45, 70, 60), MEMORY)
WASTE: Final[Mapping[str, LengthAllowance]] = MappingProxyType(
    {
        "rigid heddle": _length((12, 24, 18), (30, 60, 45), MEMORY),
        "direct": _TABLE,
        "table": _TABLE,
        "dobby": _JACK,
        "rising": _JACK,
        "jack": _JACK,
        "sinking": _JACK,
        "counterbalance": _JACK,
        "countermarch": _length((27, 45, 36), (70, 115, 90), MEMORY),
    }
)
WASTE_PER_4_SHAFTS: Final = _length((2, 2, 2), (5, 5, 5), MEMORY)


def waste_for(action: str, shafts: int, units: Units) -> Allowance:
    """Return the loom waste in mm, for all items of a warp together.

    Every four shafts beyond the first four, begun or full, add 2 in or 5 cm. The best figure is
    the loom's own, measured. Raises ValueError for an unknown action or no shafts.
    """
    if action not in WASTE:
        raise unknown("loom action", action, WASTE)
    if shafts < 1:
        raise ValueError(f"shafts must be 1 or more, not {shafts}")
    base = WASTE[action].chosen(units)
    more = max(0, -(-(shafts - 4) // 4)) * WASTE_PER_4_SHAFTS.chosen(units).value
    return Allowance(base.value + more, base.low + more, base.high + more, base.source)
