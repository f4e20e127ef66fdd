"""Every figure of a plan with which a number in a text may agree, by kind.

It is meant to be too many rather than too few: runs of a colour, repeats, sums of sections, what
the spec asked for. A number is held against the plan only when it agrees with none of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import accumulate
from typing import TypeVar

from cards.named_figures import plan_names
from cards.plan_names import PlanFigure
from cards.project import Project
from cards.sequence import Repeat, Run, Sequence
from cards.spec import Spec

T = TypeVar("T")
N = TypeVar("N", int, float)

# Sums of so many sections in a row at most; a hostile spec may have thousands.
_MOST_SECTIONS = 60


@dataclass(frozen=True, slots=True)
class PlanFacts:
    """Figures of a plan on all its looms: counts as they are, lengths mm, densities per mm, g.

    `sett` and `beat` are densities of ends and picks. `per_dent` is how many ends lie in any dent.
    `widths` are across the cloth or the warp, `lengths` all others.
    """

    ends: frozenset[int]
    picks: frozenset[int]
    lengths: tuple[float, ...]
    widths: tuple[float, ...]
    sett: tuple[float, ...]
    beat: tuple[float, ...]
    reeds: tuple[float, ...]
    per_dent: frozenset[int]
    shafts: frozenset[int]
    treadles: frozenset[int]
    bouts: frozenset[int]
    packages: frozenset[int]
    masses: tuple[float, ...]


def plan_facts(projects: Iterable[Project], spec: Spec) -> PlanFacts:
    """Return the figures of a project on all looms on which it was worked out."""
    projects = tuple(projects)
    kinds = [kind for project in projects for kind in project.kinds]
    figures = [each for project in projects for each in plan_names(project).figures.values()]
    sett, beat = _densities(figures)
    return PlanFacts(
        ends=frozenset({*_counts(figures, "ends"), *_ends(projects)}),
        picks=frozenset({*_counts(figures, "picks"), *_picks(kinds)}),
        lengths=(*_sizes(figures, across=False), *_lengths(kinds), *_asked_lengths(spec)),
        widths=(*_sizes(figures, across=True), *_widths(kinds), *_asked_widths(spec)),
        sett=sett,
        beat=beat,
        reeds=_values(figures, "reed"),
        per_dent=frozenset(
            ends
            for project in projects
            if project.sleying is not None
            for ends in (*project.sleying.per_dent(), *project.sleying.pattern)
        ),
        shafts=frozenset(_counts(figures, "shafts"))
        | {len(project.loom.threaded) for project in projects},
        treadles=frozenset(_counts(figures, "treadles")),
        bouts=frozenset(_counts(figures, "bouts")),
        packages=frozenset(_packages(projects)),
        masses=tuple(mass for project in projects for mass in _masses(project)),
    )


def _values(figures: Iterable[PlanFigure], measure: str) -> tuple[float, ...]:
    return tuple(each.value for each in figures if each.measure == measure)


def _sizes(figures: Iterable[PlanFigure], *, across: bool) -> tuple[float, ...]:
    return _values((each for each in figures if ("width" in each.name) == across), "length")


def _counts(figures: Iterable[PlanFigure], measure: str) -> list[int]:
    return [round(value) for value in _values(figures, measure)]


def _densities(figures: Iterable[PlanFigure]) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Return densities of ends and of picks."""
    dense = [each for each in figures if each.measure == "threads"]
    sett = tuple(each.value for each in dense if "sett" in each.name)
    return sett, tuple(each.value for each in dense if "sett" not in each.name)


def _ends(projects: Iterable[Project]) -> Iterator[int]:
    for project in projects:
        warp = project.warp
        yield from (warp.wound, warp.ends // 2, sum(warp.selvedges), *warp.selvedges)
        yield from _runs(warp.order)
        yield from project.loom.heddles
        for share in warp.by_yarn:
            yield from (share.threads + share.extra, share.threads + share.floating)
            yield share.threads + share.extra - share.floating
        extra = sum(share.extra for share in warp.by_yarn)
        yield warp.ends + extra


def _picks(kinds: Iterable[Project]) -> Iterator[int]:
    for kind in kinds:
        weft = kind.weft
        yield weft.picks + weft.sample_picks
        counts = [section.picks for section in weft.sections]
        yield from _sums(counts)
        yield from (count * weft.pieces for count in counts)
        for section in weft.sections[:_MOST_SECTIONS]:
            yield from _runs(section.weft)
            yield from _runs(section.sheds)
        for share in weft.by_yarn:
            each = share.threads // weft.pieces
            yield from (share.threads, each, share.threads + share.extra)


def _lengths(kinds: Iterable[Project]) -> Iterator[float]:
    for kind in kinds:
        sections = kind.weft.sections
        yield from _sums([section.finished for section in sections])
        yield from _sums([section.length for section in sections])
        washed = sum(section.finished for section in sections)
        tape = sum(section.length for section in sections)
        # With the hems turned, once or at both ends.
        hem = kind.weft.around.hem * (washed / tape if tape else 1.0)
        yield from (washed - hem, washed - 2 * hem)
        yield from (kind.warp.length / 2, kind.weft.pieces * washed)


def _widths(kinds: Iterable[Project]) -> Iterator[float]:
    """Yield half and twice the width, as of a tube, and that of one layer."""
    for kind in kinds:
        width = kind.warp.finished_width
        yield from (width / 2, width * 2, width / float(kind.warp.widths))


def _asked_lengths(spec: Spec) -> Iterator[float]:
    """Yield what the weaver asked for, which the plan comes near to."""
    cloth = spec.cloth
    fringe = cloth.fringe.length if cloth.fringe is not None else None
    sizes = [cloth.length, cloth.hem, cloth.gap, fringe]
    for piece in spec.pieces:
        sizes += [piece.length, piece.hem]
    yield from (size for size in sizes if size is not None)


def _asked_widths(spec: Spec) -> Iterator[float]:
    looms = (spec.loom, *spec.looms)
    sizes = [spec.cloth.width, spec.cloth.circumference, *(loom.width for loom in looms)]
    yield from (size for size in sizes if size is not None)


def _packages(projects: Iterable[Project]) -> Iterator[int]:
    for project in projects:
        counts = [total.need.packages for total in project.totals]
        known = [count for count in counts if count is not None]
        yield from (*known, sum(known))


def _masses(project: Project) -> Iterator[float]:
    bought = []
    for total in project.totals:
        need = total.need
        package = total.yarn.put_up.mass
        packages = need.packages * package if need.packages and package else 0.0
        bought.append(packages or need.buy)
        yield from (need.mass, need.buy, packages, package or 0.0, need.on_hand, need.left or 0.0)
        yield need.buy + need.on_hand
    yield from (sum(total.need.mass for total in project.totals), sum(bought))
    yield sum(total.need.buy for total in project.totals)


def _sums(counts: list[N]) -> Iterator[N]:
    """Yield the sums of neighbours, each alone among them."""
    counts = counts[:_MOST_SECTIONS]
    for first in range(len(counts)):
        yield from accumulate(counts[first:])


def _runs(sequence: Sequence[T]) -> Iterator[int]:
    """Yield the lengths of runs, groups and all their repeats, and what is reached after each."""
    done = 0
    for item in sequence.items:
        yield from _parts(item)
        done += item.length
        yield done


def _parts(item: Run[T] | Repeat[T]) -> Iterator[int]:
    yield item.length
    if isinstance(item, Repeat):
        yield item.once
        yield from accumulate(each.length for each in item.items)
        for each in item.items:
            yield from _parts(each)
