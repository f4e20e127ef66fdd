"""The threading chart: it stands on the castle while the ends are drawn through the heddles."""

from __future__ import annotations

from dataclasses import dataclass

from cards.counted import CountedList, counted_list, in_groups
from cards.draft.shortest import shortest
from cards.heading import Heading, heading_of
from cards.project.model import Project
from cards.sequence import Repeat, Sequence

# A group is threaded, checked and tied at once: four to eight ends (common practice).
GROUP = 8


@dataclass(frozen=True, slots=True)
class ThreadingChart:
    """All that the threading chart says. `groups` hold shafts, counted from 1."""

    heading: Heading
    ends: int
    floating: int
    shafts: int
    groups: CountedList[int]
    heddles: tuple[int, ...]
    first_end: str
    shaft_1: str


def threading_chart(project: Project) -> ThreadingChart:
    """Return the threading chart of a project."""
    warp, loom = project.warp, project.loom
    return ThreadingChart(
        heading=heading_of(project, "Threading chart"),
        ends=warp.ends,
        floating=warp.floating,
        shafts=loom.shafts,
        groups=counted_list(_grouped(warp.threading), in_groups(GROUP)),
        heddles=loom.heddles,
        first_end=warp.first_end,
        shaft_1=loom.shaft_1,
    )


def _grouped(threading: Sequence[int]) -> Sequence[int]:
    """Return the threading as grouped by the author, or with its repeats found if written out."""
    if any(isinstance(item, Repeat) for item in threading.items):
        return threading
    return shortest(threading.values())
