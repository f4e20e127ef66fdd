"""Every step of a calculation, kept as it was done, so that someone with a pencil can follow it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

Unit = Literal[
    "mm", "per mm", "fraction", "ends", "dents", "picks", "pieces", "g", "tex", "packages", "cost",
    "hours", "per hour",
]  # fmt: skip
Inputs = tuple[tuple[str, float, Unit], ...]
Origin = Literal["worked out", "given", "assumed"]


@dataclass(frozen=True, slots=True)
class Known:
    """A figure with where it comes from: the weaver's own, or assumed from a named source.

    `low` and `high` are the range seen in practice, None where none is known.
    """

    value: float
    origin: Origin
    source: str = ""
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """One step: what was reckoned, by what rule, from what, before and after rounding."""

    name: str
    formula: str
    inputs: Inputs
    raw: float
    value: float
    unit: Unit
    origin: Origin = "worked out"
    note: str = ""


@dataclass(slots=True)
class Workings:
    """Collects the steps of one calculation in order. Every method returns the value it records."""

    steps: list[Step] = field(default_factory=list)

    def worked(
        self,
        name: str,
        formula: str,
        inputs: Inputs,
        raw: float,
        unit: Unit,
        *,
        rounded: float | None = None,
        note: str = "",
    ) -> float:
        """Record a figure that was worked out; `rounded` is what is used from here on."""
        value = raw if rounded is None else rounded
        self.steps.append(Step(name, formula, inputs, raw, value, unit, note=note))
        return value

    def given(self, name: str, value: float, unit: Unit, note: str = "") -> float:
        """Record a figure that the weaver gave instead of having it worked out."""
        self.steps.append(Step(name, "given", (), value, value, unit, "given", note))
        return value

    def known(self, name: str, known: Known, unit: Unit) -> float:
        """Record an allowance, given or assumed."""
        formula = "given" if known.origin == "given" else "assumed"
        self.steps.append(
            Step(name, formula, (), known.value, known.value, unit, known.origin, known.source)
        )
        return known.value
