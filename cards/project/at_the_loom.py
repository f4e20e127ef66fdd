"""The loom as a project uses it, and how its warp is wound: what the cards of the loom read.

Shafts and treadles keep their own numbers, from 1. Lengths are mm.
"""

from __future__ import annotations

from dataclasses import dataclass

from cards.calculation.workings import Known
from cards.loom.pressing import Treadle
from cards.loom.shed import has_ties


@dataclass(frozen=True, slots=True)
class LoomPlan:
    """The loom as this project uses it.

    `treadles` is how many it has, None if that is not known; `tied` are those in use with their
    cords, numbered by their places, none where the loom has no tie-up or too few treadles.
    `together` is the most treadles that are pressed for one pick. `own` is true where the treadles
    are those of the author's tie-up, under his numbers; `proved` says how sure a tie-up of
    treadles pressed together is, as `cards.loom.tie_up.Proof` has it, else it is empty. `order` is
    the style in which the treadles were put in order, empty for the author's own. `pairs` are the
    shafts that hang together on a counterbalance. `rise_lamms` are the lamms to which a
    countermarch ties the shafts that rise. `looks` are treadles that weave nothing, and only raise
    upper layers to look underneath. `picks_a_bar` and `least_bars`, the fewest bars of a chain, are
    those of a dobby.
    """

    name: str
    action: str
    shafts: int
    heddles: tuple[int, ...]
    treadles: int | None
    tied: tuple[Treadle, ...]
    shaft_1: str
    treadle_1: str
    together: int = 1
    own: bool = False
    proved: str = ""
    order: str = ""
    pairs: tuple[tuple[int, int], ...] = ()
    rise_lamms: str = "lower"
    looks: tuple[int, ...] = ()
    picks_a_bar: int = 1
    least_bars: int = 1

    @property
    def moved(self) -> tuple[Treadle, ...]:
        """What each treadle raises and sinks when it is pressed alone, instead of its cords.

        On a countermarch whose treadles are pressed together only what each one moves.
        """
        if not has_ties(self.action):
            return ()
        return tuple(each.moved(self.threaded, self.action) for each in self.tied)

    @property
    def threaded(self) -> frozenset[int]:
        """The shafts on which ends are threaded; the others hang free and are not tied."""
        return frozenset(shaft for shaft, ends in enumerate(self.heddles, start=1) if ends)


@dataclass(frozen=True, slots=True)
class Winding:
    """How the warp is wound: strands together, largest bout, raddle spacing and chokes in mm."""

    strands: Known
    bout: Known
    raddle: Known
    choke: Known
