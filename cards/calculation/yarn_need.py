"""How much of each yarn a project takes: length, mass, packages and cost.

The weft goes once across the width in the reed each pick; draw-in is in that width already and
must not be added a second time.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from cards.calculation.rounding import whole_up
from cards.calculation.workings import Inputs, Workings

_HAIR = 1e-9


@dataclass(frozen=True, slots=True)
class PutUp:
    """How a yarn is sold: grams or millimetres in one package, and its price as written."""

    mass: float | None = None
    length: float | None = None
    price: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Need:
    """What is needed of one yarn: length in mm, mass in g, g to buy, packages and their cost.

    `buy` has the buying margin in it, less what is `on_hand` in g. `packages` and `cost` are None
    where no put-up or price is known; where nothing is to be bought both are nought. `left` is the
    g that are left over when all is woven as planned, None where the packages are not known.
    """

    length: float
    mass: float
    buy: float
    packages: int | None
    cost: Decimal | None
    on_hand: float = 0.0
    left: float | None = None


def warp_yarn_length(ends: int, length_mm: float) -> float:
    """Return mm of yarn in `ends` ends of `length_mm` each."""
    return ends * length_mm


def weft_yarn_length(picks: float, width_mm: float, take_up: float, joins: float) -> float:
    """Return mm of weft in `picks` picks across `width_mm` in the reed.

    `take_up` and `joins` are fractions added for the curve of the weft and for bobbin ends.
    """
    return picks * width_mm * (1 + take_up) * (1 + joins)


def need_of(
    length_mm: float, tex: float, buy_margin: float, put_up: PutUp, on_hand: float = 0.0
) -> Need:
    """Return mass, packages and cost for a length of yarn in mm; `tex` is g per km.

    `on_hand` g need not be bought: what is to buy is the need with its margin, less that.

    >>> need_of(1e6, 100.0, 0.25, PutUp(mass=50.0, price=Decimal("4.50")), on_hand=30.0)
    Need(length=1000000.0, mass=100.0, buy=95.0, packages=2, cost=Decimal('9.00'), on_hand=30.0, \
left=30.0)
    """
    mass = length_mm * tex / 1e6
    buy = mass * (1 + buy_margin) - on_hand
    # An amount on hand that was worked out to be just enough is enough.
    if buy <= _HAIR * mass:
        return Need(length_mm, mass, 0.0, 0, Decimal(0), on_hand, on_hand - mass)
    package = put_up.mass
    if package is None and put_up.length is not None:
        package = put_up.length * tex / 1e6
    if package is None:
        return Need(length_mm, mass, buy, None, None, on_hand)
    packages = whole_up(buy / package)
    cost = None if put_up.price is None else packages * put_up.price
    left = packages * package + on_hand - mass
    return Need(length_mm, mass, buy, packages, cost, on_hand, left)


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
    _record_buying(name, need, buy_margin, work, of)
    if need.packages:
        _record_packages(name, need, put_up, work, of)
    if need.left is not None:
        bought = need.left + need.mass - need.on_hand
        work.worked(
            f"{name}: left over",
            "bought + on hand − mass",
            (("bought", bought, "g"), ("on hand", need.on_hand, "g"), ("mass", need.mass, "g")),
            need.left,
            "g",
            of=of,
        )
    if need.packages and need.cost is not None and put_up.price is not None:
        work.worked(
            f"{name}: cost",
            "packages × price",
            (("packages", need.packages, "packages"), ("price", float(put_up.price), "cost")),
            float(need.cost),
            "cost",
            of=of,
        )


def _record_buying(name: str, need: Need, buy_margin: float, work: Workings, of: str) -> None:
    """Write what is to be bought: the need with its margin, less what is on hand."""
    formula = "mass × (1 + buying margin)"
    inputs: Inputs = (("mass", need.mass, "g"), ("buying margin", buy_margin, "fraction"))
    if need.on_hand:
        formula = f"{formula} − on hand, at least nothing"
        inputs = (*inputs, ("on hand", need.on_hand, "g"))
    work.worked(f"{name}: to buy", formula, inputs, need.buy, "g", of=of)


def _record_packages(name: str, need: Need, put_up: PutUp, work: Workings, of: str) -> None:
    """Write how many packages hold what is to be bought; of those sold by length, by their mass."""
    held = put_up.mass
    if held is None:
        long = put_up.length or 1.0
        held = work.worked(
            f"{name}: mass of a package",
            "length of a package ÷ length to a unit of mass",
            (
                ("length of a package", long, "mm of yarn"),
                ("length to a unit of mass", need.length / need.mass, "mm per g"),
            ),
            long * need.mass / need.length,
            "g",
            of=of,
        )
    work.worked(
        f"{name}: packages",
        "to buy ÷ put-up, up to whole packages",
        (("to buy", need.buy, "g"), ("put-up", held, "g")),
        need.buy / held,
        "packages",
        rounded=need.packages,
        of=of,
    )
