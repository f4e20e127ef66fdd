"""Exact constants of the old units, in millimetres and grams.

All are Fractions, so that a conversion there and back loses nothing. The international yard and
pound agreement of 1959 fixes yard and pound; all others are whole parts of those two. What a
person writes ("4 1/2 in") is not this module's business.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

# Which units a weaver thinks in: what the sheets say first.
Units = Literal["metric", "imperial"]

# Lengths, mm.
INCH = Fraction(254, 10)
FOOT = 12 * INCH
YARD = 36 * INCH
CENTIMETRE = Fraction(10)
METRE = Fraction(1000)
KILOMETRE = 1000 * METRE

# Masses, g. The dram is the avoirdupois dram, 1/256 lb, by which silk is sized.
POUND = Fraction(45359237, 100000)
OUNCE = POUND / 16
DRAM = POUND / 256
GRAIN = POUND / 7000
KILOGRAM = Fraction(1000)
