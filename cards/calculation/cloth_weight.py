"""The mass of the finished cloth by its area, and how well its threads cover it.

Only what is really in the cloth counts: no loom waste, no joins. Each thread is longer than the
cloth in which it lies, by crimp reckoned on the cloth (ASTM D3883).
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class InCloth:
    """Threads as they lie in the finished cloth: `per_mm`, of `tex` on average, and their crimp."""

    per_mm: float
    tex: float
    crimp: float

    @property
    def weight(self) -> float:
        """Mass of them in g, in a square metre."""
        return threads_weight(self.per_mm, self.tex, self.crimp)


@dataclass(frozen=True, slots=True)
class ClothWeight:
    """The threads of the finished cloth, one layer thick, and their mass in g in a square metre."""

    ends: InCloth
    picks: InCloth

    @property
    def warp(self) -> float:
        """Mass of the warp in g/m2."""
        return self.ends.weight

    @property
    def weft(self) -> float:
        """Mass of the weft in g/m2."""
        return self.picks.weight

    @property
    def total(self) -> float:
        """Mass of a square metre in g."""
        return self.warp + self.weft


def threads_weight(per_mm: float, tex: float, crimp: float) -> float:
    """Return g/m2 of threads that lie `per_mm` in the cloth, each 1 + `crimp` times its length.

    >>> round(threads_weight(4.0, 30.0, 0.10), 9)
    132.0
    """
    return per_mm * tex * (1 + crimp)
