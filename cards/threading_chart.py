"""The threading chart: it stands on the castle while the ends are drawn through the heddles."""

from __future__ import annotations

from dataclasses import dataclass

from cards.counted import CountedList, Counting, clearer, counted_parts, in_groups
from cards.draft.shortest import shortest
from cards.heading import Heading, heading_of
from cards.layer_marks import LayerMark, fold_sides, layer_marks
from cards.project.model import Project
from cards.sequence import Repeat, Run, Sequence

# A group is threaded, checked and tied at once: four to eight ends (common practice).
GROUP = 8


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
        groups=_groups(project, group),
        heddles=loom.heddles,
        first_end=warp.first_end,
        shaft_1=loom.shaft_1,
        layers=layer_marks(project),
        folds=fold_sides(project),
    )


def _groups(project: Project, group: int) -> CountedList[int]:
    """Return the threading as the author grouped it, or with its repeats found if that is clearer.

    Selvedges stand apart, so that no repeat runs across them.
    """
    warp = project.warp
    first, body, last = parted(warp.threading, *warp.selvedges)
    # A box for every group that is threaded, tied and ticked at once, however many there are.
    counting: Counting[int] = Counting(in_groups(group), most=_MOST_BOXES)
    if not any(isinstance(item, Repeat) for item in body.items):
        body = clearer(shortest(body.values()), body, counting)
    other = "left" if warp.first_end == "right" else "right"
    parts = (f"{warp.first_end} selvedge", first), ("", body), (f"{other} selvedge", last)
    return counted_parts([part for part in parts if part[1].length], counting)


_MOST_BOXES = 400


def parted(
    threading: Sequence[int], first: int, last: int
) -> tuple[Sequence[int], Sequence[int], Sequence[int]]:
    """Return the selvedge of `first` ends, the body, and the selvedge of `last` ends."""
    items = list(threading.items)
    edges: tuple[list[Run[int] | Repeat[int]], ...] = ([], [])
    for edge, length, at in ((edges[0], first, 0), (edges[1], last, -1)):
        while sum(item.length for item in edge) < length:
            edge.insert(0 if at else len(edge), items.pop(at))
    return Sequence(tuple(edges[0])), Sequence(tuple(items)), Sequence(tuple(edges[1]))
