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
from itertools import groupby
from typing import Final

from cards.calculation.dents import PLAIN, Body, Edge, Pattern, fitting, lay_body, mean_of
from cards.units import INCH

SHORT_REPEAT: Final = 4  # dents
LONG_REPEAT: Final = 10  # dents
GOOD_ENOUGH: Final = Fraction(2, 100)
# Setts arrive as floats; a ratio this near a plain fraction is that fraction.
SNAP: Final = Fraction(1, 10**12)


@dataclass(frozen=True, slots=True)
class Sleying:
    """Ends in a reed.

    `pattern` is ends per dent, repeated in the body between the edges; every dent holds a multiple
    of `multiple` ends there. `reed` is dents per mm, `wanted` the ends per dent that would give the
    sett. `first` is the edge of the first end, `last` the other one.
    """

    pattern: Pattern
    ends: int
    reed: Fraction
    wanted: Fraction
    multiple: int
    first: Edge
    body: Body
    last: Edge

    @property
    def dents(self) -> int:
        """Dents from the first end to the last, empty ones between them included."""
        return len(self.first.dents) + self.body.dents + len(self.last.dents)

    @property
    def remainder(self) -> int:
        """How many ends the last dent of the body holds if its pattern asks for more, else 0."""
        return self.body.remainder

    @property
    def true_sett(self) -> Fraction:
        """Ends per mm of the body, exactly."""
        return mean_of(self.pattern) * self.reed

    @property
    def true_sett_per_mm(self) -> float:
        """Ends per mm of the body."""
        return float(self.true_sett)

    @property
    def error(self) -> float:
        """True sett / wanted sett - 1, as a share."""
        return float(mean_of(self.pattern) / self.wanted - 1)

    @property
    def width_mm(self) -> float:
        """Width that the ends take in the reed: dents / reed."""
        return float(self.dents / self.reed)

    @property
    def cloth_width_mm(self) -> float:
        """Width in mm of which the cloth draws in: as if no dent were opened for a fold.

        The cloth closes at a fold what the reed opens there; doubled edges stay as close as they
        are sleyed.
        """
        doubled = [edge for edge in (self.first, self.last) if edge.kind == "doubled"]
        ends = sum(edge.ends for edge in doubled)
        dents = sum(len(edge.dents) for edge in doubled)
        return float((self.ends - ends) / self.true_sett + dents / self.reed)

    @property
    def width_error(self) -> float:
        """Width in the reed / width that the wanted sett would take - 1, as a share."""
        return float(self.dents * self.wanted / self.ends - 1)

    def per_dent(self) -> tuple[int, ...]:
        """Return the ends in each dent from first to last: `dents` figures, `ends` in all."""
        body = self.body.per_dent(self.pattern)
        return self.first.dents + body + self.last.dents[::-1]

    def runs(self) -> tuple[tuple[int, int], ...]:
        """Return the ends per dent as pairs: so many ends in each of so many dents in a row."""
        return tuple((ends, len(list(same))) for ends, same in groupby(self.per_dent()))


def sley(
    sett_per_mm: Fraction | float,
    reed_per_mm: Fraction | float,
    ends: int,
    multiple: int = 1,
    *,
    pattern: Pattern = (),
    edges: tuple[Edge, Edge] = (PLAIN, PLAIN),
) -> Sleying:
    """Sley `ends` at `sett_per_mm` in a reed of `reed_per_mm` dents.

    `multiple` makes every dent hold a multiple of so many ends, as a cloth of that many layers
    likes it; dents then differ by that many. The sett is that of all layers together. A `pattern`
    of one's own is taken as it is; `edges` are those of the first end and of the last one.
    Raises ValueError when a figure is not above nought.

    >>> pattern_text(sley(20, 8, ends=400).pattern)
    '2-3'
    """
    for name, whole in (("ends", ends), ("multiple", multiple)):
        if whole < 1:
            raise ValueError(f"{name} must be 1 or more, not {whole}")
    pattern = pattern or pattern_for(sett_per_mm, reed_per_mm, multiple)
    first, last = (fitting(edge, ends // 2) for edge in edges)
    body = lay_body(pattern, ends - first.ends - last.ends, first, last)
    reed = exact_density(reed_per_mm)
    wanted = ends_per_dent(sett_per_mm, reed)
    return Sleying(pattern, ends, reed, wanted, multiple, first, body, last)


def pattern_for(
    sett_per_mm: Fraction | float, reed_per_mm: Fraction | float, multiple: int = 1
) -> Pattern:
    """Return the pattern that comes nearest to a sett, every dent a multiple of `multiple` ends.

    Raises ValueError when a figure is not above nought.
    """
    for name, value in (("sett", sett_per_mm), ("reed", reed_per_mm)):
        if not (value > 0 and math.isfinite(value)):
            raise ValueError(f"{name} must be above 0, not {value}")
    steps = _nearest(ends_per_dent(sett_per_mm, reed_per_mm) / multiple)
    return _spread(steps, multiple)


def ends_per_dent(sett_per_mm: Fraction | float, reed_per_mm: Fraction | float) -> Fraction:
    """Return the ends per dent that give a sett exactly, rounding errors of floats put right."""
    return _snapped(Fraction(sett_per_mm) / Fraction(reed_per_mm))


def round_in_a_dent(
    sett_per_mm: Fraction | float, reed_per_mm: Fraction | float, in_a_round: int
) -> int:
    """Return what every dent holds a multiple of: a round of all layers where the sett lets it.

    `in_a_round` is the ends of all layers in one round of the threading. Layers are kept whole
    where the sett comes out on whole rounds in every dent (common practice, no source); else 1.

    >>> round_in_a_dent(20, 10, 2), round_in_a_dent(24, 8, 2)
    (2, 1)
    """
    rounds = ends_per_dent(sett_per_mm, reed_per_mm) / in_a_round
    near = round(rounds)
    return in_a_round if near and abs(rounds / near - 1) < _WHOLE else 1


_WHOLE = Fraction(1, 10**6)


def pattern_text(pattern: Pattern) -> str:
    """Write a pattern as weavers say it.

    >>> pattern_text((2, 1, 2, 2))
    '2-1-2-2'
    """
    return "-".join(str(ends) for ends in pattern)


def exact_density(per_mm: Fraction | float) -> Fraction:
    """Return threads or dents per mm as what somebody wrote: so many in 10 cm, or in an inch.

    >>> exact_density(12 / 25.4) * 254 / 10
    Fraction(12, 1)
    """
    exact = Fraction(per_mm)
    for length in (Fraction(100), INCH):
        plain = (exact * length).limit_denominator(1000) / length
        if plain and abs(plain / exact - 1) <= SNAP:
            return plain
    return exact


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


def _spread(steps: Fraction, multiple: int) -> Pattern:
    return tuple(
        (_reached(steps, dent + 1) - _reached(steps, dent)) * multiple
        for dent in range(steps.denominator)
    )
