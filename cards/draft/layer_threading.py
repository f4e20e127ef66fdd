"""How the ends of several layers lie between each other, and on which shafts.

The shafts of a `straight` draw go round the layers, one of each in turn; `paired`, those of a layer
lie together.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from cards.draft.layer_weave import LayerWeave

Arrangement = Literal["straight", "paired"]


@dataclass(frozen=True, slots=True)
class LayerThreading:
    """The layer of each end (from 0), and its shaft within the layer (from 1); first end first.

    `skipped` is how many ends of each layer the draw leaves out before its first.
    """

    layers: tuple[int, ...]
    own_shafts: tuple[int, ...]
    skipped: tuple[int, ...]


def layer_shafts(
    weaves: Sequence[LayerWeave], arrangement: Arrangement
) -> tuple[tuple[int, ...], ...]:
    """Return the shafts of each layer, counted from 1 from layer to layer.

    >>> from cards.draft.layer_weave import PLAIN
    >>> layer_shafts([PLAIN, PLAIN], "straight"), layer_shafts([PLAIN, PLAIN], "paired")
    (((1, 3), (2, 4)), ((1, 2), (3, 4)))
    """
    every = [(own, layer) for layer, weave in enumerate(weaves) for own in range(weave.shafts)]
    if arrangement == "straight":
        every.sort()
    shafts: list[list[int]] = [[] for _ in weaves]
    for shaft, (_, layer) in enumerate(every, start=1):
        shafts[layer].append(shaft)
    return tuple(map(tuple, shafts))


def round_of(ratio: Sequence[int]) -> tuple[int, ...]:
    """Return the layers of the ends in one round: as many of each as `ratio` says."""
    return tuple(layer for layer, ends in enumerate(ratio) for _ in range(ends))


def repeat_of(weaves: Sequence[LayerWeave], ratio: Sequence[int]) -> int:
    """Return after how many ends the whole threading comes again."""
    cycles = (len(weave.threading) for weave in weaves)
    rounds = (cycle // math.gcd(cycle, ends) for cycle, ends in zip(cycles, ratio, strict=True))
    return sum(ratio) * math.lcm(*rounds)


def thread(
    ends: int, skip: int, weaves: Sequence[LayerWeave], ratio: Sequence[int]
) -> LayerThreading:
    """Return the threading of so many ends after the first `skip` of its repeat are left out."""
    turn = round_of(ratio)
    seen = [0] * len(weaves)
    layers: list[int] = []
    own: list[int] = []
    skipped = tuple(seen)
    for place in range(skip + ends):
        if place == skip:
            skipped = tuple(seen)
        layer = turn[place % len(turn)]
        cycle = weaves[layer].threading
        if place >= skip:
            layers.append(layer)
            own.append(cycle[seen[layer] % len(cycle)])
        seen[layer] += 1
    return LayerThreading(tuple(layers), tuple(own), skipped)
