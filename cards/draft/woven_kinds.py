"""What the kinds of threads of a draft weave: their layers, and which kinds weave alike in them.

It depends only on which kinds there are, not on where their threads lie, so an end drawn elsewhere
or two picks exchanged leave it as it was.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from cards.cloth.layers import Layer, layers
from cards.cloth.weft_path import Numbers
from cards.draft.evenness import odd_crossing, unevenness
from cards.draft.thread_classes import Cells, ThreadClasses


@dataclass(frozen=True, slots=True, eq=False)
class WovenKinds:
    """The kinds of threads with their layers, numbered from the top.

    `layers` has shafts for its ends and kinds of picks for its picks; `lone` are those that never
    interlace. Of a kind in no layer the number is -1. `shaft_like` and `pick_like` are numbers that
    are the same for kinds of one layer that weave alike there. `odd` has the crossings (kind of
    pick, shaft) that alone make a weave uneven, and `unevenness` is by how much all are uneven.
    """

    layers: tuple[Layer, ...]
    lone: tuple[Layer, ...]
    layer_of_shaft: Numbers
    layer_of_kind: Numbers
    shaft_like: Numbers
    pick_like: Numbers
    odd: tuple[tuple[int, int], ...]
    unevenness: int


def present(threads: ThreadClasses) -> tuple[Numbers, Numbers]:
    """Return the kinds of picks and the shafts that have a thread."""
    return np.flatnonzero(np.bincount(threads.kind_of)), np.flatnonzero(
        np.bincount(threads.shaft_of)
    )


def weave(raised: Cells, kinds: Numbers, shafts: Numbers) -> WovenKinds:
    """Return what some kinds of picks and some shafts weave; `raised` is that of the draft."""
    every = tuple(_layers(raised, kinds, shafts))
    lone = tuple(layer for layer in every if not layer.ends or not layer.picks)
    found = tuple(layer for layer in every if layer.ends and layer.picks)
    of_shaft = np.full(raised.shape[1], -1, dtype=np.intp)
    of_kind = np.full(raised.shape[0], -1, dtype=np.intp)
    shaft_like, pick_like = of_shaft.copy(), of_kind.copy()
    odd, uneven = [], 0
    for place, layer in enumerate(found):
        ends, picks = np.array(layer.ends), np.array(layer.picks)
        of_shaft[ends] = of_kind[picks] = place
        own = raised[np.ix_(picks, ends)]
        shaft_like[ends] = ends[_first_alike(own.T)]
        like = _first_alike(own)
        pick_like[picks] = picks[like]
        once = np.unique(like)
        uneven += unevenness(own[once])
        crossing = odd_crossing(own[once])
        if crossing:
            odd.append((int(picks[once[crossing[0]]]), int(ends[crossing[1]])))
    return WovenKinds(found, lone, of_shaft, of_kind, shaft_like, pick_like, tuple(odd), uneven)


def _layers(raised: Cells, kinds: Numbers, shafts: Numbers) -> Iterator[Layer]:
    for layer in layers(raised[np.ix_(kinds, shafts)]):
        ends, picks = shafts[list(layer.ends)], kinds[list(layer.picks)]
        yield Layer(tuple(ends.tolist()), tuple(picks.tolist()))


def _first_alike(rows: Cells) -> Numbers:
    """Return for every row the first that is like it."""
    known: dict[bytes, int] = {}
    packed = np.packbits(rows, axis=1)
    return np.array([known.setdefault(row.tobytes(), i) for i, row in enumerate(packed)])
