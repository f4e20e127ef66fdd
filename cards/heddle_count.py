"""The heddle count: at the loom before threading, the heddles of every shaft are parted by it."""

from __future__ import annotations

from dataclasses import dataclass

from cards.heading import Heading, loom_heading_of
from cards.layer_marks import LayerMark, lettered_marks
from cards.loom.heddle_moves import HeddleMove
from cards.loom.heddles import ShaftHeddles
from cards.project.model import Project


@dataclass(frozen=True, slots=True)
class HeddleCount:
    """All that the heddle count says.

    `shafts` stand as they hang, that at the back of the loom first. `middle` is the end that hangs
    in the middle, counted from 1, 0 where there is none. `room` is the mm that stay free at each
    side of the warp, None where the width of the loom is not known. `layers` are empty for a cloth
    of one layer; `known` tells whether the heddles of the loom were counted, `fewest` whether no
    fewer moves would do.
    """

    heading: Heading
    ends: int
    floating: int
    first_end: str
    shaft_1: str
    shafts: tuple[ShaftHeddles, ...]
    moves: tuple[HeddleMove, ...]
    fewest: bool
    known: bool
    middle: int
    width: float
    room: float | None
    layers: tuple[LayerMark, ...]

    @property
    def there(self) -> int:
        """All heddles of the loom, as far as they were counted."""
        return sum(each.there or 0 for each in self.shafts)

    @property
    def moved(self) -> int:
        """How many heddles are moved to another shaft."""
        return sum(move.heddles for move in self.moves)

    @property
    def added(self) -> int:
        """How many heddles are to be added in all."""
        return sum(each.added for each in self.shafts)

    def layers_of(self, shaft: int) -> tuple[LayerMark, ...]:
        """Return the layers that hang on a shaft."""
        return tuple(each for each in self.layers if shaft in each.shafts)


def heddle_count(project: Project) -> HeddleCount:
    """Return the heddle count of a project."""
    warp, loom, plan = project.warp, project.loom, project.heddle_plan
    back_first = plan.shafts[::-1] if loom.shaft_1 == "front" else plan.shafts
    room = None if project.loom_width is None else (project.loom_width - warp.width_in_reed) / 2
    return HeddleCount(
        heading=loom_heading_of(project, "Heddle count"),
        ends=warp.ends,
        floating=warp.floating,
        first_end=warp.first_end,
        shaft_1=loom.shaft_1,
        shafts=back_first,
        moves=plan.moves,
        fewest=plan.fewest,
        known=plan.known,
        middle=(warp.ends + 1) // 2 if warp.ends % 2 else 0,
        width=warp.width_in_reed,
        room=None if room is None else max(0.0, room),
        layers=lettered_marks(project),
    )
