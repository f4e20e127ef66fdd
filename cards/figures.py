"""Figures as they are printed: numbers with units, rounded as a weaver reads them.

Units appear here and nowhere deeper. A metric project says metric first and imperial in brackets,
an imperial project the other way round.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from cards import units
from cards.calculation.rounding import whole_down, whole_up
from cards.calculation.yarn_size import metres_per_100g, yards_per_pound
from cards.units import Units

INCH = float(units.INCH)
YARD = float(units.YARD)
OUNCE = float(units.OUNCE)
_SQUARE_YARD = (YARD / 1000) ** 2  # m2

_LITTLE = 50.0  # g, below which single grams are told

_EIGHTHS = ("", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞")


def with_eighths(value: float) -> str:
    """Return a number to the nearest eighth, as it is read off a tape.

    >>> with_eighths(4.5), with_eighths(0.126), with_eighths(13)
    ('4 ½', '⅛', '13')
    """
    whole, part = divmod(math.floor(value * 8 + 0.5), 8)
    if not part:
        return str(whole)
    return f"{whole} {_EIGHTHS[part]}" if whole else _EIGHTHS[part]


def plain(value: float, places: int = 2) -> str:
    """Return a number with at most `places` decimals and no empty ones.

    >>> plain(5.0), plain(4.5), plain(10 / 3)
    ('5', '4.5', '3.33')
    """
    text = f"{value:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _figures(value: float) -> str:
    """Return a number whole, or to three figures where it is small."""
    return str(round(value)) if value >= 100 else f"{value:.3g}"


def count(number: int) -> str:
    """Return a whole number; from ten thousand up the thousands stand apart.

    >>> count(1248), count(12480)
    ('1248', '12 480')
    """
    return f"{number:,}".replace(",", " ") if number >= 10_000 else str(number)


@dataclass(frozen=True, slots=True)
class Figures:
    """Prints figures in the units of one project: "metric" or "imperial"."""

    units: Units

    @property
    def metric(self) -> bool:
        """Whether metric comes first."""
        return self.units == "metric"

    def other(self) -> Figures:
        """Return the figures of the other system, for the brackets."""
        return Figures("imperial" if self.metric else "metric")

    def long(self, mm: float) -> str:
        """Return a length of warp or yarn in m or yd.

        >>> Figures("metric").long(4800), Figures("imperial").long(4114.8)
        ('4.80 m', '4 ½ yd')
        """
        if self.metric:
            return f"{mm / 1000:.2f} m"
        yards = mm / YARD
        eighths = abs(yards * 8 - round(yards * 8)) < 1e-6
        return f"{with_eighths(yards) if eighths else f'{yards:.2f}'} yd"

    def yarn(self, mm: float) -> str:
        """Return a length of yarn in whole m or yd."""
        return f"{count(round(mm / 1000))} m" if self.metric else f"{count(round(mm / YARD))} yd"

    def width(self, mm: float) -> str:
        """Return a width in cm to 1 mm, or in inches to an eighth.

        >>> Figures("metric").width(330.2), Figures("imperial").width(330.2)
        ('33.0 cm', '13 in')
        """
        return f"{mm / 10:.1f} cm" if self.metric else f"{with_eighths(mm / INCH)} in"

    def tape(self, mm: float) -> str:
        """Return a length read off a tape at the loom: to a millimetre or an eighth of an inch.

        >>> Figures("metric").tape(644.2), Figures("imperial").tape(644.2)
        ('64.4 cm', '25 ⅜ in')
        """
        return self.width(mm)

    def density(self, per_mm: float) -> str:
        """Return threads per cm, or per inch.

        >>> Figures("metric").density(0.8), Figures("imperial").density(20 / 25.4)
        ('8 per cm', '20 per in')
        """
        return f"{plain(per_mm * 10)} per cm" if self.metric else f"{plain(per_mm * INCH)} per in"

    def reed(self, per_mm: float) -> str:
        """Return a reed in dents per 10 cm, or per inch."""
        if self.metric:
            return f"{plain(per_mm * 100, 1)} per 10 cm"
        return f"{plain(per_mm * INCH, 1)} per in"

    def size(self, tex: float) -> str:
        """Return the size of a yarn as a label gives it, whatever its notation.

        >>> Figures("metric").size(147.63525), Figures("imperial").size(147.63525)
        ('677 m/100 g', '3360 yd/lb')
        """
        if self.metric:
            return f"{_figures(metres_per_100g(tex))} m/100 g"
        return f"{_figures(yards_per_pound(tex))} yd/lb"

    def by_area(self, grams: float) -> str:
        """Return the mass of cloth by its area, of a square metre or yard.

        >>> Figures("metric").by_area(333.2), Figures("imperial").by_area(333.2)
        ('333 g/m²', '9.8 oz/yd²')
        """
        return f"{grams:.0f} g/m²" if self.metric else f"{grams * _SQUARE_YARD / OUNCE:.1f} oz/yd²"

    def mass(self, grams: float) -> str:
        """Return a mass up to 5 g, or to a tenth of an ounce, never less than is needed.

        >>> Figures("metric").mass(102.3), Figures("imperial").mass(102.3)
        ('105 g', '3.7 oz')
        >>> Figures("imperial").mass(2000)
        '4 lb 6.6 oz'
        """
        if self.metric:
            return f"{count(5 * whole_up(grams / 5))} g"
        pounds, tenths = divmod(whole_up(grams / OUNCE * 10), 160)
        return f"{pounds} lb {tenths / 10:.1f} oz" if pounds else f"{tenths / 10:.1f} oz"

    def mass_down(self, grams: float) -> str:
        """Return a mass down to 5 g, a little one to 1 g, or to a tenth of an ounce.

        It is never more than there is.

        >>> Figures("metric").mass_down(102.3), Figures("imperial").mass_down(102.3)
        ('100 g', '3.6 oz')
        >>> Figures("metric").mass_down(4.0)
        '4 g'
        """
        if self.metric:
            step = 5 if grams >= _LITTLE else 1
            return f"{count(step * whole_down(grams / step))} g"
        pounds, tenths = divmod(whole_down(grams / OUNCE * 10), 160)
        return f"{pounds} lb {tenths / 10:.1f} oz" if pounds else f"{tenths / 10:.1f} oz"

    def both(self, name: str, value: float) -> str:
        """Return a figure in both systems, the project's own first.

        >>> Figures("metric").both("width", 330.2)
        '33.0 cm (13 in)'
        """
        first: str = getattr(self, name)(value)
        second: str = getattr(self.other(), name)(value)
        return f"{first} ({second})"


def money(amount: Decimal, currency: str) -> str:
    """Return a sum with the currency as the weaver wrote it."""
    text = f"{amount:.2f}"
    if not currency:
        return text
    return f"{currency}{text}" if len(currency) == 1 else f"{currency} {text}"


def times(number: int | Fraction) -> str:
    """Return how often, such as `3` or `1 ½` round trips.

    >>> times(Fraction(3, 2)), times(Fraction(6, 1)), times(Fraction(1, 3))
    ('1 ½', '6', '⅓')
    """
    whole, rest = divmod(Fraction(number), 1)
    thirds = {Fraction(1, 3): "⅓", Fraction(2, 3): "⅔"}
    part = thirds.get(rest) or (_EIGHTHS[int(rest * 8)] if (rest * 8).denominator == 1 else "")
    if rest and not part:
        return f"{float(number):.2f}"
    return " ".join(text for text in (str(whole) if whole or not rest else "", part) if text)
