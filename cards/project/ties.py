"""What is known of the treadles of a loom once they are settled."""

from __future__ import annotations

from dataclasses import dataclass

from cards.loom.pressing import Treadle
from cards.project.model import WovenSection

Sections = tuple[WovenSection, ...]


@dataclass(frozen=True, slots=True)
class Ties:
    """The treadles of a loom with their cords, and what is known of them, as `LoomPlan` has it."""

    tied: tuple[Treadle, ...] = ()
    own: bool = False
    proved: str = ""
    order: str = ""
    together: int = 1
