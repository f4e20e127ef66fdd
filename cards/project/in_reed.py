"""What is known of the reed beside the sleying itself: which reeds there are, and the edges."""

from __future__ import annotations

from dataclasses import dataclass

from cards.calculation.reed_choice import ReedChoice


@dataclass(frozen=True, slots=True)
class InReed:
    """The reeds and the edges of a warp in one of them.

    `choices` are the weaver's reeds, the best first, or the one that is used; `owned` tells whether
    she named those that she has. `folds` tells whether cloth is folded at the side of the first end
    and at the other one; `line` whether a line lies in each fold, `floating` whether a selvedge
    floats at each edge. `assumed` tells that the dents opened at a fold are not the weaver's own.
    `length` is that of the reed in mm, as long as the loom weaves, None where that is not known.
    """

    choices: tuple[ReedChoice, ...]
    owned: bool
    folds: tuple[bool, bool]
    line: bool
    floating: bool
    assumed: bool
    length: float | None
