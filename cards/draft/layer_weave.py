"""The weave of one layer: a cycle of threading over its own shafts, and a cycle of sheds."""

from __future__ import annotations

from dataclasses import dataclass

Shed = frozenset[int]


@dataclass(frozen=True, slots=True)
class LayerWeave:
    """A small weave: `threading` and `lifts` repeat; own shafts count from 1.

    Raises ValueError when a cycle is empty, or a shed raises a shaft that is not threaded.
    """

    name: str
    threading: tuple[int, ...]
    lifts: tuple[Shed, ...]

    def __post_init__(self) -> None:
        if not self.threading or not self.lifts:
            raise ValueError(f"the weave '{self.name}' needs a threading and lifts")
        if set(self.threading) != set(range(1, self.shafts + 1)):
            raise ValueError(f"the threading of '{self.name}' must use shafts 1 to {self.shafts}")
        beyond = sorted(set().union(*self.lifts) - set(self.threading))
        if beyond:
            raise ValueError(f"the weave '{self.name}' raises shaft {beyond[0]}, which has no end")

    @property
    def shafts(self) -> int:
        """How many shafts the weave needs."""
        return max(self.threading)

    def lift_ways(self, *, turned: bool) -> tuple[tuple[str, tuple[Shed, ...]], ...]:
        """Return the ways in which the sheds may be woven, each told in words, the plainest first.

        They may begin at any shed. A layer that lies upside down in the opened cloth (`turned`) may
        also be woven with raised and sunk exchanged, or in the opposite order, or both: seen from
        the other side it is then the same weave.
        """
        every = frozenset(self.threading)
        orders = [("", self.lifts)]
        if turned:
            sunk = tuple(every - shed for shed in self.lifts)
            orders += [
                ("raised and sunk exchanged", sunk),
                ("in the opposite order", self.lifts[::-1]),
                ("in the opposite order, raised and sunk exchanged", sunk[::-1]),
            ]
        ways: dict[tuple[Shed, ...], str] = {}
        for words, order in orders:
            for first in range(len(order)):
                begins = f"begins at its shed {first + 1}" if first else ""
                told = ", ".join(filter(None, (begins, words)))
                ways.setdefault(order[first:] + order[:first], told)
        return tuple((told, way) for way, told in ways.items())


PLAIN = LayerWeave("plain", (1, 2), (frozenset({1}), frozenset({2})))
