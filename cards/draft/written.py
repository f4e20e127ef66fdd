"""An explicit draft as it is written, and the cloth that it is expected to make.

The lifts or the treadling stand for one repeat, which comes again as often as there are picks in
the plan of the shuttles. A treadling that is written out whole is a repeat woven once.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from cards.cloth.weft_path import ShuttlePlan
from cards.draft.drawdown import lifts_of

Shed = frozenset[int]
Pieces = Literal["separate", "tube", "folded"]


@dataclass(frozen=True, slots=True, eq=False)
class WrittenDraft:
    """A draft with either `lifts`, or a `treadling` and the `tie_up` that goes with it.

    `threading` is the shaft of each end, first end first; `lifts` the raised shafts of each pick of
    a repeat; `treadling` the treadles pressed together; `tie_up` the shafts that rise with each
    treadle. Shafts and treadles count from 1, ends and picks from 0. `plan` has every pick woven.
    Raises ValueError when both or neither are given, when there are fewer picks in the plan than in
    the repeat, or for an end or a lift on a shaft beyond `shafts`.
    """

    threading: tuple[int, ...]
    plan: ShuttlePlan
    shafts: int
    lifts: tuple[Shed, ...] = ()
    treadling: tuple[Shed, ...] = ()
    tie_up: Mapping[int, tuple[int, ...]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        if bool(self.lifts) == bool(self.treadling):
            raise ValueError("a draft has either lifts or a treadling")
        if not self.threading:
            raise ValueError("a draft has ends")
        if len(self.plan.shuttles) < self.repeat:
            raise ValueError(
                f"{self.repeat} picks in the repeat, and {len(self.plan.shuttles)} in the plan"
            )
        used = {*self.threading}.union(*set(self.sheds))
        for shaft in sorted(used):
            if not 1 <= shaft <= self.shafts:
                raise ValueError(f"shaft {shaft}, and the shafts are 1 to {self.shafts}")

    @property
    def repeat(self) -> int:
        """How many picks the repeat has."""
        return len(self.lifts or self.treadling)

    @property
    def sheds(self) -> tuple[Shed, ...]:
        """The shafts raised at each pick of the repeat."""
        return self.lifts or tuple(lifts_of(self.treadling, self.tie_up))


@dataclass(frozen=True, slots=True)
class Expected:
    """The cloth that is declared: so many layers and, if it is said, what they are joined to.

    `separate`: every layer a flat piece of its own. `tube`: all layers one tube. `folded`: all
    layers one flat cloth of so many widths.
    """

    layers: int
    pieces: Pieces | None = None
