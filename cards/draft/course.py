"""The course of the shuttles through the layers of a piece, section by section.

Joined layers have one shuttle, which goes down through them and back, or round a tube; layers that
are not joined have one each. Every shuttle lies where it last came out: a section begins with the
pick that its cloth would have next, so that nothing is cut off and no side is left out.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np

from cards.cloth.weft_path import Flags, Numbers, ShuttlePlan, Side, WeftPath, follow, other_side
from cards.draft.join_plan import Group, JoinPlan

# A pick through all layers at once.
ALL: int = -1

# A layer, and the side from which the shuttle weaves through it.
Step = tuple[int, Side]


@dataclass(frozen=True, slots=True)
class CourseSection:
    """A section: its picks, its joins, and the yarn of each layer's weft.

    `order`, if any, has the yarn of every pick instead. `ratio` is how many picks layers that are
    not joined have in a round, one each by default.
    """

    picks: int
    joins: JoinPlan
    wefts: tuple[str, ...]
    order: tuple[str, ...] = ()
    ratio: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Course:
    """The way of all shuttles through a piece; arrays have shape (picks,).

    `layers` is the layer of each pick, from 0, or ALL. `visits` says how often its layer was woven
    before, since the layers were last woven together; `spells` counts those times. `yarns` are
    those of the shuttles, `starts` the sides at which they start.
    """

    layers: Numbers
    visits: Numbers
    spells: Numbers
    shuttles: Numbers
    from_right: Flags
    yarns: tuple[str, ...]
    starts: tuple[Side, ...]

    def plan(self, first_end: Side) -> ShuttlePlan:
        """Return the shuttles and sides of all picks."""
        return ShuttlePlan(self.shuttles, self.from_right, first_end)


@dataclass(frozen=True, slots=True)
class Joint:
    """Where the weft joins two layers at one side.

    `visits` pairs the picks of `upper` and `lower`, by their number within their layers, between
    which the weft passes.
    """

    upper: int
    lower: int
    side: Side
    visits: tuple[tuple[int, int], ...]


def round_of_picks(joins: JoinPlan, ratio: Sequence[int]) -> tuple[int, ...]:
    """Return the layers of the picks once through, each group's shuttle back where it was.

    Every joined layer is woven equally often.
    """
    if joins.closed:
        return (ALL, ALL)
    picks: list[int] = []
    for group in joins.groups:
        picks += [
            group.layers[step % len(group.layers)] for step in range(_turn(joins, group, ratio))
        ]
    return tuple(picks)


def _turn(joins: JoinPlan, group: Group, ratio: Sequence[int]) -> int:
    """Return the picks of a group in one round of the whole section."""
    to_and_fro = any(each.folds and not each.ring for each in joins.groups)
    if group.folds:
        return len(group.layers) * (2 if to_and_fro else 1)
    return ratio[group.layers[0]] if not joins.joined else 2 if to_and_fro else 1


def picks_of_repeat(joins: JoinPlan, ratio: Sequence[int], lift_cycles: Sequence[int]) -> int:
    """Return after how many picks all comes again: sheds, and the sides of the shuttles.

    `lift_cycles` is the number of sheds after which the weave of each layer repeats.
    """
    order = round_of_picks(joins, ratio)
    if joins.closed:
        return len(order)
    times = 1
    for layer, sheds in enumerate(lift_cycles):
        picks = order.count(layer)
        times = math.lcm(times, sheds // math.gcd(sheds, picks))
    for group in joins.groups:
        picks = _turn(joins, group, ratio)
        times = math.lcm(times, 2 // math.gcd(2, picks))
    return len(order) * times


def follow_sections(sections: Sequence[CourseSection], start: Side) -> Course:
    """Return the course through sections woven one after another; shuttles start at `start`.

    >>> from cards.draft.join_plan import plan_of
    >>> bag = CourseSection(4, plan_of(2, "left"), ("sand", "sand"))
    >>> follow_sections([bag], "right").layers.tolist()
    [0, 1, 1, 0]
    """
    bench = _Bench(start)
    for section in sections:
        bench.weave(section)
    return Course(
        layers=np.array(bench.layers, dtype=np.intp),
        visits=np.array(bench.visits, dtype=np.intp),
        spells=np.array(bench.spells, dtype=np.intp),
        shuttles=np.array(bench.shuttles, dtype=np.intp),
        from_right=np.array(bench.from_right, dtype=np.bool_),
        yarns=tuple(each.yarn for each in bench.all),
        starts=(start,) * len(bench.all),
    )


def path_of(course: Course, first_end: Side) -> WeftPath:
    """Return the way of the weft through the layers of the course, ALL counting as one more."""
    return follow(course.layers, course.plan(first_end))


def joints(course: Course, spell: int, lift_cycles: Sequence[int]) -> tuple[Joint, ...]:
    """Return where layers are joined in one spell, those that join the uppermost layers first.

    Visits are told within the cycles of the layers' sheds.
    """
    path = path_of(course, "right")
    before, after = path.before, path.after
    mine = path.passing & (course.spells[before] == spell) & (course.spells[after] == spell)
    mine &= (path.layers[before] != ALL) & (path.layers[after] != ALL)
    before, after, right = before[mine], after[mine], path.at_right[mine]
    swap = path.layers[before] > path.layers[after]
    upper, lower = np.where(swap, after, before), np.where(swap, before, after)
    cycles = np.array(lift_cycles, dtype=np.intp)
    found = np.stack(
        (
            path.layers[upper],
            path.layers[lower],
            right,
            course.visits[upper] % cycles[path.layers[upper]],
            course.visits[lower] % cycles[path.layers[lower]],
        )
    )
    pairs: dict[tuple[int, int, Side], list[tuple[int, int]]] = {}
    for one, two, at_right, first, second in np.unique(found, axis=1).T.tolist():
        side: Side = "right" if at_right else "left"
        pairs.setdefault((one, two, side), []).append((first, second))
    return tuple(Joint(*where, tuple(visits)) for where, visits in sorted(pairs.items()))


@dataclass(slots=True)
class _Shuttle:
    number: int
    yarn: str
    side: Side
    last: Step | None = None


@dataclass(slots=True)
class _Way:
    """Where a group's shuttle goes: round and round through `steps`, next the one at `place`."""

    group: Group
    steps: tuple[Step, ...]
    place: int


