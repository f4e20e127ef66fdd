"""A cross-section as data: the ends as they lie from left to right, and the weft of every pick.

All is seen from the front of the loom. What lies over and under is read off the drawdown.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeVar

import numpy as np
from numpy.typing import NDArray

from cards.cloth.continuity import Fault
from cards.cloth.weft_path import Side, side_at
from cards.cloth_kinds import Cycle, KindOfCloth
from cards.project.cloth import ClothStretch
from cards.project.model import Project, ProjectYarn

Cells = NDArray[np.bool_]
T = TypeVar("T", bound=np.generic)


@dataclass(frozen=True, slots=True)
class SectionPick:
    """One pick: which it is of the piece (from 1), its layer from the top, what is raised.

    `shuttle` counts from 1.
    """

    pick: int
    layer: int
    lift: tuple[int, ...]
    shuttle: int
    yarn: ProjectYarn
    from_right: bool


@dataclass(frozen=True, slots=True)
class Turn:
    """A turn of the weft after one pick, before another of the same shuttle.

    Both are places in the stretch, from 0; the second may lie beyond the picks that are shown.
    """

    pick: int
    following: int
    side: Side
    kind: Literal["turn", "fold"]
    fault: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class CrossSection:
    """The picks of one cycle with their turns, and every end from left to right.

    `raised`, shape (picks, ends), says whether an end lies over a pick; `rows`, shape (ends,), is
    its layer from the top, `lanes` the warp that it belongs to wherever it lies.
    """

    picks: tuple[SectionPick, ...]
    turns: tuple[Turn, ...]
    raised: Cells
    rows: NDArray[np.intp]
    lanes: NDArray[np.intp]
    layers: int
    cycle: Cycle


def cross_section(project: Project, kind: KindOfCloth, home: NDArray[np.intp]) -> CrossSection:
    """Return the cross-section of a kind of cloth; `home` is the warp of each end, by end."""
    stretch, cycle = kind.shown, kind.cycle
    first = stretch.first_pick
    rows = np.zeros(len(home), dtype=np.intp)
    for place, layer in enumerate(stretch.layers):
        rows[list(layer.ends)] = place
    raised = project.draft.drawdown[first : first + cycle.picks]
    return CrossSection(
        picks=tuple(_pick(project, stretch, place) for place in range(cycle.picks)),
        turns=_turns(stretch, cycle),
        raised=from_the_left(project, raised),
        rows=from_the_left(project, rows),
        lanes=from_the_left(project, home),
        layers=len(stretch.layers),
        cycle=cycle,
    )


def from_the_left(project: Project, by_end: NDArray[T]) -> NDArray[T]:
    """Return what is told by end, in the last dimension, as it lies from left to right."""
    return by_end[..., ::-1] if project.warp.first_end == "right" else by_end


def _pick(project: Project, stretch: ClothStretch, place: int) -> SectionPick:
    pick = stretch.first_pick + place
    plan = stretch.path.plan
    return SectionPick(
        pick=pick + 1,
        layer=int(stretch.path.layers[place]),
        lift=tuple(sorted(project.draft.lifts[pick])),
        shuttle=int(plan.shuttles[place]) + 1,
        yarn=project.yarn(project.draft.weft[pick]),
        from_right=bool(plan.from_right[place]),
    )


def _turns(stretch: ClothStretch, cycle: Cycle) -> tuple[Turn, ...]:
    path = stretch.path
    here = np.flatnonzero(path.before < cycle.picks)
    faults = {fault.pick: fault for fault in stretch.faults if fault.pick < cycle.picks}
    told = zip(
        path.before[here].tolist(),
        path.after[here].tolist(),
        path.at_right[here].tolist(),
        path.passing[here].tolist(),
        strict=True,
    )
    return tuple(
        Turn(
            pick,
            following,
            side_at(right),
            "fold" if passing else "turn",
            fault_words(faults[pick]) if pick in faults else "",
        )
        for pick, following, right, passing in told
    )


def fault_words(fault: Fault) -> str:
    """Return what is wrong at a turn, in few words."""
    if fault.kind == "edge missed":
        return "misses the end"
    return "doubled" if fault.kind == "doubled" else f"floats over {fault.threads}"
