"""A long sequence drawn short: each group once or a few times, with how often it comes.

A draft is drawn as weavers draw it: a repeat stands once under a bracket that says how often it is
threaded or woven. What comes after the last whole repeat and goes on like it is said, not drawn.
"""

from __future__ import annotations

from collections.abc import Hashable
from collections.abc import Sequence as Listing
from dataclasses import dataclass, replace
from typing import Final, TypeVar

import numpy as np
from numpy.typing import NDArray

from cards.draft.shortest import shortest
from cards.sequence import Repeat, Run, Sequence

T = TypeVar("T", bound=Hashable)

# A group of no more threads in all than this is written out: a bracket would not make it clearer.
WRITTEN_OUT: Final = 8
# Fewer threads under a bracket than this leave no room to say how often they come.
LEAST_DRAWN: Final = 8


@dataclass(frozen=True, slots=True)
class Stretch:
    """Threads from `first` on, counted from 0: `once` of them `times` times, then `rest` again."""

    first: int
    once: int
    times: int = 1
    rest: int = 0

    @property
    def total(self) -> int:
        """Threads that the stretch stands for."""
        return self.once * self.times + self.rest


@dataclass(frozen=True, slots=True)
class Drawn:
    """A stretch of which `repeats` repeats are drawn."""

    stretch: Stretch
    repeats: int

    @property
    def count(self) -> int:
        """Threads that are drawn."""
        return self.stretch.once * self.repeats


def stretches(sequence: Sequence[T]) -> tuple[Stretch, ...]:
    """Return the outer groups of a complete sequence as stretches, in order and without gaps.

    >>> stretches(Sequence((Repeat((Run(1), Run(2), Run(3)), 40), Run(1))))
    (Stretch(first=0, once=3, times=40, rest=1),)
    """
    values = sequence.values()
    found: list[Stretch] = []
    for once, times in _pieces(sequence.items):
        first = found[-1].first + found[-1].total if found else 0
        last = found[-1] if found else None
        if times == 1 and last is not None and last.times == 1:
            found[-1] = replace(last, once=last.once + once)
        else:
            found.append(Stretch(first, once, times))
    return tuple(_with_rests(found, values))


def stretches_of(sequence: Sequence[T]) -> tuple[Stretch, ...]:
    """Return the stretches as the author grouped them; repeats that nobody wrote are found."""
    if any(isinstance(item, Repeat) and (item.times or 0) > 1 for item in sequence.items):
        return stretches(sequence)
    return stretches(shortest(sequence.values()))


def _pieces(items: tuple[Run[T] | Repeat[T], ...]) -> list[tuple[int, int]]:
    """Return each outer group as its length and how often it comes; what is written out as 1."""
    pieces: list[tuple[int, int]] = []
    for item in items:
        if isinstance(item, Run):
            pieces.append((item.count, 1))
        elif item.times == 1:
            pieces.extend(_pieces(item.items))
        elif item.length <= WRITTEN_OUT:
            pieces.append((item.length, 1))
        elif item.times:
            pieces.append((item.once, item.times))
    return pieces


def _with_rests(found: list[Stretch], values: Listing[T]) -> list[Stretch]:
    """Take what goes on like the repeat before it, and stops, into that repeat."""
    kept: list[Stretch] = []
    for each in found:
        before = kept[-1] if kept else None
        if before is not None and before.times > 1 and each.times == 1 and each.once < before.once:
            begun = values[before.first : before.first + each.once]
            if begun == values[each.first : each.first + each.once]:
                kept[-1] = replace(before, rest=each.once)
                continue
        kept.append(each)
    return kept


def drawn(found: Listing[Stretch], room: int, aim: int) -> tuple[Drawn, ...] | None:
    """Return how many repeats to draw so that they fit `room` threads, or None if none do.

    Repeats are drawn again while all together are fewer than `aim` threads.
    """
    chosen = [
        Drawn(each, min(each.times, -(-LEAST_DRAWN // each.once)) if each.times > 1 else 1)
        for each in found
    ]
    count = sum(each.count for each in chosen)
    if count > room:
        return None
    while True:
        more = [
            (each.count, place)
            for place, each in enumerate(chosen)
            if each.repeats < each.stretch.times and count + each.stretch.once <= min(room, aim)
        ]
        if not more:
            return tuple(chosen)
        place = min(more)[1]
        chosen[place] = replace(chosen[place], repeats=chosen[place].repeats + 1)
        count += chosen[place].stretch.once


def threads_of(chosen: Listing[Drawn]) -> NDArray[np.intp]:
    """Return the numbers of the threads that are drawn, counted from 0, shape (threads,)."""
    parts = [np.arange(each.stretch.first, each.stretch.first + each.count) for each in chosen]
    return np.concatenate(parts).astype(np.intp) if parts else np.empty(0, dtype=np.intp)


def period(values: Listing[T]) -> int:
    """Return the smallest step after which a list repeats itself, its last repeat cut or whole.

    A list that does not come twice is its own period. By the failure function of Knuth, Morris
    and Pratt (Fast pattern matching in strings, SIAM J. Comput. 6, 1977; from memory).

    >>> period([1, 2, 3, 1, 2, 3, 1]), period([1, 2, 3, 1])
    (3, 4)
    """
    borders = [0] * len(values)
    border = 0
    for place in range(1, len(values)):
        while border and values[place] != values[border]:
            border = borders[border - 1]
        if values[place] == values[border]:
            border += 1
        borders[place] = border
    step = len(values) - border
    return step if 2 * step <= len(values) else len(values)
