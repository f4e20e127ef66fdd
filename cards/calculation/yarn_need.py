"""How much of each yarn a project takes: length, mass, packages and cost.

The weft goes once across the width in the reed each pick; draw-in is in that width already and
must not be added a second time.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from cards.calculation.rounding import whole_up
from cards.calculation.workings import Workings


@dataclass(frozen=True, slots=True)
class PutUp:
    """How a yarn is sold: grams or millimetres in one package, and its price as written."""

    mass: float | None = None
    length: float | None = None
    price: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Need:
    """What is needed of one yarn: length in mm, mass in g, g to buy, packages and their cost.

    `packages` and `cost` are None where no put-up or price is known.
    """

    length: float
    mass: float
    buy: float
    packages: int | None
    cost: Decimal | None


def warp_yarn_length(ends: int, length_mm: float) -> float:
    """Return mm of yarn in `ends` ends of `length_mm` each."""
    return ends * length_mm


def weft_yarn_length(picks: float, width_mm: float, take_up: float, joins: float) -> float:
    """Return mm of weft in `picks` picks across `width_mm` in the reed.

    `take_up` and `joins` are fractions added for the curve of the weft and for bobbin ends.
    """
    return picks * width_mm * (1 + take_up) * (1 + joins)


def need_of(length_mm: float, tex: float, buy_margin: float, put_up: PutUp) -> Need:
    """Return mass, packages and cost for a length of yarn in mm; `tex` is g per km."""
    mass = length_mm * tex / 1e6
    buy = mass * (1 + buy_margin)
    packages: int | None = None
    if put_up.mass is not None:
        packages = whole_up(buy / put_up.mass)
    elif put_up.length is not None:
        packages = whole_up(length_mm * (1 + buy_margin) / put_up.length)
    cost = None if packages is None or put_up.price is None else packages * put_up.price
    return Need(length_mm, mass, buy, packages, cost)


def record_need(name: str, need: Need, tex: float, buy_margin: float, work: Workings) -> None:
    """Write the steps of `need` of the yarn called `name` into the workings."""
    work.worked(
        f"{name}: mass",
        "length × tex",
        (("length", need.length, "mm"), ("yarn size", tex, "tex")),
        need.mass,
        "g",
    )
    work.worked(
        f"{name}: to buy",
        "mass × (1 + buying margin)",
        (("mass", need.mass, "g"), ("buying margin", buy_margin, "fraction")),
        need.buy,
        "g",
    )
    if need.packages is not None:
        work.worked(
            f"{name}: packages",
            "to buy ÷ put-up, up to whole packages",
            (("to buy", need.buy, "g"),),
            need.packages,
            "packages",
        )
    if need.cost is not None:
        work.worked(
            f"{name}: cost", "packages × price", (), float(need.cost), "cost", note="as priced"
        )
