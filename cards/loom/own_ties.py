"""Cords for treadles as the author numbers and presses them, on whatever loom.

His tie-up says which shafts rise, and treadles pressed together raise the shafts of each. On a
rising-shed loom that is what is tied. Elsewhere a treadle may only sink a shaft that stays down in
every lift for which it is pressed, or treadles pressed together would pull that shaft both ways;
where the treadles of a lift cannot sink all its shafts so, his presses cannot be tied.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from cards.loom.pressing import Action, Treadle

Press = frozenset[int]


@dataclass(frozen=True, slots=True)
class Clash:
    """Treadles pressed together that cannot be tied so, and the shafts, from 1, in the way.

    Each of the shafts is raised by one of the treadles, and another would have to sink it: in one
    of its other presses no treadle is left that may.
    """

    pressed: Press
    shafts: tuple[int, ...]


def own_ties(
    tie_up: Mapping[int, tuple[int, ...]],
    presses: Iterable[Press],
    shafts: Iterable[int],
    action: Action,
) -> tuple[tuple[Treadle, ...], tuple[Clash, ...]]:
    """Return the treadles with their cords, in order of their numbers, or else what is in the way.

    `tie_up` is the shafts, from 1, that each treadle raises; of `shafts`, those that are threaded,
    the others sink. Raises KeyError for a press of a treadle that is not tied.

    >>> presses = [frozenset({1}), frozenset({1, 2})]
    >>> own_ties({1: (1, 2), 2: (2, 3)}, presses, range(1, 5), "sinking")[1]
    (Clash(pressed=frozenset({1, 2}), shafts=(3,)),)
    """
    rises = {treadle: frozenset(tied) for treadle, tied in tie_up.items()}
    numbers = sorted(rises)
    every = frozenset(shafts)
    if action == "rising":
        return tuple(_treadle(number, rises[number] & every, frozenset()) for number in numbers), ()
    distinct = list(dict.fromkeys(press for press in presses if press))
    sunk = {
        press: every - frozenset().union(*(rises[number] for number in press)) for press in distinct
    }
    sinks = {number: every - rises[number] for number in numbers}
    for press in distinct:
        for number in press:
            sinks[number] &= sunk[press]
    up = {press: every - down for press, down in sunk.items()}
    left = {
        press: down.difference(*(sinks[number] for number in press)) for press, down in sunk.items()
    }
    if any(left.values()):
        return (), tuple(_clashes(up, left))
    _spare(sinks, distinct)
    tied = every if action == "countermarch" else frozenset[int]()
    return tuple(_treadle(number, rises[number] & tied, sinks[number]) for number in numbers), ()


def _clashes(
    up: Mapping[Press, frozenset[int]], left: Mapping[Press, frozenset[int]]
) -> Iterator[Clash]:
    """Yield the presses that raise a shaft which one of their treadles must sink elsewhere.

    `up` is what each press raises, `left` what no treadle of it can sink.
    """
    for press, raised in up.items():
        wanted = frozenset[int]().union(*(left[other] for other in left if other & press))
        if raised & wanted:
            yield Clash(press, tuple(sorted(raised & wanted)))


def _treadle(number: int, rise: frozenset[int], sink: frozenset[int]) -> Treadle:
    return Treadle(number, tuple(sorted(rise)), tuple(sorted(sink)))


def _spare(sinks: dict[int, frozenset[int]], presses: list[Press]) -> None:
    """Leave out every cord that another treadle of each of its presses has too."""
    for number in sorted(sinks, key=lambda each: (-len(sinks[each]), each)):
        mine = [press for press in presses if number in press]
        for shaft in sorted(sinks[number]) if mine else ():
            if all(any(shaft in sinks[other] for other in press - {number}) for press in mine):
                sinks[number] -= {shaft}
