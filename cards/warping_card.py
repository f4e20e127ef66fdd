"""The warping card: it stands beside the warping board or mill while the warp is wound."""

from __future__ import annotations

import math
from bisect import bisect_left
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from cards.calculation.rounding import whole_up
from cards.cautions import WARPING, caution_on
from cards.counted import Bracket, CountedList, Counting, counted_list, each_run
from cards.figures import Figures
from cards.heading import Heading, loom_heading_of
from cards.project.model import Project, ProjectYarn, YarnShare
from cards.sequence import Repeat, Run, Sequence

# A run of one yarn of so many groups between count ties is counted in such groups.
_LONG = 3


@dataclass(frozen=True, slots=True)
class Bout:
    """One bout: its ends counted from 1, its width in the reed in mm, its round trips.

    `ends_where` says where in the colour order it ends.
    """

    number: int
    first: int
    last: int
    width: float
    trips: Fraction
    ends_where: str

    @property
    def ends(self) -> int:
        """How many ends the bout has."""
        return self.last - self.first + 1


@dataclass(frozen=True, slots=True)
class WarpingCard:
    """All that the warping card says. Lengths and widths in mm, masses in g."""

    heading: Heading
    ends: int
    ends_given: bool
    floating: int
    floating_yarns: tuple[ProjectYarn, ...]
    length: float
    length_given: bool
    width: float
    width_given: bool
    order: CountedList[ProjectYarn]
    strands: int
    bouts: tuple[Bout, ...]
    count_ties: tuple[int, ...]
    raddle: float
    choke: float
    first_side: str
    yarns: tuple[YarnShare, ...]
    caution: str
    figures: Figures

    @property
    def ends_a_trip(self) -> int:
        """Ends wound in one round trip: there and back with every strand."""
        return 2 * self.strands


def warping_card(project: Project) -> WarpingCard:
    """Return the warping card of a project."""
    warp, winding = project.warp, project.winding
    strands = int(winding.strands.value)
    ties = count_ties(winding.raddle.value * project.sett.ends_total, strands)
    counting: Counting[ProjectYarn] = Counting(each_run, least=1)
    order = counted_list(_in_ties(warp.order, sum(ties)).map(project.yarn), counting)
    edges = warp.order.values()
    return WarpingCard(
        heading=loom_heading_of(project, "Warping card"),
        ends=warp.ends,
        ends_given=warp.ends_given,
        floating=warp.floating,
        floating_yarns=tuple(project.yarn(key) for key in (edges[0], edges[-1]) if warp.floating),
        length=warp.length,
        length_given=warp.length_given,
        width=warp.width_in_reed,
        width_given=warp.width_given,
        order=order,
        strands=strands,
        bouts=_bouts(project, order),
        count_ties=ties,
        raddle=winding.raddle.value,
        choke=winding.choke.value,
        first_side=warp.first_end,
        yarns=warp.by_yarn,
        caution=caution_on(project, WARPING),
        figures=Figures(project.units),
    )


def _in_ties(order: Sequence[str], tie: int) -> Sequence[str]:
    """Return the order with long runs of one yarn parted into groups of `tie` ends.

    Nobody counts 229 ends at a stretch. The groups end where the count ties are, which are counted
    from the first end on, through all colours.
    """
    items: list[Run[str] | Repeat[str]] = []
    done = 0
    for item in order.items:
        run = item
        if isinstance(item, Repeat) and len(item.items) == 1 and isinstance(item.items[0], Run):
            run = Run(item.items[0].value, item.length)
        if isinstance(run, Run) and run.count >= _LONG * tie:
            items.extend(_run_in_ties(run, tie, -done % tie))
        else:
            items.append(run)
        done += item.length
    return Sequence(tuple(items))


def _run_in_ties(run: Run[str], tie: int, start: int) -> list[Run[str] | Repeat[str]]:
    """Return a run as `start` ends up to the next tie, whole groups, and the rest."""
    times, rest = divmod(run.count - start, tie)
    items: list[Run[str] | Repeat[str]] = [Run(run.value, start)] if start else []
    items.append(Repeat((Run(run.value, tie),), times))
    return [*items, Run(run.value, rest)] if rest else items


def count_ties(ends_a_group: float, bundle: int = 1) -> tuple[int, ...]:
    """Return the ends between count ties, in turn: one tie for every group of the raddle.

    Strands wound together stay together: ties come after whole bundles of `bundle` ends.

    >>> count_ties(12.0), count_ties(12.5), count_ties(40 / 3)
    ((12,), (12, 13), (13, 13, 14))
    >>> count_ties(30.0, bundle=4)
    (28, 32)
    """
    share = max(Fraction(1), Fraction(ends_a_group / bundle).limit_denominator(6))
    marks = [math.floor(share * place) for place in range(share.denominator + 1)]
    return tuple(bundle * (after - before) for before, after in pairwise(marks))


