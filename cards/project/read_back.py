"""What was measured on a woven cloth, and what follows from it for the next one."""

from __future__ import annotations

from dataclasses import dataclass

from cards.calculation.measured import Found
from cards.spec import Measured


@dataclass(frozen=True, slots=True)
class ReadBack:
    """What was measured, and what was found from it.

    `used` is the warp of one piece in mm, None if it cannot be known; `masses` are grams of each
    yarn before and after, by its key.
    """

    actual: Measured
    used: float | None
    masses: dict[str, tuple[float, float]]
    found: tuple[Found, ...]
