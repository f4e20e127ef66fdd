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

    def moved(self, shafts: int, action: Action) -> Treadle:
        """Return what goes up and down when this treadle alone is pressed, as a treadle's ties.

        Shafts that no cord moves stay down on a rising-shed loom and rise on a sinking-shed one.

        >>> Treadle(1, (), (1, 3)).moved(4, "sinking").rise
        (2, 4)
        """
        if action == "countermarch":
            return self
        alone = press((self,), shafts, action)
        return Treadle(self.number, tuple(sorted(alone.raised)), tuple(sorted(alone.sunk)))


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


def press(pressed: Iterable[Treadle], shafts: int, action: Action) -> Press:
    """Return what pressing treadles together does on a loom of `shafts` shafts.

    >>> sorted(press([Treadle(1, (), (1, 3))], 4, "sinking").raised)
    [2, 4]
    >>> sorted(press([Treadle(1, (1,), (2, 3)), Treadle(2, (4,), (1,))], 4, "countermarch").torn)
    [1]
    """
    every = frozenset(range(1, shafts + 1))
    treadles = tuple(pressed)
    up = frozenset(shaft for treadle in treadles for shaft in treadle.rise)
    down = frozenset(shaft for treadle in treadles for shaft in treadle.sink)
    if action == "rising":
        return Press(up, every - up, frozenset(), frozenset())
    if action == "sinking":
        return Press(every - down, down, frozenset(), frozenset())
    return Press(up - down, down - up, up & down, every - up - down)
