"""How looms make the same shed: a spec says which shafts rise, the loom decides what is tied.

A rising-shed (jack) loom ties the shafts that rise. On a sinking-shed (counterbalance) loom the
treadle is tied to the shafts that sink, the others rise with them. A countermarch loom moves
every shaft, up or down. Table, direct and dobby looms raise shafts without a tie-up (trade
fact, common practice).
"""

from __future__ import annotations

from typing import TypeGuard

from cards.loom.pressing import Action

# A loom whose action is not named: the jack loom, the usual one in a class (common practice).
DEFAULT_ACTION = "rising"

# Looms on which the weaver raises shafts herself, pick by pick, instead of pressing a treadle.
LIFTING = frozenset({"table", "direct", "dobby", "rigid heddle"})


def has_ties(action: str) -> TypeGuard[Action]:
    """Whether a loom of this action has treadles that are tied to several shafts."""
    return action not in LIFTING
