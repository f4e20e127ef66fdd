"""Heddles: how many each shaft needs, and where the loom has too few."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Shortage:
    """A shaft, counted from 1, with fewer heddles than its threading needs."""

    shaft: int
    needed: int
    there: int


def heddles_needed(threading: Iterable[int], shafts: int) -> tuple[int, ...]:
    """Return the number of ends on each shaft, shaft 1 first.

    >>> heddles_needed([1, 2, 3, 2], 4)
    (1, 2, 1, 0)
    """
    count = Counter(threading)
    return tuple(count[shaft] for shaft in range(1, shafts + 1))


def shortages(needed: Sequence[int], there: Sequence[int]) -> tuple[Shortage, ...]:
    """Return the shafts on which the loom has fewer heddles than needed."""
    pairs = enumerate(zip(needed, there, strict=True), start=1)
    return tuple(Shortage(shaft, need, has) for shaft, (need, has) in pairs if need > has)
