"""A sequence with nested repeats: how weavers write threadings, treadlings and yarn orders.

`24 slate, (2 sand, 2 slate) x 10, 24 slate` is kept as a tree, so that a card can print the
grouping that the author chose. One group may stand `to fill`: its times are found when the
length of the whole is known. This module knows the shape only, neither notation nor weaving.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Generic, TypeVar

T = TypeVar("T")
U = TypeVar("U")


@dataclass(frozen=True, slots=True)
class Run(Generic[T]):
    """One value standing `count` times side by side; `offset` is its place in the written text."""

    value: T
    count: int = 1
    offset: int = 0

    @property
    def length(self) -> int:
        """How many values the run stands for."""
        return self.count


@dataclass(frozen=True, slots=True)
class Repeat(Generic[T]):
    """A bracketed group woven `times` times over; `times` is None for a group `to fill`."""

    items: tuple[Run[T] | Repeat[T], ...]
    times: int | None
    offset: int = 0

    @property
    def once(self) -> int:
        """The length of one repeat, in values."""
        return sum(item.length for item in self.items)

    @property
    def length(self) -> int:
        """How many values all repeats stand for; a group still `to fill` counts nothing."""
        return self.once * (self.times or 0)


@dataclass(frozen=True, slots=True)
class Sequence(Generic[T]):
    """A whole sequence as written. At most one top-level group stands `to fill`."""

    items: tuple[Run[T] | Repeat[T], ...]

    @property
    def length(self) -> int:
        """Number of values, without those of a group `to fill`."""
        return sum(item.length for item in self.items)

    @property
    def fill(self) -> Repeat[T] | None:
        """The group that stands `to fill`, if there is one."""
        for item in self.items:
            if isinstance(item, Repeat) and item.times is None:
                return item
        return None

    @property
    def unit(self) -> Sequence[T]:
        """What is repeated when the sequence is: a sequence that is one group counts as the group.

        >>> Sequence((Repeat((Run(1), Run(2)), 4),)).unit
        Sequence(items=(Run(value=1, count=1, offset=0), Run(value=2, count=1, offset=0)))
        """
        unit = self
        while len(unit.items) == 1 and isinstance(unit.items[0], Repeat):
            unit = Sequence(unit.items[0].items)
        return unit

    def fits(self, total: int) -> bool:
        """Whether the sequence can come out on exactly `total` values."""
        group = self.fill
        rest = total - self.length
        if group is None:
            return rest == 0
        return rest >= group.once and rest % group.once == 0

    def reach(self, least: int) -> int:
        """Smallest length of at least `least` values on which the sequence comes out.

        A sequence without a group `to fill` has one length only, which is returned even if it
        is smaller.
        """
        group = self.fill
        if group is None:
            return self.length
        times = max(1, -(-(least - self.length) // group.once))
        return self.length + times * group.once

    def filled(self, total: int) -> Sequence[T]:
        """Return the sequence with the group `to fill` repeated until `total` values are reached.

        Raises ValueError when it does not come out on `total`.
        """
        if not self.fits(total):
            raise ValueError(f"the sequence does not come out on {total}")
        group = self.fill
        if group is None:
            return self
        times = (total - self.length) // group.once
        items = tuple(replace(item, times=times) if item is group else item for item in self.items)
        return Sequence(items)

    def take(self, total: int) -> Sequence[T]:
        """Return the same grouping cut off after the first `total` values.

        >>> unit = Sequence((Repeat((Run(1), Run(2)), 3),))
        >>> unit.take(5).values()
        [1, 2, 1, 2, 1]
        """
        return Sequence(_taken(self.items, total))

    def cycled(self, total: int) -> Sequence[T]:
        """Return the sequence repeated from its beginning until `total` values are reached.

        A sequence that is one bracketed group counts as that group, so `(1 2) x 4` cycled to 100
        is `(1 2) x 50`. A group `to fill` is filled instead. Raises ValueError when the sequence
        is empty, or does not come out on `total` though a group stands `to fill`.
        """
        if self.fill is not None:
            return self.filled(total)
        unit = self.unit
        if unit.length == 0:
            raise ValueError("an empty sequence cannot be repeated")
        times, rest = divmod(total, unit.length)
        whole: tuple[Run[T] | Repeat[T], ...] = ()
        if times == 1:
            whole = unit.items
        elif times > 1 and len(unit.items) == 1 and isinstance(unit.items[0], Run):
            run = unit.items[0]
            return Sequence((replace(run, count=total),))
        elif times > 1:
            whole = (Repeat(unit.items, times),)
        return Sequence(whole + unit.take(rest).items)

    def map(self, change: Callable[[T], U]) -> Sequence[U]:
        """Return the same tree with every value changed."""
        return Sequence(tuple(_mapped(item, change) for item in self.items))

    def runs(self) -> Iterator[Run[T]]:
        """Every run of the tree once, in the order in which it is written."""
        return _runs(self.items)

    def values(self) -> list[T]:
        """Every value in order, repeats written out; a group still `to fill` gives none."""
        return _expanded(self.items)


def _mapped(item: Run[T] | Repeat[T], change: Callable[[T], U]) -> Run[U] | Repeat[U]:
    if isinstance(item, Run):
        return Run(change(item.value), item.count, item.offset)
    return Repeat(tuple(_mapped(each, change) for each in item.items), item.times, item.offset)


def _runs(items: tuple[Run[T] | Repeat[T], ...]) -> Iterator[Run[T]]:
    for item in items:
        if isinstance(item, Run):
            yield item
        else:
            yield from _runs(item.items)


def _taken(items: tuple[Run[T] | Repeat[T], ...], total: int) -> tuple[Run[T] | Repeat[T], ...]:
    kept: list[Run[T] | Repeat[T]] = []
    for item in items:
        if total <= 0:
            break
        if item.length <= total:
            kept.append(item)
        elif isinstance(item, Run):
            kept.append(replace(item, count=total))
        else:
            whole, rest = divmod(total, item.once)
            if whole:
                kept.append(replace(item, times=whole))
            kept.extend(_taken(item.items, rest))
        total -= item.length
    return tuple(kept)


def _expanded(items: tuple[Run[T] | Repeat[T], ...]) -> list[T]:
    values: list[T] = []
    for item in items:
        if isinstance(item, Run):
            values.extend([item.value] * item.count)
        else:
            values.extend(_expanded(item.items) * (item.times or 0))
    return values
