"""What a press of one or more treadles does to the shafts.

On a rising-shed loom the shafts tied to any pressed treadle rise. On a sinking-shed loom they
sink, and all others rise with them. On a countermarch every shaft must be moved by a pressed
treadle, up or down, and none both ways at once: its cords would be torn (a builder's notes).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

Action = Literal["rising", "sinking", "countermarch"]


@dataclass(frozen=True, slots=True)
class Treadle:
    """A treadle and its cords: the shafts, from 1, that it is tied to raise and to sink.

    A rising-shed loom has cords that raise, a sinking-shed loom cords that sink, a countermarch
    both.
    """

    number: int
    rise: tuple[int, ...]
    sink: tuple[int, ...]

    @property
    def cords(self) -> int:
        """How many cords the treadle has, one for each shaft and way."""
        return len(self.rise) + len(self.sink)

    def moved(self, threaded: frozenset[int], action: Action) -> Treadle:
        """Return which threaded shafts go up and down when this treadle alone is pressed.

        Shafts that no cord moves stay down on a rising-shed loom and rise on a sinking-shed one.

        >>> Treadle(1, (), (1, 3)).moved(frozenset({1, 2, 3, 4}), "sinking").rise
        (2, 4)
        """
        if action == "rising":
            return Treadle(self.number, self.rise, tuple(sorted(threaded.difference(self.rise))))
        if action == "sinking":
            return Treadle(self.number, tuple(sorted(threaded.difference(self.sink))), self.sink)
        return self

    def on_shafts(self, threaded: frozenset[int]) -> Treadle:
        """Return the treadle without the cords of shafts on which no end is threaded."""
        return Treadle(
            self.number,
            tuple(shaft for shaft in self.rise if shaft in threaded),
            tuple(shaft for shaft in self.sink if shaft in threaded),
        )


@dataclass(frozen=True, slots=True)
class Press:
    """What a press does to each shaft, from 1: `torn` is tied both ways, `still` is not moved.

    Only a countermarch can tear a shaft or leave one still.
    """

    raised: frozenset[int]
    sunk: frozenset[int]
    torn: frozenset[int]
    still: frozenset[int]

    @property
    def clean(self) -> bool:
        """Whether every shaft goes one way."""
        return not self.torn and not self.still


def press(pressed: Iterable[Treadle], shafts: Iterable[int], action: Action) -> Press:
    """Return what pressing treadles together does to `shafts`, those that are threaded.

    >>> sorted(press([Treadle(1, (), (1, 3))], range(1, 5), "sinking").raised)
    [2, 4]
    >>> pressed = Treadle(1, (1,), (2, 3)), Treadle(2, (4,), (1,))
    >>> sorted(press(pressed, range(1, 5), "countermarch").torn)
    [1]
    """
    every = frozenset(shafts)
    treadles = tuple(pressed)
    up = frozenset(shaft for treadle in treadles for shaft in treadle.rise)
    down = frozenset(shaft for treadle in treadles for shaft in treadle.sink)
    if action == "rising":
        return Press(up, every - up, frozenset(), frozenset())
    if action == "sinking":
        return Press(every - down, down, frozenset(), frozenset())
    return Press(up - down, down - up, up & down, every - up - down)
