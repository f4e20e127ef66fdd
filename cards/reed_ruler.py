"""The rulers as wide as the warp: one for the reed, dent by dent, and one for the raddle.

Both are read from the side of the first end, and their middles are laid on the middle of the loom.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate, groupby

from cards.calculation.dents import Edge
from cards.calculation.sley import Sleying, pattern_text
from cards.figures import Figures
from cards.heading import Heading, loom_heading_of
from cards.project.model import Project
from cards.warping_card import count_ties


@dataclass(frozen=True, slots=True)
class RulerMark:
    """A mark `at` mm from the outer wire of the first end's dent, and what it is in words."""

    at: float
    words: str


@dataclass(frozen=True, slots=True)
class ReedRule:
    """The ruler for the reed. `reed` is dents per mm, `ends_after` the ends in so many dents.

    `parts` say from where on how many ends are in a dent, in the order of the dents.
    """

    reed: Fraction
    dents: int
    ends_after: tuple[int, ...]
    parts: tuple[RulerMark, ...]

    @property
    def length(self) -> float:
        """How wide the warp is in the reed, in mm."""
        return self.at(self.dents)

    def at(self, dent: int) -> float:
        """Return where the wire after `dent` dents is, in mm from the first end's side."""
        return float(dent / self.reed)


@dataclass(frozen=True, slots=True)
class RaddleRule:
    """The ruler for the raddle: its spaces of `spacing` mm, and how many ends go into each."""

    spacing: float
    ends: tuple[int, ...]

    @property
    def length(self) -> float:
        """How wide the spaces are together, in mm."""
        return self.spacing * len(self.ends)

    @property
    def ends_after(self) -> tuple[int, ...]:
        """The ends so far after each space."""
        return tuple(accumulate(self.ends))


@dataclass(frozen=True, slots=True)
class ReedRuler:
    """All that the sheet of rulers says. `first_end` is the side of the first end.

    `folds` tells whether there is a fold at the side of the first end, and at the other one;
    `floating` is how many selvedges float beyond the edges, and lie in dents of their own.
    """

    heading: Heading
    figures: Figures
    ends: int
    first_end: str
    folds: tuple[bool, bool]
    floating: int
    reed: ReedRule
    raddle: RaddleRule


def reed_ruler(project: Project) -> ReedRuler:
    """Return the rulers of a project. Raises ValueError where the loom has no reed."""
    sleying, reed = project.sleying, project.in_reed
    if sleying is None or reed is None:
        raise ValueError("the loom has no reed")
    warp = project.warp
    return ReedRuler(
        heading=loom_heading_of(project, "Reed and raddle rulers"),
        figures=Figures(project.units),
        ends=warp.ends,
        first_end=warp.first_end,
        folds=reed.folds,
        floating=warp.floating,
        reed=ReedRule(
            reed=sleying.reed,
            dents=sleying.dents,
            ends_after=(0, *accumulate(sleying.per_dent())),
            parts=_parts(sleying),
        ),
        raddle=raddle_rule(project),
    )


def raddle_rule(project: Project) -> RaddleRule:
    """Return the spaces of the raddle that the warp fills, as the count ties part it."""
    spacing = project.winding.raddle.value
    ties = count_ties(spacing * project.sett.ends_total, bundle=int(project.winding.strands.value))
    ends: list[int] = []
    left = project.warp.ends
    while left > 0:
        ends.append(min(left, ties[len(ends) % len(ties)]))
        left -= ends[-1]
    return RaddleRule(spacing, tuple(ends))


def _parts(sleying: Sleying) -> tuple[RulerMark, ...]:
    """Return from where on how many ends are in a dent."""
    first, last = len(sleying.first.dents), len(sleying.last.dents)
    parts: list[tuple[int, str]] = []
    if first:
        parts.append((0, _edge_words(sleying.first, outermost_first=True)))
    body = sleying.body
    if body.dents:
        pattern = sleying.pattern[body.start :] + sleying.pattern[: body.start]
        words = pattern_text(pattern) if len(pattern) > 1 else f"{pattern[0]}"
        parts.append((first, f"from here {words} in a dent"))
        if body.remainder:
            at = first + body.dents - body.empty - 1
            parts.append((at, f"only {body.remainder} in this dent"))
        if body.empty:
            parts.append((first + body.dents - body.empty, f"{body.empty} left empty"))
    if last:
        parts.append((sleying.dents - last, _edge_words(sleying.last, outermost_first=False)))
    return tuple(RulerMark(float(dent / sleying.reed), words) for dent, words in parts)


def _edge_words(edge: Edge, *, outermost_first: bool) -> str:
    """Return the dents of an edge in the order in which they are met."""
    dents = edge.dents if outermost_first else edge.dents[::-1]
    runs = [(ends, len(list(same))) for ends, same in groupby(dents)]
    words = (
        f"{ends} in each of {number} dents" if number > 1 else f"{ends} in one dent"
        for ends, number in runs
    )
    return f"from here {', then '.join(words)}"
