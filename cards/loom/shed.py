"""How looms make the same shed: a spec says which shafts rise, the loom decides what is tied.

A rising-shed (jack) loom ties the shafts that rise. On a sinking-shed (counterbalance) loom the
treadle is tied to the shafts that sink, the others rise with them. A countermarch loom moves
every shaft, up or down. Table, direct and dobby looms raise shafts without a tie-up (trade
fact, common practice).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

# A loom whose action is not named: the jack loom, the usual one in a class (common practice).
DEFAULT_ACTION = "rising"

# Looms on which the weaver raises shafts herself, pick by pick, instead of pressing a treadle.
LIFTING = frozenset({"table", "direct", "dobby", "rigid heddle"})


@dataclass(frozen=True, slots=True)
class TiedTreadle:
    """One treadle: the shafts that its pressing raises and those that it sinks, from 1."""

    treadle: int
    rise: tuple[int, ...]
    sink: tuple[int, ...]


def tied_treadles(tie_up: Mapping[int, tuple[int, ...]], shafts: int) -> tuple[TiedTreadle, ...]:
    """Return every treadle with what it raises and what it leaves down, in treadle order.

    >>> tied_treadles({1: (1, 3)}, 4)
    (TiedTreadle(treadle=1, rise=(1, 3), sink=(2, 4)),)
    """
    every = range(1, shafts + 1)
    return tuple(
        TiedTreadle(
            treadle,
            tuple(sorted(tie_up[treadle])),
            tuple(shaft for shaft in every if shaft not in tie_up[treadle]),
        )
        for treadle in sorted(tie_up)
    )
