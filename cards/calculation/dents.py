"""How a warp is laid into the dents of a reed: its two edges and the body between them.

Normal selvedges may be doubled: their outermost ends stand twice as close. At a fold the weft draws
the cloth together, so the dents there hold an end fewer, or where each holds a single end, one dent
stays empty before the outermost end. Common practice, no source; a weaver's account of a fold is
the only one that was read.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate, pairwise
from typing import Final, Literal

Pattern = tuple[int, ...]
EdgeKind = Literal["plain", "doubled", "opened"]


@dataclass(frozen=True, slots=True)
class Edge:
    """The dents at an edge that are sleyed otherwise than the body, the outermost first."""

    kind: EdgeKind = "plain"
    dents: tuple[int, ...] = ()

    @property
    def ends(self) -> int:
        """How many ends these dents hold."""
        return sum(self.dents)


PLAIN: Final = Edge()


@dataclass(frozen=True, slots=True)
class Body:
    """The dents between the edges: how many, where in the pattern they begin, and the last one.

    `remainder` is how many ends the last dent that holds any has if the pattern asked for more,
    else 0. `empty` dents of the pattern follow it, so that an edge stands at its distance.
    """

    dents: int
    start: int
    remainder: int
    empty: int = 0

    def per_dent(self, pattern: Pattern) -> tuple[int, ...]:
        """Return the ends in each dent of the body."""
        turned = pattern[self.start :] + pattern[: self.start]
        filled = self.dents - self.empty
        full = (turned * -(-self.dents // len(turned)))[:filled] if turned else ()
        if self.remainder:
            full = (*full[:-1], self.remainder)
        return full + (0,) * self.empty


def mean_of(pattern: Pattern) -> Fraction:
    """Return the ends per dent on average, exactly."""
    return Fraction(sum(pattern), len(pattern))


def shortest(pattern: Pattern) -> Pattern:
    """Return the shortest pattern that a pattern repeats.

    >>> shortest((1, 2, 1, 2))
    (1, 2)
    """
    dents = len(pattern)
    turns = (n for n in range(1, dents + 1) if pattern[:n] * (dents // n) == pattern)
    return pattern[: next(turns, dents)]


def doubled_edge(pattern: Pattern, ends: int) -> Edge:
    """Return an edge whose `ends` outermost ends stand as nearly twice as close as dents allow.

    >>> doubled_edge((1,), 4).dents, doubled_edge((2,), 4).dents, doubled_edge((0, 1), 3).dents
    ((2, 2), (4,), (1, 1, 1))
    """
    if ends < 1:
        return PLAIN
    exact = ends / (2 * mean_of(pattern))
    dents = max(1, int(exact + Fraction(1, 2)))
    # Rounded up, so that the fuller dents come first, at the very edge.
    marks = [-(-ends * dent // dents) for dent in range(dents + 1)]
    return Edge("doubled", tuple(after - before for before, after in pairwise(marks)))


def opened_edge(pattern: Pattern, dents: int, multiple: int = 1) -> Edge:
    """Return an edge whose `dents` outermost dents hold fewer ends than the pattern asks for.

    A dent with more than `multiple` ends, one of every layer, loses so many; where no dent has
    more, each loses a single end. Where no dent of the pattern holds more than one end, a dent is
    skipped before the outermost end.

    >>> opened_edge((2,), 4).dents, opened_edge((4,), 2, 2).dents, opened_edge((0, 1), 4).dents
    ((1, 1, 1, 1), (2, 2), (1, 0))
    """
    if dents < 1:
        return PLAIN
    if max(pattern) < 2:
        return Edge("opened", (1, 0))
    fewer = multiple if max(pattern) > multiple else 1
    start = _first_full(pattern, 0)
    outermost = [pattern[dent % len(pattern)] for dent in range(start, start + dents)]
    return Edge("opened", tuple(ends - fewer if ends > fewer else ends for ends in outermost))


def fitting(edge: Edge, ends: int) -> Edge:
    """Return the edge with no more dents than hold `ends` ends: a narrow warp has no room for it.

    >>> fitting(Edge("doubled", (2, 2)), 3).dents
    (2,)
    """
    kept = sum(1 for reached in accumulate(edge.dents) if reached <= ends)
    if kept == len(edge.dents):
        return edge
    dents = edge.dents[:kept]
    return Edge(edge.kind, dents) if any(dents) else PLAIN


def lay_body(pattern: Pattern, ends: int, first: Edge, last: Edge) -> Body:
    """Return the body of a warp with `ends` ends beside those of its edges.

    The pattern begins anew behind an edge, so that it is read as it is written; at the first dent
    that holds an end, unless a dent is to be skipped there.
    """
    skips = first.kind == "doubled" or first.dents == (1, 0)
    start = 0 if skips else _first_full(pattern, 0)
    turned = pattern[start:] + pattern[:start]
    dents, remainder = _reach(turned, ends)
    empty = _empty_after(turned, dents) if last.kind != "plain" and dents else 0
    return Body(dents + empty, start, remainder, empty)


def _reach(pattern: Sequence[int], ends: int) -> tuple[int, int]:
    """Return after how many dents of a pattern `ends` ends are in, and what the last holds short.

    No empty dents follow the last end.
    """
    if not ends:
        return 0, 0
    # One end at least is left to be looked for in the last turn of the pattern.
    turns, rest = divmod(ends - 1, sum(pattern))
    rest += 1
    for place, reached in enumerate(accumulate(pattern)):
        if reached >= rest:
            short = pattern[place] - (reached - rest) if reached > rest else 0
            return turns * len(pattern) + place + 1, short
    raise AssertionError("a turn of the pattern holds the rest")


def _first_full(pattern: Sequence[int], start: int) -> int:
    """Return the place of the first dent that holds an end, at or after `start`."""
    return next(place for place in range(start, len(pattern)) if pattern[place])


def _empty_after(pattern: Sequence[int], dents: int) -> int:
    """Return how many empty dents the pattern has after its first `dents`."""
    empty = 0
    while not pattern[(dents + empty) % len(pattern)]:
        empty += 1
    return empty
