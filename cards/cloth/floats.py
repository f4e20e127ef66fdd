"""The longest floats of a drawdown read as one cloth, on its face and on its back.

A float is a stretch over which a thread stays on one side; its length is the number of threads
passed. Double weave must be asked layer by layer, each with its own ends and picks, for a flat
reading would count the other layer's threads too.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

Cells = NDArray[np.bool_]

# Threads are looked through so many cells at a time, which bounds the memory.
AT_ONCE: Final = 1 << 21


@dataclass(frozen=True, slots=True)
class Float:
    """A longest float: how many threads it passes, on which `thread`, from which one on (from 0).

    `endless` says that the thread stays on one side through the whole repeat, and so for ever.
    """

    length: int
    thread: int
    start: int
    endless: bool = False


@dataclass(frozen=True, slots=True)
class Floats:
    """The longest float of warp and weft on face and back; None where no thread lies there."""

    warp_face: Float | None
    warp_back: Float | None
    weft_face: Float | None
    weft_back: Float | None

    @property
    def warp(self) -> Float | None:
        """The longer of the warp's two, the one on the face if they are alike."""
        return _longer(self.warp_face, self.warp_back)

    @property
    def weft(self) -> Float | None:
        """The longer of the weft's two, the one on the face if they are alike."""
        return _longer(self.weft_face, self.weft_back)


def longest_floats(drawdown: Cells, *, repeats: bool) -> Floats:
    """Return the longest floats of a `drawdown`, bool, shape (picks, ends), true = end over pick.

    With `repeats` the drawdown is one repeat of a cloth that goes on for ever both ways, and a
    float may run over its edge; without, it is the whole cloth. Of equal floats the one on the
    first thread is told. Raises ValueError unless the array has two dimensions.
    """
    if drawdown.ndim != 2:
        raise ValueError(f"a drawdown has picks and ends, not {drawdown.ndim} dimensions")
    return Floats(
        warp_face=_longest(drawdown, 0, over=True, repeats=repeats),
        warp_back=_longest(drawdown, 0, over=False, repeats=repeats),
        weft_face=_longest(drawdown, 1, over=False, repeats=repeats),
        weft_back=_longest(drawdown, 1, over=True, repeats=repeats),
    )


def _longest(drawdown: Cells, along: int, *, over: bool, repeats: bool) -> Float | None:
    """Return the longest stretch along an axis where ends are `over` picks, or under them."""
    threads = drawdown.shape[1 - along]
    step = max(1, AT_ONCE // max(1, drawdown.shape[along]))
    best: Float | None = None
    for first in range(0, threads, step):
        cells = drawdown[_part(1 - along, first, first + step)]
        found = _stretch(cells if over else ~cells, along, repeats=repeats)
        if found and (best is None or found.length > best.length):
            best = replace(found, thread=found.thread + first)
    return best


def _stretch(cells: Cells, along: int, *, repeats: bool) -> Float | None:
    """Return the longest stretch of true cells along an axis.

    `begins` marks the cells where a stretch of `length` begins. Stretches that follow each other
    join, so lengths double until none is left and are then halved down to the longest.
    """
    across = cells.shape[along]
    if not cells.any():
        return None
    begins, length = cells, 1
    powers = [(cells, 1)]
    while 2 * length <= across:
        longer = _joined(begins, begins, length, along, repeats=repeats)
        if not longer.any():
            break
        begins, length = longer, 2 * length
        powers.append((begins, length))
    for part, more in reversed(powers):
        if length + more <= across:
            longer = _joined(begins, part, length, along, repeats=repeats)
            if longer.any():
                begins, length = longer, length + more
    thread = int(begins.any(axis=along).argmax())
    start = int(begins.take(thread, axis=1 - along).argmax())
    return Float(length, thread, start, endless=repeats and length == across)


def _joined(first: Cells, second: Cells, apart: int, along: int, *, repeats: bool) -> Cells:
    """Return the cells where `first` begins and `second` begins `apart` cells further on."""
    count = first.shape[along]
    joined = np.zeros_like(first)
    left, right = (_part(along, 0, count - apart), _part(along, apart, count))
    np.logical_and(first[left], second[right], out=joined[left])
    if repeats:
        left, right = (_part(along, count - apart, count), _part(along, 0, apart))
        np.logical_and(first[left], second[right], out=joined[left])
    return joined


def _part(along: int, start: int, stop: int) -> tuple[slice, ...]:
    return (slice(start, stop),) if along == 0 else (slice(None), slice(start, stop))


def _longer(face: Float | None, back: Float | None) -> Float | None:
    if face is None or (back is not None and back.length > face.length):
        return back
    return face
