"""At which shed each layer begins, so that the weave runs on over every fold.

Two ways of running on are tried. Unbroken: the columns of the opened cloth repeat over the fold as
they do within a layer. Or at least without a float longer than the weave itself makes; layers of
different weaves can do no better. Whether two layers fit at a joint hangs only on their sheds and
on what lies at their edges, so every answer is kept and used again for the next threading.
"""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass, field
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from cards.cloth.continuity import edge_floats, floats_over, regular_floats
from cards.cloth.weft_path import Flags, Numbers, Side
from cards.draft.course import Joint
from cards.draft.layer_threading import LayerThreading
from cards.draft.layer_weave import LayerWeave, Shed

Cells = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Way:
    """The sheds of a layer in the order in which they are woven, and what is told of it."""

    told: str
    lifts: tuple[Shed, ...]


class _Strip(NamedTuple):
    """The ends of a layer: the first one's place in the threading cycle, and how many there are."""

    first: int
    ends: int


class _Edge(NamedTuple):
    """The floats of each shed at one edge of a layer, and how long they regularly are within it."""

    state: Flags
    length: Numbers
    regular: NDArray[np.intp]


@dataclass(slots=True)
class PhaseSearch:
    """The search for the sheds of layers joined at `joints`.

    `turned` are the layers that lie upside down when the cloth is opened out.
    """

    weaves: tuple[LayerWeave, ...]
    joints: tuple[Joint, ...]
    first_end: Side
    turned: frozenset[int]
    _choices: list[list[Way]] = field(init=False)
    _fits: dict[Hashable, bool] = field(init=False, default_factory=dict)
    _edges: dict[Hashable, _Edge] = field(init=False, default_factory=dict)

    def __post_init__(self) -> None:
        turned = self.turned if self.joints else frozenset()
        self._choices = [
            [Way(*way) for way in weave.lift_ways(turned=layer in turned)]
            for layer, weave in enumerate(self.weaves)
        ]

    def alike(self, joint: Joint) -> bool:
        """Whether a joint lies between two layers of one weave."""
        upper, lower = self.weaves[joint.upper], self.weaves[joint.lower]
        return (upper.threading, upper.lifts) == (lower.threading, lower.lifts)

    def ways(self, threading: LayerThreading, *, unbroken: bool) -> tuple[Way, ...] | None:
        """Return a way for each layer with which the weave runs on over all joints, or None."""
        if not self.joints:
            return tuple(each[0] for each in self._choices)
        strips = [
            _Strip(threading.skipped[layer] % len(weave.threading), threading.layers.count(layer))
            for layer, weave in enumerate(self.weaves)
        ]
        dead_ends: set[tuple[int, int]] = set()
        chained = all(joint.lower == joint.upper + 1 for joint in self.joints)

        def further(taken: tuple[int, ...]) -> tuple[int, ...] | None:
            layer = len(taken)
            if layer == len(self._choices):
                return taken
            for way in range(len(self._choices[layer])):
                if (layer, way) in dead_ends or not self._passes((*taken, way), strips, unbroken):
                    continue
                found = further((*taken, way))
                if found is not None:
                    return found
                # Where joints are between neighbours, what lies below a layer hangs on its way
                # alone.
                if chained:
                    dead_ends.add((layer, way))
            return None

        found = further(())
        if found is None:
            return None
        return tuple(self._choices[layer][way] for layer, way in enumerate(found))

    def _passes(self, taken: tuple[int, ...], strips: list[_Strip], unbroken: bool) -> bool:  # noqa: FBT001
        """Whether the lowest layer taken fits those above it."""
        lowest = len(taken) - 1
        return all(
            self._joint_fits(place, taken[joint.upper], taken[lowest], strips, unbroken)
            for place, joint in enumerate(self.joints)
            if joint.lower == lowest
        )

    def _joint_fits(
        self,
        place: int,
        above: int,
        below: int,
        strips: list[_Strip],
        unbroken: bool,  # noqa: FBT001
    ) -> bool:
        joint = self.joints[place]
        upper, lower = strips[joint.upper], strips[joint.lower]
        strict = unbroken and self.alike(joint)
        key = place, above, below, upper, lower, strict
        if key not in self._fits:
            judge = self._unbroken if strict else self._without_long_floats
            self._fits[key] = judge(joint, (above, below), (upper, lower))
        return self._fits[key]

    def _unbroken(self, joint: Joint, ways: tuple[int, int], strips: tuple[_Strip, _Strip]) -> bool:
        """Whether the columns repeat over a joint, thought on inward beyond a narrow layer."""
        cycle = self.weaves[joint.upper].threading
        cells = []
        for layer, way, strip, picks in self._beside(joint, ways, strips):
            inward = range(strip.first, strip.first + len(cycle))
            if joint.side != self.first_end:
                last = strip.first + strip.ends - 1
                inward = range(last, last - len(cycle), -1)
            own = [cycle[end % len(cycle)] for end in inward]
            lifts = self._choices[layer][way].lifts
            cells.append(_raised(lifts, own)[picks % len(lifts)])
        return bool((cells[0][:, ::-1] == ~cells[1]).all())

    def _without_long_floats(
        self, joint: Joint, ways: tuple[int, int], strips: tuple[_Strip, _Strip]
    ) -> bool:
        """Whether no float over a joint is longer than those of the layers it joins."""
        floats, regular = [], []
        for layer, way, strip, picks in self._beside(joint, ways, strips):
            edge = self._edge(layer, way, strip, joint.side)
            shed = picks % len(edge.state)
            floats.append((edge.state[shed], edge.length[shed]))
            regular.append(edge.regular)
        face = floats[0][0].astype(np.intp)
        joined, length = floats_over(floats[0], floats[1])
        limits = np.maximum(regular[0][face], regular[1][1 - face])
        return not (joined & (length > limits)).any()

    def _beside(
        self, joint: Joint, ways: tuple[int, int], strips: tuple[_Strip, _Strip]
    ) -> list[tuple[int, int, _Strip, Numbers]]:
        """Return layer, way, strip and picks of the two layers at a joint."""
        upper, lower = np.array(joint.visits, dtype=np.intp).T
        return [
            (joint.upper, ways[0], strips[0], upper),
            (joint.lower, ways[1], strips[1], lower),
        ]

    def _edge(self, layer: int, way: int, strip: _Strip, side: Side) -> _Edge:
        key = layer, way, strip, side
        if key not in self._edges:
            cycle, lifts = self.weaves[layer].threading, self._choices[layer][way].lifts
            own = [cycle[(strip.first + end) % len(cycle)] for end in range(strip.ends)]
            cells = _raised(lifts, own)
            inward = np.arange(strip.ends, dtype=np.intp)
            if side != self.first_end:
                inward = inward[::-1]
            floats = edge_floats(cells, np.arange(len(lifts)), inward)
            self._edges[key] = _Edge(*floats, np.array(regular_floats(cells)))
        return self._edges[key]


def _raised(lifts: tuple[Shed, ...], own_shafts: list[int]) -> Cells:
    """Return which of some ends each shed raises, shape (sheds, ends)."""
    return np.array([[shaft in shed for shaft in own_shafts] for shed in lifts], dtype=np.bool_)
