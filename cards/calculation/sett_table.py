"""The setts that reeds give with the usual patterns, as published sleying charts have them.

A sett is the reed times the mean of the pattern, exactly. The charts round differently, so nothing
is rounded here. Which patterns are usual is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from cards.calculation.dents import Pattern, mean_of

USUAL: Final[tuple[Pattern, ...]] = (
    (0, 1), (1,), (1, 1, 2), (1, 2), (1, 2, 2), (2,), (2, 2, 3), (2, 3), (3,), (4,),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class SettRow:
    """A pattern and the setts that it gives, in ends per mm, one for each reed."""

    pattern: Pattern
    setts: tuple[Fraction, ...]


def sett_rows(reeds: Sequence[Fraction], more: Iterable[Pattern] = ()) -> tuple[SettRow, ...]:
    """Return a row for every usual pattern and those of `more`, the most open first.

    `reeds` are dents per mm. A pattern of the same mean as a usual one has no row of its own.

    >>> [row.setts[0] * 254 / 10 for row in sett_rows([Fraction(120, 254)])][:3]
    [Fraction(6, 1), Fraction(12, 1), Fraction(16, 1)]
    """
    patterns = {mean_of(pattern): pattern for pattern in (*more, *USUAL)}
    return tuple(
        SettRow(pattern, tuple(mean * reed for reed in reeds))
        for mean, pattern in sorted(patterns.items())
    )


def nearest_rows(
    rows: Sequence[SettRow], sett_per_mm: Fraction | float
) -> tuple[tuple[int, ...], ...]:
    """Return for each reed the rows whose setts come nearest to the wanted one, two if level."""
    found = []
    for reed in range(len(rows[0].setts)):
        away = [abs(row.setts[reed] / Fraction(sett_per_mm) - 1) for row in rows]
        found.append(tuple(place for place, each in enumerate(away) if each == min(away)))
    return tuple(found)
