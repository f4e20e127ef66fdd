"""The sley card: it stands at the reed while the ends are drawn through its dents."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import accumulate

from cards.calculation.dents import Edge, Pattern
from cards.calculation.first_dent import Check, FirstDent, checks_of, empty_dents, first_dent
from cards.calculation.sley import Sleying
from cards.counted import boxes_for
from cards.figures import Figures
from cards.heading import Heading, loom_heading_of
from cards.layer_marks import LayerMark, layer_marks
from cards.project.in_reed import InReed
from cards.project.model import Project

# A box to tick stands for so many ends at least: the handiest number first, then what saves a page.
ENDS_IN_A_BOX = (20, 40, 60)
# A card has no more boxes than this.
MOST_BOXES = 48


@dataclass(frozen=True, slots=True)
class ReedEdge:
    """An edge of the warp in the reed: its side, the dents that differ, and what stands beyond.

    `dents` are the outermost first; `ends` how many ends they hold. `assumed` tells that opening it
    is customary and not the weaver's own choice.
    """

    side: str
    edge: Edge
    fold: bool
    line: bool
    floating: bool
    assumed: bool


@dataclass(frozen=True, slots=True)
class Stretch:
    """Dents to sley in one go, with a box to tick: their number and ends, and both so far.

    `kind` is `first` or `last` for an edge that differs, else `body`.
    """

    kind: str
    dents: int
    ends: int
    dents_so_far: int
    ends_so_far: int


@dataclass(frozen=True, slots=True)
class SleyCard:
    """All that the sley card says. Lengths in mm, densities per mm.

    `per_dent` has the ends of each dent from the first end's side; `lanes` the layer of each end,
    nothing for a cloth of one layer. `edges` are those of the first end and of the last one.
    `whole` tells whether every full dent of the body, and of the edges, holds all layers alike.
    """

    heading: Heading
    figures: Figures
    ends: int
    ends_given: bool
    floating: int
    pattern: Pattern
    reed: float
    dents: int
    width: float
    width_given: bool
    true_sett: float
    error: float
    remainder: int
    first_end: str
    first: FirstDent
    empty: tuple[int, int] | None
    reed_length: float | None
    per_dent: tuple[int, ...]
    lanes: tuple[int, ...]
    edges: tuple[ReedEdge, ReedEdge]
    stretches: tuple[Stretch, ...]
    checks: tuple[Check, ...]
    layers: tuple[LayerMark, ...]
    whole: tuple[bool, bool]

    def ends_in(self, dent: int) -> range:
        """Return the ends in a dent, both counted from 0."""
        before = sum(self.per_dent[:dent])
        return range(before, before + self.per_dent[dent])


def sley_card(project: Project, in_a_box: int = ENDS_IN_A_BOX[0]) -> SleyCard:
    """Return the sley card of a project, with a box to tick for `in_a_box` ends at least.

    Raises ValueError where the loom has no reed.
    """
    sleying, reed = project.sleying, project.in_reed
    if sleying is None or reed is None:
        raise ValueError("the loom has no reed")
    warp = project.warp
    per_dent, lanes = sleying.per_dent(), _lanes(project)
    empty = empty_dents(sleying.dents, sleying.reed, reed.length) if reed.length else None
    return SleyCard(
        heading=loom_heading_of(project, "Sley card"),
        figures=Figures(project.units),
        ends=warp.ends,
        ends_given=warp.ends_given,
        floating=warp.floating,
        pattern=sleying.pattern,
        reed=float(sleying.reed),
        dents=sleying.dents,
        width=warp.width_in_reed,
        width_given=warp.width_given,
        true_sett=sleying.true_sett_per_mm,
        error=sleying.error,
        remainder=sleying.remainder,
        first_end=warp.first_end,
        first=first_dent(sleying.dents, sleying.reed),
        empty=empty,
        reed_length=reed.length,
        per_dent=per_dent,
        lanes=lanes,
        edges=_edges(sleying, reed, warp.first_end),
        stretches=stretches_of(sleying, in_a_box),
        checks=checks_of(sleying),
        layers=layer_marks(project),
        whole=_whole(sleying, per_dent, lanes),
    )


def stretches_of(sleying: Sleying, in_a_box: int = ENDS_IN_A_BOX[0]) -> tuple[Stretch, ...]:
    """Return what is sleyed in one go: edges that differ, and the body in handy shares."""
    cycle = len(sleying.pattern)
    turns = -(-sleying.body.dents // cycle)
    parts = [("first", len(sleying.first.dents))]
    if turns:
        each = cycle * boxes_for(turns, sum(sleying.pattern), in_a_box, MOST_BOXES).each
        body = sleying.body.dents
        parts += [("body", min(each, body - done)) for done in range(0, body, each)]
    parts.append(("last", len(sleying.last.dents)))
    reached = (0, *accumulate(sleying.per_dent()))
    stretches, at = [], 0
    for kind, dents in parts:
        if dents:
            after = at + dents
            ends = reached[after] - reached[at]
            stretches.append(Stretch(kind, dents, ends, after, reached[after]))
            at = after
    return tuple(stretches)


def _edges(sleying: Sleying, reed: InReed, first_end: str) -> tuple[ReedEdge, ReedEdge]:
    other = "left" if first_end == "right" else "right"
    first, last = (
        ReedEdge(side, edge, fold, fold and reed.line, reed.floating, fold and reed.assumed)
        for side, edge, fold in zip(
            (first_end, other), (sleying.first, sleying.last), reed.folds, strict=True
        )
    )
    return first, last


def _lanes(project: Project) -> tuple[int, ...]:
    """Return the layer of every end where most are parted, nothing for a cloth of one layer."""
    cloth = project.cloth
    if cloth.lanes < 2:
        return ()
    lanes = [0] * project.warp.ends
    for lane, layer in zip(cloth.main.lanes, cloth.main.layers, strict=True):
        for end in layer.ends:
            lanes[end] = lane
    return tuple(lanes)


def _whole(
    sleying: Sleying, per_dent: tuple[int, ...], lanes: tuple[int, ...]
) -> tuple[bool, bool]:
    """Return whether layers are whole in every full dent of the body, and in those of the edges.

    A dent of the edges differs where it does not hold all layers in the shares of the whole warp.
    """
    if not lanes:
        return True, True
    layers = sorted(set(lanes))
    marks = (0, *accumulate(per_dent))
    dents = [
        tuple(lanes[marks[dent] : marks[dent + 1]].count(lane) for lane in layers)
        for dent in range(len(per_dent))
    ]
    round_of = min((each for each in dents if all(each)), key=sum, default=None)
    if round_of is None:
        return False, False
    first, last = len(sleying.first.dents), len(sleying.last.dents)
    body = dents[first : len(dents) - last]
    if sleying.remainder:
        body = body[: -1 - sleying.body.empty]
    edges = dents[:first] + dents[len(dents) - last :]
    return _alike(body, round_of), _alike(edges, round_of)


def _alike(dents: list[tuple[int, ...]], one: tuple[int, ...]) -> bool:
    """Whether all dents that are not empty hold the layers in the same shares as `one` does."""
    return all(
        each[place] * sum(one) == one[place] * sum(each)
        for each in set(dents)
        for place in range(len(one))
    )
