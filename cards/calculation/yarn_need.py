"""How much of each yarn a project takes: length, mass, packages and cost.

The weft goes once across the width in the reed each pick; draw-in is in that width already and
must not be added a second time.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from cards.calculation.rounding import whole_up
from cards.calculation.workings import Inputs, Workings


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


def record_need(
    name: str,
    need: Need,
    tex: float,
    buy_margin: float,
    put_up: PutUp,
    work: Workings,
    of: str = "",
) -> None:
    """Write the steps of `need` of the yarn called `name`, whose key is `of`, into the workings."""
    work.worked(
        f"{name}: mass",
        "length ÷ length to a unit of mass",
        (
            ("length", need.length, "mm of yarn"),
            ("length to a unit of mass", 1e6 / tex, "mm per g"),
        ),
        need.mass,
        "g",
        of=of,
    )
    margin: Inputs = (("buying margin", buy_margin, "fraction"),)
    work.worked(
        f"{name}: to buy",
        "mass × (1 + buying margin)",
        (("mass", need.mass, "g"), *margin),
        need.buy,
        "g",
        of=of,
    )
    if need.packages is not None:
        _record_packages(name, need, margin, put_up, work, of)
    if need.packages is not None and need.cost is not None and put_up.price is not None:
        work.worked(
            f"{name}: cost",
            "packages × price",
            (("packages", need.packages, "packages"), ("price", float(put_up.price), "cost")),
            float(need.cost),
            "cost",
            of=of,
        )


def _record_packages(
    name: str, need: Need, margin: Inputs, put_up: PutUp, work: Workings, of: str
) -> None:
    """Write how many packages hold what is to be bought, by mass or by length."""
    packages = need.packages or 0
    if put_up.mass is not None:
        formula = "to buy ÷ put-up, up to whole packages"
        inputs: Inputs = (("to buy", need.buy, "g"), ("put-up", put_up.mass, "g"))
        raw = need.buy / put_up.mass
    else:
        held = put_up.length or 1.0
        formula = "length × (1 + buying margin) ÷ put-up, up to whole packages"
        inputs = (("length", need.length, "mm of yarn"), *margin, ("put-up", held, "mm of yarn"))
        raw = need.length * (1 + margin[0][1]) / held
    work.worked(f"{name}: packages", formula, inputs, raw, "packages", rounded=packages, of=of)
