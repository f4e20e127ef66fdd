"""Spare treadles tied to raise the upper layers whole, to look underneath while weaving.

Common practice, no source: a layer that is raised whole shows at once where it is caught in the
one below.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from cards.loom.looking import treadle_raising, treadles_raising
from cards.loom.shed import has_ties
from cards.project.at_the_loom import LoomPlan
from cards.project.cloth import Cloth


def with_look_treadles(loom: LoomPlan, cloth: Cloth, threading: tuple[int, ...]) -> LoomPlan:
    """Return the loom with a spare treadle for each look that its treadles cannot give yet."""
    if not has_ties(loom.action) or not loom.tied or loom.treadles is None:
        return loom
    tied, looks = list(loom.tied), list(loom.looks)
    taken = {each.number for each in tied}
    spare = [number for number in range(1, loom.treadles + 1) if number not in taken]
    # Beyond those in use, so that the foot does not find one of them among the others.
    spare.sort(key=lambda number: (number < max(taken), number))
    for raised in dict.fromkeys(_raised_whole(cloth, threading)):
        if not spare:
            break
        if not treadles_raising(raised, tied, loom.threaded, loom.action):
            looks.append(spare.pop(0))
            tied.append(treadle_raising(looks[-1], raised, loom.threaded, loom.action))
    tied.sort(key=lambda treadle: treadle.number)
    return replace(loom, tied=tuple(tied), looks=tuple(looks))


def _raised_whole(cloth: Cloth, threading: tuple[int, ...]) -> Iterator[frozenset[int]]:
    """Yield the shafts of the upper layers, one more at a time, in every stretch of the cloth."""
    for stretch in cloth.stretches:
        raised: frozenset[int] = frozenset()
        for layer in stretch.layers[:-1]:
            raised |= {threading[end] for end in layer.ends}
            yield raised
