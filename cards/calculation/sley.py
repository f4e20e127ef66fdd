"""Exact sleying: which pattern of ends per dent comes nearest to a sett in a given reed.

Ends per dent is a fraction. The nearest one with a repeat of at most 4 dents is taken if its sett
is within 2 % of the wanted one, because a short pattern is kept in the head; otherwise the
nearest with at most 10 dents, whose error is told even when it is large. Dents differ by one step
at most and the fuller ones are spread as evenly as they go. Common practice, no source.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

SHORT_REPEAT: Final = 4  # dents
LONG_REPEAT: Final = 10  # dents
GOOD_ENOUGH: Final = Fraction(2, 100)
# Setts arrive as floats; a ratio this near a plain fraction is that fraction.
SNAP: Final = Fraction(1, 10**12)


@dataclass(frozen=True, slots=True)
class Sleying:
    """Ends in a reed.

    `pattern` is ends per dent, repeated from the first dent on; `dents` is how many dents `ends`
    take, empty ones of the pattern included; `remainder` is how many ends the last dent holds if
    the pattern asked for more of it, else 0; `error` is true sett / wanted sett - 1.
    """

    pattern: tuple[int, ...]
    ends: int
    dents: int
    remainder: int
    true_sett_per_mm: float
    width_mm: float
    error: float

    def per_dent(self) -> tuple[int, ...]:
        """Return the ends in each dent from first to last: `dents` figures, `ends` in all."""
        times = -(-self.dents // len(self.pattern))
        full = (self.pattern * times)[: self.dents]
        return (*full[:-1], self.remainder) if self.remainder else full


def sley(
    sett_per_mm: Fraction | float, reed_per_mm: Fraction | float, ends: int, multiple: int = 1
) -> Sleying:
    """Sley `ends` at `sett_per_mm` in a reed of `reed_per_mm` dents.

    `multiple` makes every dent hold a multiple of so many ends, as a cloth of that many layers
    likes it; dents then differ by that many. The sett is that of all layers together.
    Raises ValueError when a figure is not above nought.

    >>> pattern_text(sley(20, 8, ends=400).pattern)
    '2-3'
    """
    for name, value in (("sett", sett_per_mm), ("reed", reed_per_mm)):
        if not (value > 0 and math.isfinite(value)):
            raise ValueError(f"{name} must be above 0, not {value}")
    for name, whole in (("ends", ends), ("multiple", multiple)):
        if whole < 1:
            raise ValueError(f"{name} must be 1 or more, not {whole}")
    reed = Fraction(reed_per_mm)
    wanted = _snapped(Fraction(sett_per_mm) / reed)
    steps = _nearest(wanted / multiple)
    true = steps * multiple
    dents = math.ceil(-(-ends // multiple) / steps)
    pattern = _spread(steps, multiple)
    over = _reached(steps, dents) * multiple - ends
    last = pattern[(dents - 1) % len(pattern)]
    return Sleying(
        pattern=pattern,
        ends=ends,
        dents=dents,
        remainder=last - over if over else 0,
        true_sett_per_mm=float(true * reed),
        width_mm=float(ends / (true * reed)),
        error=float(true / wanted - 1),
    )


def pattern_text(pattern: tuple[int, ...]) -> str:
    """Write a pattern as weavers say it.

    >>> pattern_text((2, 1, 2, 2))
    '2-1-2-2'
    """
    return "-".join(str(ends) for ends in pattern)


def _snapped(ratio: Fraction) -> Fraction:
    plain = ratio.limit_denominator(10_000)
    return plain if plain and abs(plain / ratio - 1) <= SNAP else ratio


def _nearest(ratio: Fraction) -> Fraction:
    short = _limited(ratio, SHORT_REPEAT)
    if abs(short / ratio - 1) <= GOOD_ENOUGH:
        return short
    return _limited(ratio, LONG_REPEAT)


def _limited(ratio: Fraction, dents: int) -> Fraction:
    """Return the nearest fraction above nought whose denominator is at most `dents`."""
    return ratio.limit_denominator(dents) or Fraction(1, dents)


def _reached(steps: Fraction, dents: int) -> int:
    """How many steps the first `dents` dents hold: the line of slope `steps`, rounded down."""
    return math.floor(steps * dents)


def _spread(steps: Fraction, multiple: int) -> tuple[int, ...]:
    return tuple(
        (_reached(steps, dent + 1) - _reached(steps, dent)) * multiple
        for dent in range(steps.denominator)
    )
