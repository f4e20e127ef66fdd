"""The largest number at which limits hold, found with few trials.

A limit is taken to be reached the sooner the larger the number is; one that is broken at a small
number and less at a larger one is looked for above, as the yarn of a border is, of which a sample
of short pieces takes more. Numbers at which nothing comes out, as where a repeat is left
unfinished, are passed over.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from cards.project.limits import Limit

Limits = tuple[Limit, ...]

# Of so many numbers above the one that was found it is proved that they do not hold.
_PROVED = 3

_GROWTH = 4

# Where nothing comes out of so many numbers in a row, nothing does further on: no repeat of
# threading and colours is half a metre wide in steps of a millimetre.
_GAP = 500


@dataclass(frozen=True, slots=True)
class Found:
    """The largest `number` that holds, 0 if none does, and the limits that the next one breaks.

    `least` is the smallest number at which anything came out, 0 if nothing did. `broken` is empty
    where nothing larger comes out, or where no limit is ever reached.
    """

    number: int
    broken: Limits
    least: int


class Search:
    """Looks for the largest number up to `top`; `tried` gives the limits at one, or None."""

    def __init__(self, tried: Callable[[int], Limits | None], top: int) -> None:
        self._tried = tried
        self._top = top
        self._known: dict[int, Limits | None] = {}

    def largest(self, start: int) -> Found:
        """Return what is found, beginning at a number that is about right."""
        low, high, guess = 0, self._top + 1, start
        while high - low > 1:
            guess = min(max(guess, low + 1), high - 1)
            number = self._first(guess, high)
            if number is None:
                high, guess = guess, (low + guess) // 2
                continue
            before = high - low
            if self._holds(number):
                if high > self._top and self._endless(low, number):
                    return Found(number, (), self._least())
                low = number
            elif self._too_small(number, high):
                low = number
            else:
                high = guess
            guess = self._guess(low, high, halved=high - low <= before / 2)
        low = self._proved(low if self._holds(low) else 0)
        return Found(low, self._broken(low), self._least())

    def _at(self, number: int) -> Limits | None:
        if not number:
            return None
        if number not in self._known:
            self._known[number] = self._tried(number)
        return self._known[number]

    def _first(self, number: int, stop: int) -> int | None:
        """Return the first number from `number` on, below `stop`, at which anything comes out."""
        numbers = range(number, min(stop, number + _GAP))
        return next((each for each in numbers if self._at(each) is not None), None)

    def _holds(self, number: int) -> bool:
        limits = self._at(number)
        return limits is not None and all(limit.holds for limit in limits)

    def _too_small(self, number: int, high: int) -> bool:
        """Whether what is broken at a number is broken less at a larger one."""
        larger = high if high <= self._top else min(2 * number, self._top)
        stop = self._top + 1
        above = self._first(max(larger, number + 1), stop) or self._first(number + 1, stop)
        if above is None:
            return False
        after = {(each.kind, each.words): each.share for each in self._at(above) or ()}
        broken = [each for each in self._at(number) or () if not each.holds]
        return all(after.get((each.kind, each.words), each.share) < each.share for each in broken)

    def _share(self, number: int) -> float:
        return max((limit.share for limit in self._at(number) or ()), default=0.0)

    def _endless(self, low: int, number: int) -> bool:
        """Whether no limit is any nearer at a much larger number: then none is ever reached."""
        if not low or number < low * (_GROWTH - 1):
            return False
        return all(now.measure <= before.measure for before, now in self._pairs(low, number))

    def _pairs(self, low: int, high: int) -> Iterator[tuple[Limit, Limit]]:
        """Yield every limit as two numbers take of it; one unknown to the first is not taken."""
        first = {each.words: each for each in self._at(low) or ()}
        for each in self._at(high) or ():
            yield first.get(each.words, replace(each, share=0.0, steady=None)), each

    def _guess(self, low: int, high: int, *, halved: bool) -> int:
        """Return the next number to try: by proportion, or the middle where that does not help."""
        share = self._share(low) if low else 0.0
        if high > self._top:
            return min(max(self._near(low), low + 1), _GROWTH * low)
        above = self._first(high, self._top + 1)
        over = self._share(above) if above is not None else share
        if not halved or over <= share or share > 1.0:
            return (low + high) // 2
        return low + int((high - low) * (1.0 - share) / (over - share))

    def _near(self, low: int) -> int:
        """Return about where a limit is reached: along the line through two numbers that hold.

        What does not grow with the number, as the width with the length, is never reached.
        """
        before = max((each for each in self._known if each < low and self._holds(each)), default=0)
        if not before:
            share = self._share(low)
            return int(low / share) if 0.0 < share <= 1.0 else _GROWTH * low
        steps = [
            (low - before) * (1.0 - last.share) / (last.share - first.share)
            for first, last in self._pairs(before, low)
            if last.share > first.share
        ]
        return low + int(min(steps, default=_GROWTH * low))

    def _proved(self, low: int) -> int:
        """Return the number found, or a larger one: packages and repeats go by jumps."""
        number, proved = low, 0
        while proved < _PROVED:
            above = self._first(number + 1, self._reach(low))
            if above is None:
                break
            number, proved = above, proved + 1
            if self._holds(number):
                low, proved = number, 0
        return low

    def _reach(self, low: int) -> int:
        """Return where to stop looking: beyond the smallest number known to break a limit."""
        over = [each for each in self._known if each > low and self._at(each) is not None]
        return min(self._top, max(min(over, default=low), low) + _PROVED) + 1

    def _broken(self, low: int) -> Limits:
        above = self._first(low + 1, self._reach(low))
        limits = self._at(above) if above is not None else None
        return tuple(limit for limit in limits or () if not limit.holds)

    def _least(self) -> int:
        return min((each for each in self._known if self._known[each] is not None), default=0)
