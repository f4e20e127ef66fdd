"""In which groups the bars of a chain stand, so that gaps come where the pattern comes round.

A repeat of three to six bars is a group; a shorter one stands several times in a group, and a
longer one falls into groups of even size. A group is not torn between columns or pages unless no
page can hold it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise
from math import lcm

from cards.chain_steps import Bar, Chain

Group = tuple[Bar, ...]

# Sizes of groups at which the eye still counts, the best first.
_SIZES = (4, 5, 6, 3)
_MOST = 6


def bar_groups(chain: Chain) -> list[Group]:
    """Return the bars of a chain in groups."""
    bars = chain.bars
    repeat = lcm(chain.once, chain.picks_a_bar) // chain.picks_a_bar
    if not chain.goes_round or len(bars) % repeat:
        repeat = len(bars)
    times = len(bars) // repeat
    if repeat <= 2:
        number = max(1, round(len(bars) / 4))
        sizes = [repeat * each for each in even_parts(times, number)]
    else:
        sizes = _sizes(repeat) * times
    return _cut(bars, sizes)


def _sizes(repeat: int) -> list[int]:
    """Return the sizes of the groups of one repeat.

    >>> _sizes(5), _sizes(8), _sizes(10), _sizes(11)
    ([5], [4, 4], [5, 5], [4, 4, 3])
    """
    if repeat <= _MOST:
        return [repeat]
    size = next((each for each in _SIZES if repeat % each == 0), None)
    return [size] * (repeat // size) if size else even_parts(repeat, -(-repeat // 5))


def even_parts(whole: int, parts: int) -> list[int]:
    """Return a whole number in parts that differ by one at most, the larger ones first.

    >>> even_parts(11, 3)
    [4, 4, 3]
    """
    each, rest = divmod(whole, parts)
    return [each + 1] * rest + [each] * (parts - rest)


def _cut(bars: Sequence[Bar], sizes: Sequence[int]) -> list[Group]:
    marks = [sum(sizes[:place]) for place in range(len(sizes) + 1)]
    return [tuple(bars[start:stop]) for start, stop in pairwise(marks)]


def not_larger(groups: Sequence[Group], most: int) -> list[Group]:
    """Return groups of at most so many bars: those that are larger in parts."""
    found = []
    for group in groups:
        found += _cut(group, even_parts(len(group), -(-len(group) // most)))
    return found


def columned(
    groups: Sequence[Group], columns: int, room: float, height: Callable[[Sequence[Group]], float]
) -> list[list[Group]]:
    """Return what goes into so many columns `room` mm high, of even height if all of it does.

    `height` is that in mm of groups one below another.
    """
    filled = _filled(groups, columns, room, height)
    if sum(map(len, filled)) < len(groups):
        return filled
    heights = {height(groups[a : b + 1]) for a in range(len(groups)) for b in range(a, len(groups))}
    for least in sorted(each for each in heights if each <= room):
        even = _filled(groups, columns, least, height)
        if sum(map(len, even)) == len(groups):
            return even
    return filled


def _filled(
    groups: Sequence[Group], columns: int, room: float, height: Callable[[Sequence[Group]], float]
) -> list[list[Group]]:
    found: list[list[Group]] = [[]]
    for group in groups:
        if height([*found[-1], group]) > room + 1e-9:
            if not found[-1] or len(found) == columns:
                break
            found.append([])
            if height([group]) > room + 1e-9:
                break
        found[-1].append(group)
    return [column for column in found if column]
