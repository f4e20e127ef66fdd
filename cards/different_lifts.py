"""The different lifts of a piece in order of first use, for looms whose shafts are raised by hand.

A rigid heddle has two sheds: up, which raises the ends in its holes, and down, which leaves the
ends in its slots above (common practice). In a draft of two shafts the ends on shaft 1 are those in
the holes.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import Literal

from cards.project.model import Project

Position = Literal["up", "down", ""]

_HEDDLE: dict[tuple[int, ...], Position] = {(1,): "up", (2,): "down"}


@dataclass(frozen=True, slots=True)
class DifferentLift:
    """A lift: its number on the card, the shafts raised, how many picks, and the first of them.

    Picks are counted from 1. `heddle` is where a rigid heddle is put, empty on other looms.
    """

    number: int
    shafts: tuple[int, ...]
    picks: int
    first: int
    heddle: Position = ""


def different_lifts(project: Project) -> tuple[DifferentLift, ...]:
    """Return each lift of a piece once."""
    lifts = project.draft.lifts
    uses = Counter(lifts)
    first: dict[frozenset[int], int] = {}
    for pick, lift in enumerate(lifts, start=1):
        first.setdefault(lift, pick)
    by_heddle = project.loom.action == "rigid heddle" and project.draft.shafts == 2
    found = []
    for number, lift in enumerate(uses, start=1):
        shafts = tuple(sorted(lift))
        heddle: Position = _HEDDLE.get(shafts, "") if by_heddle else ""
        found.append(DifferentLift(number, shafts, uses[lift], first[lift], heddle))
    return tuple(found)
