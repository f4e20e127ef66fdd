"""Which ends, or picks, an exercise shows: those that are wanted, or few that are worth it."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from cards.draft.stretches import period
from cards.exercises.exercise import CannotExercise
from cards.figures import count

PICKS: Final = 12
# Bound paper of 5 in has room for so many mm of ends to write in, columns to read, and patches.
_MOST_ENDS: Final = 16
_LEAST_ENDS: Final = 8
_ROOM: Final = 85.0
_WRITTEN: Final = 6.0
_READ: Final = 2.8
_PATCHES: Final = 9.6
# A repeat longer than that is searched no further for its liveliest threads.
_SEARCHED: Final = 2000


def most_ends(columns: int, *, colours: bool) -> int:
    """Return how many ends are shown at most beside so many treadles, and patches of yarn.

    >>> most_ends(4, colours=False), most_ends(2, colours=False), most_ends(16, colours=False)
    (12, 13, 8)
    """
    room = _ROOM - _READ * columns - (_PATCHES if colours else 0.0)
    return min(_MOST_ENDS, max(_LEAST_ENDS, int(room / _WRITTEN)))


@dataclass(frozen=True, slots=True)
class Choice:
    """A choice of threads called `name`, "ends" or "picks".

    `first` counts from 1; where it or the `number` is None it is chosen, of the threads `inner` and
    no more than `most`.
    """

    name: str
    inner: range
    first: int | None
    number: int | None
    most: int

    def of(self, does: Sequence[Hashable], told: Sequence[Hashable] = ()) -> range:
        """Return the threads to show: those wanted, or whole repeats of what the threads do.

        Where no repeat is short enough, those are shown among which `told` differs the most, or
        what they do. Raises CannotExercise for threads that are not there.
        """
        there, told = does[self.inner.start : self.inner.stop], told or does
        number = self.number
        if number is None:
            once = period(there)
            number = once * (self.most // once) if once <= self.most else self.most
            number = min(len(there), number)
        start = (self.first or 1) - 1
        if self.first is None:
            told = told[self.inner.start : self.inner.stop]
            start = self.inner.start + _liveliest(told, number)
        if start + number > len(does):
            raise self._beyond(start, number, len(does))
        return range(start, start + number)

    def _beyond(self, start: int, number: int, there: int) -> CannotExercise:
        key = self.name
        if self.first is not None and (self.number is None or self.first > there):
            key = f"first_{self.name.removesuffix('s')}"
        return CannotExercise(
            "error",
            "beyond-the-draft",
            f"{self.name} {start + 1} to {start + number} are to be shown, and there are "
            f"{count(there)}",
            f"show {self.name} that are there",
            "part",
            key,
        )


def _liveliest(told: Sequence[Hashable], number: int) -> int:
    """Return where the first so many threads begin among which the most differ and change."""
    if number >= len(told):
        return 0
    changes = [one != two for one, two in pairwise(told)]
    return max(
        range(min(len(told) - number, _SEARCHED) + 1),
        key=lambda at: (
            len(set(told[at : at + number])),
            min(sum(changes[at : at + number - 1]), number // 2),
            -at,
        ),
    )
