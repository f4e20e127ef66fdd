"""Figures of the workings: so many digits that redoing a line by them gives its printed result.

A result has five digits that count; what it is reckoned from has as many more as that takes. All
lengths of one line are in one unit: cm or in, or m or yd where the line is about yarn.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import Final

from cards.calculation.formula import evaluate, with_figures
from cards.calculation.workings import Step, Unit
from cards.units import CENTIMETRE, INCH, METRE, OUNCE, YARD, Units

# Digits that count in a result, and the most that anything is reckoned from.
RESULT: Final = 5
_MOST: Final = 9
# A float a hair from what somebody wrote, such as 685.8 mm for 27 in.
_HAIR: Final = 12

# By unit of the project: what one printed unit is in the program's own, and its name.
_Named = tuple[Fraction, str]
_SHORT: Final[Mapping[Units, _Named]] = {"metric": (CENTIMETRE, "cm"), "imperial": (INCH, "in")}
_LONG: Final[Mapping[Units, _Named]] = {"metric": (METRE, "m"), "imperial": (YARD, "yd")}
_MASS: Final[Mapping[Units, _Named]] = {"metric": (Fraction(1), "g"), "imperial": (OUNCE, "oz")}
_COUNTED: Final = frozenset({"ends", "dents", "picks", "pieces", "packages"})


@dataclass(frozen=True, slots=True)
class Line:
    """A step in figures: the formula with them, its result, the same in the other units, in use.

    `other` and `used` are empty where there is nothing to say.
    """

    figures: str
    result: str
    other: str
    used: str


def is_long(step: Step) -> bool:
    """Whether a step is about yarn, whose lengths are read in m or yd."""
    return "mm of yarn" in {step.unit, *(unit for _, _, unit in step.inputs)}


def line_of(step: Step, units: Units, currency: str = "", *, goes_on_long: bool = False) -> Line:
    """Return a step in figures; `goes_on_long` where later lines have its result in m or yd."""
    long = is_long(step)
    first, second = Scale(units, long), Scale(_other(units), long)
    figures, digits = _figures(step, first)
    result = first.written(step.raw, step.unit, digits, currency)
    others = [second.written(step.raw, step.unit, RESULT)] if _has_other(step.unit) else []
    if goes_on_long and not long:
        others.insert(0, Scale(units, long=True).written(step.raw, step.unit, RESULT))
    used = ""
    if step.value != step.raw:
        used = first.written(step.value, step.unit, _HAIR)
        more = [Scale(units, long=True).written(step.value, step.unit, _HAIR)] * goes_on_long
        more += [second.written(step.value, step.unit, RESULT)] * _has_other(step.unit)
        # A result that lies a hair below a whole number reads as that already.
        alike = used == result
        used += f" ({'; '.join(more)})" if more else ""
        used = "" if alike else used
    return Line(figures, result, "; ".join(others), used)


def _other(units: Units) -> Units:
    return "imperial" if units == "metric" else "metric"


def _has_other(unit: Unit) -> bool:
    return unit in {"mm", "mm of yarn", "per mm", "mm per g", "g"}


def _figures(step: Step, scale: Scale) -> tuple[str, int]:
    """Return the formula with figures, and the digits to which redoing it gives the result.

    A result that lies just between two of five digits has a digit more.
    """
    if not step.inputs or step.counted:
        return "", RESULT
    exact = scale.exact(step.raw, step.unit)
    every = ((more, digits) for more in range(3) for digits in range(RESULT, _MOST + 1))
    for more, digits in every:
        values = {
            name: Fraction(scale.number(value, unit, digits)) for name, value, unit in step.inputs
        }
        redone = evaluate(step.formula, values)
        if _digits(redone, RESULT + more) == _digits(exact, RESULT + more):
            break
    texts = {
        name: scale.number(value, unit, digits)
        if unit in _COUNTED
        else scale.written(value, unit, digits)
        for name, value, unit in step.inputs
    }
    return with_figures(step.formula, texts), RESULT + more


def _digits(value: Fraction, digits: int) -> str:
    """Return a number to so many digits that count, without empty decimals; whole ones are whole.

    >>> _digits(Fraction(10, 3), 5), _digits(Fraction(1234567), 5), _digits(Fraction(27), 5)
    ('3.3333', '1234567', '27')
    """
    if not value:
        return "0"
    number = Decimal(value.numerator) / Decimal(value.denominator)
    places = max(0, digits - 1 - number.adjusted())
    text = f"{number.quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP):f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


@dataclass(frozen=True, slots=True)
class Scale:
    """The units of one line: metric or imperial, and lengths in cm or in, or in m or yd."""

    units: Units
    long: bool

    def exact(self, value: float, unit: Unit) -> Fraction:
        """Return a value of the program in the printed unit."""
        plain = Fraction(_digits(Fraction(value), _HAIR + 3))
        length, mass = self._length[0], _MASS[self.units][0]
        factor = {
            "mm": 1 / length, "mm of yarn": 1 / length, "per mm": length,
            "mm per g": mass / length, "g": 1 / mass,
        }.get(unit, Fraction(1))  # fmt: skip
        return Fraction(_digits(plain * factor, _HAIR)) if plain else plain

    def number(self, value: float, unit: Unit, digits: int) -> str:
        """Return the number alone, in the printed unit."""
        exact = self.exact(value, unit)
        if unit == "cost":
            return f"{float(exact):.2f}"
        return _digits(exact, digits)

    def written(self, value: float, unit: Unit, digits: int, currency: str = "") -> str:
        """Return a figure with its unit; shares of one and plain numbers have none."""
        number, name = self.number(value, unit, digits), self.name(unit)
        if unit == "cost":
            return f"{currency} {number}".strip() if len(currency) != 1 else f"{currency}{number}"
        if number == "1" and name.endswith("s"):
            name = name.removesuffix("s")
        return f"{number} {name}" if name else number

    def name(self, unit: Unit) -> str:
        """Return the name of the printed unit, empty for a plain number."""
        length, mass = self._length[1], _MASS[self.units][1]
        names = {
            "mm": length, "mm of yarn": length, "per mm": f"per {length}",
            "mm per g": f"{length} per {mass}", "g": mass,
        }  # fmt: skip
        plain = "" if unit in {"fraction", "number", "cost"} else unit
        return names.get(unit, plain)

    @property
    def _length(self) -> _Named:
        return (_LONG if self.long else _SHORT)[self.units]
