"""How the shafts of a counterbalance hang in pairs, and which sheds of a piece are uneven."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from cards.loom.counterbalance import open_uneven_sheds, remedies_for
from cards.project.counterbalance_checks import REMEDY_WORDS
from cards.project.model import Project


@dataclass(frozen=True, slots=True)
class UnevenShed:
    """A shed of which more shafts go one way than the other, and how many picks it is woven."""

    raises: tuple[int, ...]
    sinks: tuple[int, ...]
    picks: int


@dataclass(frozen=True, slots=True)
class HungShafts:
    """The pairs of a counterbalance, its uneven sheds in order of use, and what helps them."""

    pairs: tuple[tuple[int, int], ...]
    uneven: tuple[UnevenShed, ...]
    remedies: tuple[str, ...]


def hung_shafts(project: Project) -> HungShafts:
    """Return how the shafts of a sinking-shed loom hang; sheds that do not open are left out."""
    loom, lifts = project.loom, project.draft.lifts
    uses = Counter(lift & loom.threaded for lift in lifts)
    found = open_uneven_sheds(lifts, loom.shafts, loom.pairs, loom.threaded)
    uneven = tuple(
        UnevenShed(tuple(sorted(each.lift)), tuple(sorted(each.sunk)), uses[each.lift])
        for each in found
    )
    remedies = tuple(REMEDY_WORDS[remedy] for remedy in remedies_for(found))
    return HungShafts(loom.pairs, uneven, remedies)
