"""The threading chart: it stands on the castle while the ends are drawn through the heddles."""

from __future__ import annotations

from dataclasses import dataclass

from cards.calculation.sley import pattern_text
from cards.counted import CountedList
from cards.figures import Figures
from cards.heading import Heading, heading_of
from cards.layer_marks import LayerMark, layer_marks
from cards.project.model import Project
from cards.threading_groups import GROUP, threading_groups


@dataclass(frozen=True, slots=True)
class ThreadingChart:
    """All that the threading chart says. `groups` hold shafts, counted from 1.

    `layers` are empty for a cloth of one layer; `folds` are the sides at which the cloth is folded.
    """

    heading: Heading
    ends: int
    floating: int
    shafts: int
    groups: CountedList[int]
    heddles: tuple[int, ...]
    first_end: str
    shaft_1: str
    sley: str
    layers: tuple[LayerMark, ...]
    folds: tuple[str, ...]

    def layer_of(self, shaft: int) -> LayerMark | None:
        """Return the layer that hangs on a shaft, None where there are none or several."""
        found = [each for each in self.layers if shaft in each.shafts]
        return found[0] if len(found) == 1 else None


def threading_chart(project: Project, group: int = GROUP) -> ThreadingChart:
    """Return the threading chart of a project, in groups of at most `group` ends."""
    warp, loom = project.warp, project.loom
    return ThreadingChart(
        heading=heading_of(project, "Threading chart"),
        ends=warp.ends,
        floating=warp.floating,
        shafts=loom.shafts,
        groups=threading_groups(warp.threading, warp.selvedges, warp.first_end, group),
        heddles=loom.heddles,
        first_end=warp.first_end,
        shaft_1=loom.shaft_1,
        sley=_sley(project),
        layers=layer_marks(project),
        folds=project.cloth.fold_sides,
    )


def _sley(project: Project) -> str:
    """Return the reed and the ends in its dents, nothing where no reed is named."""
    if project.sleying is None or project.reed is None:
        return ""
    reed = Figures(project.units).both("reed", project.reed)
    return f"Reed {reed}, ends in a dent: {pattern_text(project.sleying.pattern)}."
