"""The cords of a tie-up, to be cut, tied and counted; and what treadles pressed together do.

A treadle is tied to lamms, of which each hangs under one shaft. Rising-shed and sinking-shed looms
have one set of them, a countermarch two, upper and lower: one set raises, the other sinks.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from cards.loom.pressing import Action, Treadle, press
from cards.project.at_the_loom import LoomPlan
from cards.project.model import Project

Way = Literal["rise", "sink"]


@dataclass(frozen=True, slots=True)
class TiedTreadle:
    """A treadle and its cords: the shafts tied to rise and to sink, and the picks that press it.

    `alone` says whether it is ever pressed alone; `raises` are the shafts that then rise, `others`
    the treadles that are pressed with it. With `look` it weaves nothing, and only raises upper
    layers to look underneath.
    """

    number: int
    rise: tuple[int, ...]
    sink: tuple[int, ...]
    raises: tuple[int, ...]
    alone: bool
    others: tuple[int, ...]
    picks: int
    look: bool = False

    @property
    def cords(self) -> int:
        """How many cords the treadle has."""
        return len(self.rise) + len(self.sink)


@dataclass(frozen=True, slots=True)
class LammSet:
    """A set of lamms, one under each shaft: what tied shafts do, and how many cords go to it."""

    name: Literal["lamms", "upper lamms", "lower lamms"]
    way: Way
    cords: int


@dataclass(frozen=True, slots=True)
class Pressed:
    """Treadles pressed for a pick: the threaded shafts that they raise and sink, and its picks.

    On a countermarch `torn` are shafts that they would pull both ways, `still` shafts that none of
    them moves; neither is ever so in a tie-up that can be woven.
    """

    treadles: tuple[int, ...]
    raises: tuple[int, ...]
    sinks: tuple[int, ...]
    picks: int
    torn: tuple[int, ...]
    still: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class CordPlan:
    """All cords of a loom.

    `places` is how many treadles lie side by side, tied or free. `lamms` are the sets from the top
    down. `pressed` are the different presses of a piece in order of first use. `proved` says how
    sure it is that two treadles are pressed together as seldom as can be, as in `LoomPlan`.
    """

    treadles: tuple[TiedTreadle, ...]
    places: int
    lamms: tuple[LammSet, ...]
    pressed: tuple[Pressed, ...]
    own: bool
    proved: str

    @property
    def cords(self) -> int:
        """Cords in all."""
        return sum(treadle.cords for treadle in self.treadles)

    @property
    def together(self) -> tuple[Pressed, ...]:
        """The presses of several treadles at once."""
        return tuple(each for each in self.pressed if len(each.treadles) > 1)

    @property
    def clean(self) -> bool:
        """Whether every press moves every shaft one way."""
        return not any(each.torn or each.still for each in self.pressed)


def cord_plan(project: Project, action: Action) -> CordPlan:
    """Return the cords of a loom whose treadles are tied."""
    loom = project.loom
    uses = Counter(project.draft.treadling)
    by_number = {each.number: each for each in loom.tied}
    pressed = tuple(
        _pressed(tuple(sorted(shed)), picks, by_number, loom.threaded, action)
        for shed, picks in uses.items()
    )
    raises = {each.number: each.rise for each in loom.moved}
    treadles = tuple(
        TiedTreadle(
            number=each.number,
            rise=tuple(sorted(each.rise)),
            sink=tuple(sorted(each.sink)),
            raises=tuple(sorted(raises[each.number])),
            alone=each.number in loom.looks or frozenset({each.number}) in uses,
            others=_others(each.number, uses),
            picks=sum(picks for shed, picks in uses.items() if each.number in shed),
            look=each.number in loom.looks,
        )
        for each in sorted(loom.tied, key=lambda each: each.number)
    )
    places = max(loom.treadles or 0, treadles[-1].number)
    return CordPlan(treadles, places, _lamms(loom, action), pressed, loom.own, loom.proved)


def _others(number: int, sheds: Iterable[frozenset[int]]) -> tuple[int, ...]:
    """Return the treadles that are ever pressed with one."""
    found = {each for shed in sheds if number in shed for each in shed}
    return tuple(sorted(found - {number}))


def _pressed(
    numbers: tuple[int, ...],
    picks: int,
    tied: dict[int, Treadle],
    threaded: frozenset[int],
    action: Action,
) -> Pressed:
    done = press([tied[number] for number in numbers], threaded, action)
    moves = (done.raised, done.sunk, done.torn, done.still)
    raises, sinks, torn, still = (tuple(sorted(each)) for each in moves)
    return Pressed(numbers, raises, sinks, picks, torn, still)


def _lamms(loom: LoomPlan, action: Action) -> tuple[LammSet, ...]:
    rising = sum(len(each.rise) for each in loom.tied)
    sinking = sum(len(each.sink) for each in loom.tied)
    if action == "rising":
        return (LammSet("lamms", "rise", rising),)
    if action == "sinking":
        return (LammSet("lamms", "sink", sinking),)
    if loom.rise_lamms == "lower":
        return LammSet("upper lamms", "sink", sinking), LammSet("lower lamms", "rise", rising)
    return LammSet("upper lamms", "rise", rising), LammSet("lower lamms", "sink", sinking)
