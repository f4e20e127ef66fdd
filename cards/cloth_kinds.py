"""The kinds of cloth in a piece: stretches that are alike are one, and each has picks that repeat.

Stretches are alike when the same ends make their layers, the layers hang together in the same way,
and the same cycle of picks makes them, wherever in the cycle each begins.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from cards.draft.stretches import period
from cards.project.cloth import ClothStretch
from cards.project.model import Project

# Cycles of up to so many picks are shown whole with their shuttles, and of so many without; of
# longer ones only the beginning.
MOST_WITH_SHUTTLES: Final = 24
MOST_PICKS: Final = 32


@dataclass(frozen=True, slots=True)
class Cycle:
    """The picks that repeat in a stretch, counted from its first.

    `whole` is False where nothing repeats within reach: these are then only the first picks.
    `shuttles` is False where lifts and layers repeat but not the shuttles or their sides; `sides`
    whether at least those do.
    """

    picks: int
    whole: bool
    shuttles: bool
    sides: bool = True


@dataclass(frozen=True, slots=True, eq=False)
class KindOfCloth:
    """Stretches that are alike, in weaving order, and the cycle of the first, which is shown."""

    stretches: tuple[ClothStretch, ...]
    cycle: Cycle

    @property
    def shown(self) -> ClothStretch:
        """The stretch that stands for all."""
        return self.stretches[0]


def kinds_of_cloth(project: Project) -> tuple[KindOfCloth, ...]:
    """Return every kind of cloth of a piece, in the order in which they are first woven."""
    kinds: dict[object, list[ClothStretch]] = {}
    cycles: dict[object, Cycle] = {}
    for stretch in project.cloth.stretches:
        cycle = cycle_of(project, stretch)
        ends = tuple(layer.ends for layer in stretch.layers)
        key = (ends, stretch.pieces, _turned(_signature(project, stretch, cycle)))
        kinds.setdefault(key, []).append(stretch)
        cycles.setdefault(key, cycle)
    return tuple(KindOfCloth(tuple(found), cycles[key]) for key, found in kinds.items())


def cycle_of(project: Project, stretch: ClothStretch) -> Cycle:
    """Return the cycle of a stretch: the fewest first picks of which all others are repeats."""
    whole = Cycle(stretch.picks, whole=True, shuttles=True)
    with_shuttles = period(_signature(project, stretch, whole))
    if with_shuttles <= MOST_WITH_SHUTTLES:
        return Cycle(with_shuttles, whole=True, shuttles=True)
    signature = _signature(project, stretch, whole)
    picks = period([each[:2] for each in signature])
    if picks <= MOST_PICKS:
        sides = all(
            each[-1] == signature[place % picks][-1] for place, each in enumerate(signature)
        )
        return Cycle(picks, whole=True, shuttles=False, sides=sides)
    return Cycle(MOST_PICKS, whole=False, shuttles=False)


_Told = tuple[tuple[int, ...], int, str, int, bool]


def _signature(project: Project, stretch: ClothStretch, cycle: Cycle) -> list[_Told]:
    """Return lift, layer, yarn, shuttle and side of each pick of the cycle."""
    plan = stretch.path.plan
    first = stretch.first_pick
    rows = zip(
        project.draft.lifts[first : first + cycle.picks],
        stretch.path.layers[: cycle.picks].tolist(),
        project.draft.weft[first : first + cycle.picks],
        plan.shuttles[: cycle.picks].tolist(),
        plan.from_right[: cycle.picks].tolist(),
        strict=True,
    )
    known: dict[frozenset[int], tuple[int, ...]] = {}
    return [
        (known.setdefault(lift, tuple(sorted(lift))), layer, yarn, shuttle, right)
        for lift, layer, yarn, shuttle, right in rows
    ]


def _turned(cycle: list[_Told]) -> tuple[_Told, ...]:
    """Return a cycle begun where it reads smallest, so that it can be known wherever it began."""
    return tuple(min(cycle[place:] + cycle[:place] for place in range(len(cycle))))
