"""Every step of a calculation, kept as it was done, so that someone with a pencil can follow it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

# Lengths of yarn are mm as all lengths are, but read in metres or yards.
Unit = Literal[
    "mm",
    "mm of yarn",
    "per mm",
    "mm per g",
    "fraction",
    "ends",
    "dents",
    "picks",
    "pieces",
    "number",
    "g",
    "tex",
    "packages",
    "cost",
    "hours",
    "per hour",
]
Inputs = tuple[tuple[str, float, Unit], ...]
Origin = Literal["worked out", "given", "assumed"]
Stage = Literal[
    "width", "lengths", "ends", "reed", "warp", "picks", "yarn", "in all", "hours", "cost"
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Known:
    """A figure with where it comes from: the weaver's own, or assumed from a named source.

    `low` and `high` are the range seen in practice, None where none is known; `source` is where
    the range is from, and the value if it is assumed.
    """

    value: float
    origin: Origin
    source: str = ""
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """One step: what was reckoned, by what rule, from what, before and after rounding.

    `formula` is in the notation of `cards.calculation.formula`, with the names of the inputs; one
    that is `counted`, not reckoned, is in words. `allowance` is true of what is allowed for, given
    or assumed, whose source is the note and whose usual range is from `low` to `high`. `of` is the
    key of the yarn that a step is about, `currency` that of a sum of money.
    """

    name: str
    formula: str
    inputs: Inputs
    raw: float
    value: float
    unit: Unit
    origin: Origin = "worked out"
    note: str = ""
    stage: Stage = "width"
    of: str = ""
    counted: bool = False
    allowance: bool = False
    low: float | None = None
    high: float | None = None
    currency: str = ""


@dataclass(slots=True)
class Workings:
    """Collects the steps of one calculation in order. Every method returns the value it records.

    Steps belong to the stage that was begun last.
    """

    steps: list[Step] = field(default_factory=list)
    stage: Stage = "width"

    def begin(self, stage: Stage) -> None:
        """Say to which stage of the calculation the steps that follow belong."""
        self.stage = stage

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
        of: str = "",
        counted: bool = False,
        currency: str = "",
    ) -> float:
        """Record a figure that was worked out; `rounded` is what is used from here on."""
        value = raw if rounded is None else rounded
        self.steps.append(
            Step(
                name, formula, inputs, raw, value, unit,
                note=note, stage=self.stage, of=of, counted=counted, currency=currency,
            )
        )  # fmt: skip
        return value

    def given(self, name: str, value: float, unit: Unit, note: str = "", of: str = "") -> float:
        """Record a figure that the weaver gave instead of having it worked out."""
        step = Step(name, "given", (), value, value, unit, "given", note, self.stage, of)
        self.steps.append(step)
        return value

    def known(self, name: str, known: Known, unit: Unit) -> float:
        """Record an allowance, given or assumed; once only, where it is used again."""
        step = Step(
            name,
            "given" if known.origin == "given" else "assumed",
            (),
            known.value,
            known.value,
            unit,
            known.origin,
            known.source,
            self.stage,
            allowance=True,
            low=known.low,
            high=known.high,
        )
        if not any(each.allowance and each.name == name for each in self.steps):
            self.steps.append(step)
        return known.value
