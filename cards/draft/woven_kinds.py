"""What the kinds of threads of a draft weave: their layers, and which kinds weave alike in them.

It depends only on which kinds there are, not on where their threads lie, so an end drawn elsewhere
or two picks exchanged leave it as it was.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cards.cloth.layers import Layer, layers
from cards.cloth.weft_path import Numbers
from cards.draft.evenness import odd_crossing, unevenness
from cards.draft.thread_classes import Cells, ThreadClasses


@dataclass(frozen=True, slots=True, eq=False)
class Parted:
    """The kinds of threads parted into layers, the uppermost first.

    Of each layer the ends are shafts and the picks kinds of picks. `lone` are kinds that never
    interlace.
    """

    layers: tuple[Layer, ...]
    lone: tuple[Layer, ...]


@dataclass(frozen=True, slots=True, eq=False)
class WovenKinds:
    """The weaves of the layers, numbered from the top; a kind in no layer has the number -1.

    `shaft_like` and `pick_like` are numbers that are the same for kinds of one layer that weave
    alike there. `odd` has the crossings (kind of pick, shaft) that alone make a weave uneven, and
    `unevenness` is by how much all are uneven.
    """

    layers: tuple[Layer, ...]
    layer_of_shaft: Numbers
    layer_of_kind: Numbers
    shaft_like: Numbers
    pick_like: Numbers
    odd: tuple[tuple[int, int], ...]
    unevenness: int


def present(threads: ThreadClasses) -> tuple[Numbers, Numbers]:
    """Return the kinds of picks and the shafts that have a thread."""
    kinds, shafts = np.bincount(threads.kind_of), np.bincount(threads.shaft_of)
    return np.flatnonzero(kinds), np.flatnonzero(shafts)


def part(raised: Cells, kinds: Numbers, shafts: Numbers) -> Parted:
    """Return the layers of some kinds of picks and some shafts; `raised` is that of the draft."""
    found: list[Layer] = []
    lone: list[Layer] = []
    for layer in layers(raised[np.ix_(kinds, shafts)]):
        ends, picks = shafts[list(layer.ends)], kinds[list(layer.picks)]
        of_draft = Layer(tuple(ends.tolist()), tuple(picks.tolist()))
        (found if layer.ends and layer.picks else lone).append(of_draft)
    return Parted(tuple(found), tuple(lone))


def weave(raised: Cells, parted: Parted) -> WovenKinds:
    """Return what the kinds of threads weave in their layers."""
    of_shaft = np.full(raised.shape[1], -1, dtype=np.intp)
    of_kind = np.full(raised.shape[0], -1, dtype=np.intp)
    shaft_like, pick_like = of_shaft.copy(), of_kind.copy()
    odd, uneven = [], 0
    for place, layer in enumerate(parted.layers):
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
    return WovenKinds(parted.layers, of_shaft, of_kind, shaft_like, pick_like, tuple(odd), uneven)


def _first_alike(rows: Cells) -> Numbers:
    """Return for every row the first that is like it."""
    known: dict[bytes, int] = {}
    packed = np.packbits(rows, axis=1)
    return np.array([known.setdefault(row.tobytes(), i) for i, row in enumerate(packed)])
