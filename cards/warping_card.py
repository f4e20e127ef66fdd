"""The warping card: it stands beside the warping board or mill while the warp is wound."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from cards.calculation.rounding import whole_up
from cards.counted import Bracket, CountedList, counted_list, each_run
from cards.figures import Figures
from cards.heading import Heading, heading_of
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
    floating: int
    floating_yarns: tuple[ProjectYarn, ...]
    length: float
    length_given: bool
    width: float
    order: CountedList[ProjectYarn]
    strands: int
    bouts: tuple[Bout, ...]
    count_ties: tuple[int, ...]
    raddle: float
    choke: float
    first_side: str
    yarns: tuple[YarnShare, ...]
    figures: Figures

    @property
    def ends_a_trip(self) -> int:
        """Ends wound in one round trip: there and back with every strand."""
        return 2 * self.strands


def warping_card(project: Project) -> WarpingCard:
    """Return the warping card of a project."""
    warp, winding = project.warp, project.winding
    ties = count_ties(winding.raddle.value * project.sett.ends_total)
    order = counted_list(_in_ties(warp.order, sum(ties)).map(project.yarn), each_run, least=1)
    edges = warp.order.values()
    return WarpingCard(
        heading=heading_of(project, "Warping card"),
        ends=warp.ends,
        floating=warp.floating,
        floating_yarns=tuple(project.yarn(key) for key in (edges[0], edges[-1]) if warp.floating),
        length=warp.length,
        length_given=warp.length_given,
        width=warp.width_in_reed,
        order=order,
        strands=int(winding.strands.value),
        bouts=_bouts(project, order),
        count_ties=ties,
        raddle=winding.raddle.value,
        choke=winding.choke.value,
        first_side=warp.first_end,
        yarns=warp.by_yarn,
        figures=Figures(project.units),
    )


def _in_ties(order: Sequence[str], tie: int) -> Sequence[str]:
    """Return the order with long runs of one yarn parted into groups of `tie` ends.

    Nobody counts 229 ends at a stretch; a group is as many as lie between two count ties.
    """
    items: list[Run[str] | Repeat[str]] = []
    for item in order.items:
        run = item
        if isinstance(item, Repeat) and len(item.items) == 1 and isinstance(item.items[0], Run):
            run = Run(item.items[0].value, item.length)
        if isinstance(run, Run) and run.count >= _LONG * tie:
            times, rest = divmod(run.count, tie)
            items.append(Repeat((Run(run.value, tie),), times))
            items.extend([Run(run.value, rest)] if rest else [])
        else:
            items.append(run)
    return Sequence(tuple(items))


def count_ties(ends_a_group: float) -> tuple[int, ...]:
    """Return the ends between count ties, in turn: one tie for every group of the raddle.

    >>> count_ties(12.0), count_ties(12.5), count_ties(40 / 3)
    ((12,), (12, 13), (13, 13, 14))
    """
    share = Fraction(ends_a_group).limit_denominator(6)
    number = share.denominator
    marks = [
        whole_up(float(share * place)) if place == number else int(share * place)
        for place in range(number + 1)
    ]
    return tuple(after - before for before, after in pairwise(marks))


def _bouts(project: Project, order: CountedList[ProjectYarn]) -> tuple[Bout, ...]:
    warp = project.warp
    trip = 2 * int(project.winding.strands.value)
    marks = bout_marks(warp.ends, int(project.winding.bout.value), trip, sorted(_stops(order)))
    width = warp.width_in_reed / warp.ends
    return tuple(
        Bout(
            number=place,
            first=first + 1,
            last=last,
            width=(last - first) * width,
            trips=Fraction(last - first, trip),
            ends_where=_where(order, last),
        )
        for place, (first, last) in enumerate(pairwise(marks), start=1)
    )


def bout_marks(ends: int, largest: int, trip: int, stops: list[int]) -> list[int]:
    """Return the ends after which bouts end, from 0 to all `ends`: as few bouts as can be.

    Bouts end at `stops` (ends after which a colour or a repeat is done) if that takes no more of
    them; else they are even, in whole round trips of `trip` ends.

    >>> bout_marks(264, 120, 2, [24, 60, 96, 132, 168, 204, 240])
    [0, 96, 168, 264]
    >>> bout_marks(436, 120, 2, [])
    [0, 108, 218, 328, 436]
    """
    number = whole_up(ends / largest)
    best = _best_stops(ends, largest, number, [stop for stop in stops if 0 < stop < ends])
    if best is not None:
        return best
    even = [min(trip * round(ends * place / number / trip), ends) for place in range(number)]
    marks = [*even, ends]
    if max(after - before for before, after in pairwise(marks)) <= largest:
        return marks
    return [*(whole_up(ends * place / number) for place in range(number)), ends]


def _best_stops(ends: int, largest: int, number: int, stops: list[int]) -> list[int] | None:
    """Return marks at stops that part the warp into `number` bouts, the most even ones, or None."""
    share = ends / number
    # For every stop, the unevenness and the marks of the best way there with so many bouts.
    ways: dict[int, tuple[float, list[int]]] = {0: (0.0, [0])}
    for place in range(number):
        targets = stops if place + 1 < number else [ends]
        found: dict[int, tuple[float, list[int]]] = {}
        for target in targets:
            options = [
                (uneven + (target - before - share) ** 2, [*marks, target])
                for before, (uneven, marks) in ways.items()
                if 0 < target - before <= largest
            ]
            if options:
                found[target] = min(options)
        ways = found
    return ways[ends][1] if ends in ways else None


def _stops(order: CountedList[ProjectYarn]) -> set[int]:
    """Return the ends after which a line outside brackets, or a whole repeat, is done."""
    stops = {line.so_far for line in order.lines if line.so_far is not None}
    for bracket in order.brackets:
        if bracket.before is not None:
            stops.update(
                bracket.before + done * bracket.once for done in range(1, bracket.times + 1)
            )
    return stops


def _where(order: CountedList[ProjectYarn], last: int) -> str:
    """Say where in the winding order the end `last` lies, counted from 1."""
    if last == order.total:
        return "ends with the warp"
    for bracket in order.brackets:
        if bracket.before is not None and bracket.before < last <= bracket.before + bracket.total:
            return _where_in(bracket, order, last - bracket.before)
    before = 0
    for line in order.lines:
        if line.so_far is None:
            continue
        if last == line.so_far:
            return f"ends with line {line.number}"
        if line.so_far - line.count < last < line.so_far:
            before = last - line.so_far + line.count
            return f"ends after {before} ends of line {line.number}"
    return ""


def _where_in(bracket: Bracket, order: CountedList[ProjectYarn], inside: int) -> str:
    first = order.lines[bracket.first].number
    last = order.lines[bracket.last].number
    lines = f"line {first}" if first == last else f"lines {first} to {last}"
    done, rest = divmod(inside, bracket.once)
    if rest == 0:
        return f"ends with repeat {done} of {lines}"
    return f"ends in repeat {done + 1} of {lines}, {rest} ends into it"