def ties_in_turn(ties: tuple[int, ...]) -> str:
    """Return in words after how many ends count ties come.

    >>> ties_in_turn((24,)), ties_in_turn((25, 25, 26))
    ('every 24 ends', '25, 25 and 26 ends in turn')
    """
    *before, last = map(str, ties)
    return f"{', '.join(before)} and {last} ends in turn" if before else f"every {last} ends"


def _bouts(project: Project, order: CountedList[ProjectYarn]) -> tuple[Bout, ...]:
    warp = project.warp
    trip = 2 * int(project.winding.strands.value)
    stops = _stops(order)
    marks = bout_marks(warp.ends, int(project.winding.bout.value), trip, sorted(stops))
    width = warp.width_in_reed / warp.ends
    return tuple(
        Bout(
            number=place,
            first=first + 1,
            last=last,
            width=(last - first) * width,
            trips=Fraction(last - first, trip),
            ends_where="ends with the warp" if last == warp.ends else _where(stops, last),
        )
        for place, (first, last) in enumerate(pairwise(marks), start=1)
    )


def bout_marks(ends: int, largest: int, trip: int, stops: list[int]) -> list[int]:
    """Return the ends after which bouts end, from 0 to all `ends`: as few bouts as can be.

    Bouts are whole round trips of `trip` ends, but for the last one. They end at `stops` (ends
    after which a colour is done) if that takes no more of them; else they are even.

    >>> bout_marks(264, 120, 2, [24, 60, 96, 132, 168, 204, 240])
    [0, 96, 168, 264]
    >>> bout_marks(436, 120, 2, [])
    [0, 108, 218, 328, 436]
    """
    step = max(trip, largest // trip * trip)
    number = 1 + max(0, whole_up((ends - largest) / step))
    whole = [stop for stop in stops if 0 < stop < ends and stop % trip == 0]
    best = _best_stops(ends, largest, number, whole)
    if best is not None:
        return best
    marks = [min(trip * round(ends * place / number / trip), ends) for place in range(number)]
    marks.append(ends)
    if max(after - before for before, after in pairwise(marks)) <= largest:
        return marks
    return [*(step * place for place in range(number)), ends]


def _best_stops(ends: int, largest: int, number: int, stops: list[int]) -> list[int] | None:
    """Return marks at stops that part the warp into `number` bouts, the most even ones, or None."""
    share = ends / number
    ways: list[dict[int, tuple[float, int]]] = [{0: (0.0, 0)}]
    for place in range(number):
        targets = stops if place + 1 < number else [ends]
        before = sorted(ways[-1])
        found: dict[int, tuple[float, int]] = {}
        for target in targets:
            near = before[bisect_left(before, target - largest) : bisect_left(before, target)]
            options = [(ways[-1][each][0] + (target - each - share) ** 2, each) for each in near]
            if options:
                found[target] = min(options)
        ways.append(found)
    if ends not in ways[-1]:
        return None
    marks = [ends]
    for way in reversed(ways[1:]):
        marks.append(way[marks[-1]][1])
    return marks[::-1]


def _stops(order: CountedList[ProjectYarn]) -> dict[int, str]:
    """Return the ends after which a line is done, also within repeats, and which line it is."""
    stops: dict[int, str] = {}
    for first, last in order.blocks():
        bracket = next((b for b in order.brackets if b.depth == 1 and b.first == first), None)
        if bracket is None:
            stops[order.lines[first].so_far or 0] = f"line {order.lines[first].number}"
            continue
        plain = all(b.depth == 1 or not first <= b.first <= last for b in order.brackets)
        for done in range(bracket.times):
            stops.update(_stops_in(bracket, order, done, plain=plain))
    return stops


def _stops_in(
    bracket: Bracket, order: CountedList[ProjectYarn], done: int, *, plain: bool
) -> dict[int, str]:
    """Return the stops in one repeat of an outer bracket, `done` repeats having gone before."""
    before = (bracket.before or 0) + done * bracket.once
    lines = order.lines[bracket.first : bracket.last + 1]
    stops: dict[int, str] = {}
    at = before
    for line in lines if plain else ():
        at += line.count
        stops[at] = f"line {line.number} in repeat {done + 1}"
    span = f"lines {lines[0].number} to {lines[-1].number}"
    if len(lines) == 1:
        span = f"line {lines[0].number}"
    stops[before + bracket.once] = f"repeat {done + 1} of {span}"
    return stops


def _where(stops: dict[int, str], last: int) -> str:
    """Say where in the winding order the end `last` lies, counted from 1."""
    if last in stops:
        return f"ends with {stops[last]}"
    before = max((stop for stop in stops if stop < last), default=0)
    if not before:
        return f"ends with end {last} of line 1"
    ends = last - before
    return f"ends {ends} end{'s' if ends > 1 else ''} after {stops[before]}"