@dataclass(slots=True)
class _Bench:
    """The half-woven piece."""

    start: Side
    all: list[_Shuttle] = field(default_factory=list)
    layers: list[int] = field(default_factory=list)
    visits: list[int] = field(default_factory=list)
    spells: list[int] = field(default_factory=list)
    shuttles: list[int] = field(default_factory=list)
    from_right: list[bool] = field(default_factory=list)
    woven: dict[int, int] = field(default_factory=dict)
    spell: int = 0

    def weave(self, section: CourseSection) -> None:
        if section.joins.closed:
            self._closed(section)
        else:
            self._layered(section)

    def _closed(self, section: CourseSection) -> None:
        taken: dict[tuple[int, str], _Shuttle] = {}
        whole = Group((ALL,))
        for pick in range(section.picks):
            yarn = section.order[pick] if section.order else section.wefts[0]
            shuttle = self._shuttle(0, whole, yarn, taken)
            self._pick(shuttle, ALL)

    def _layered(self, section: CourseSection) -> None:
        if ALL in self.woven:
            self.spell += 1
            self.woven.clear()
        groups = section.joins.groups
        taken: dict[tuple[int, str], _Shuttle] = {}
        if not section.order:
            self._keep_to_their_cloth(section, taken)
        ways: dict[int, _Way] = {}
        for pick, number in zip(range(section.picks), _turns(section), strict=False):
            group = groups[number]
            yarn = section.order[pick] if section.order else section.wefts[group.layers[0]]
            shuttle = self._shuttle(number, group, yarn, taken)
            if number not in ways:
                ways[number] = _entered(group, shuttle)
            way = ways[number]
            self._pick(shuttle, way.steps[way.place % len(way.steps)][0])
            way.place += 1

    def _keep_to_their_cloth(
        self, section: CourseSection, taken: dict[tuple[int, str], _Shuttle]
    ) -> None:
        """Give each group the shuttle that wove in it last, before others take what is left."""
        for number, group in enumerate(section.joins.groups):
            yarn = section.wefts[group.layers[0]]
            for shuttle in self.all:
                inside = shuttle.last is not None and shuttle.last[0] in group.layers
                if inside and shuttle.yarn == yarn and (number, yarn) not in taken:
                    taken[number, yarn] = shuttle

    def _shuttle(
        self, number: int, group: Group, yarn: str, taken: dict[tuple[int, str], _Shuttle]
    ) -> _Shuttle:
        key = number, yarn
        if key not in taken:
            used = {each.number for each in taken.values()}
            free = [each for each in self.all if each.yarn == yarn and each.number not in used]
            free.sort(key=lambda each: each.last is None or each.last[0] not in group.layers)
            if not free:
                free = [_Shuttle(len(self.all), yarn, self.start)]
                self.all.append(free[0])
            taken[key] = free[0]
        return taken[key]

    def _pick(self, shuttle: _Shuttle, layer: int) -> None:
        self.layers.append(layer)
        self.visits.append(self.woven.get(layer, 0))
        self.woven[layer] = self.visits[-1] + 1
        self.spells.append(self.spell)
        self.shuttles.append(shuttle.number)
        self.from_right.append(shuttle.side == "right")
        shuttle.last = (layer, shuttle.side)
        shuttle.side = other_side(shuttle.side)


def _turns(section: CourseSection) -> Iterator[int]:
    """Yield the group of each pick, for ever."""
    ratio = section.ratio or (1,) * len(section.wefts)
    once = [
        number
        for number, group in enumerate(section.joins.groups)
        for _ in range(_turn(section.joins, group, ratio))
    ]
    while True:
        yield from once


def _entered(group: Group, shuttle: _Shuttle) -> _Way:
    """Return the way of a group, to be entered as its shuttle lies.

    The shuttle goes on as if it had woven this cloth before; if it comes from elsewhere it begins
    in the first layer that it can weave from its side.
    """
    ways = _cycles(group)
    for steps in ways:
        if shuttle.last in steps:
            return _Way(group, steps, steps.index(shuttle.last) + 1)
    for steps in ways:
        first = (group.layers[0], shuttle.side)
        if first in steps:
            return _Way(group, steps, steps.index(first))
    raise AssertionError("every layer can be woven from both sides")


def _cycles(group: Group) -> list[tuple[Step, ...]]:
    """Return the ways round: there and back through a flat cloth, either way round a ring."""
    if not group.folds:
        layer = group.layers[0]
        return [((layer, "right"), (layer, "left"))]
    side = other_side(group.folds[0])
    there: list[Step] = []
    for layer in group.layers:
        there.append((layer, side))
        side = other_side(side)
    back: list[Step] = [(layer, other_side(side)) for layer, side in reversed(there)]
    if group.ring:
        return [tuple(there), (back[-1], *back[:-1])]
    return [tuple(there + back)]
