"""The groups in which a warp is threaded, and where an end stands among them."""

from __future__ import annotations

from cards.counted import Bracket, CountedList, Counting, clearer, counted_parts, in_groups
from cards.draft.shortest import shortest
from cards.sequence import Repeat, Run, Sequence

# A group is threaded, checked and tied at once: four to eight ends (common practice).
GROUP = 8

_MOST_BOXES = 400


def threading_groups(
    threading: Sequence[int], selvedges: tuple[int, int], first_end: str, group: int = GROUP
) -> CountedList[int]:
    """Return the threading as the author grouped it, or with its repeats found if that is clearer.

    Selvedges, so many ends at the first end and at the last, stand apart, so that no repeat runs
    across them.
    """
    first, body, last = parted(threading, *selvedges)
    # A box for every group that is threaded, tied and ticked at once, however many there are.
    counting: Counting[int] = Counting(in_groups(group), most=_MOST_BOXES)
    if not any(isinstance(item, Repeat) for item in body.items):
        body = clearer(shortest(body.values()), body, counting)
    other = "left" if first_end == "right" else "right"
    parts = (f"{first_end} selvedge", first), ("", body), (f"{other} selvedge", last)
    return counted_parts([part for part in parts if part[1].length], counting)


def parted(
    threading: Sequence[int], first: int, last: int
) -> tuple[Sequence[int], Sequence[int], Sequence[int]]:
    """Return the selvedge of `first` ends, the body, and the selvedge of `last` ends."""
    items = list(threading.items)
    edges: tuple[list[Run[int] | Repeat[int]], ...] = ([], [])
    for edge, length, at in ((edges[0], first, 0), (edges[1], last, -1)):
        while sum(item.length for item in edge) < length:
            edge.insert(0 if at else len(edge), items.pop(at))
    return Sequence(tuple(edges[0])), Sequence(tuple(items)), Sequence(tuple(edges[1]))


def place_words(groups: CountedList[int], end: int) -> str:
    """Return where an end, from 0, stands on the threading chart.

    >>> chart = threading_groups(Sequence((Repeat((Run(1), Run(2)), 9), Run(1))), (0, 0), "right")
    >>> place_words(chart, 7), place_words(chart, 18)
    ('line 1, repeat 4, end 2', 'line 2, end 1')
    """
    done = 0
    for first, last in groups.blocks():
        lines = range(first, last + 1)
        outer = next(
            (each for each in groups.brackets if each.first == first and each.depth == 1), None
        )
        total = outer.total if outer else groups.lines[first].count
        if end < done + total:
            return _within(groups, lines, outer, end - done)
        done += total
    raise IndexError(end)


def _within(groups: CountedList[int], lines: range, outer: Bracket | None, end: int) -> str:
    if outer is None:
        return f"line {groups.lines[lines.start].number}, end {end + 1}"
    repeat, rest = divmod(end, outer.once)
    inner = any(each.depth > 1 and each.first in lines for each in groups.brackets)
    if not inner:
        for line in (groups.lines[index] for index in lines):
            if rest < line.count:
                return f"line {line.number}, repeat {repeat + 1}, end {rest + 1}"
            rest -= line.count
    numbers = f"lines {groups.lines[lines.start].number} to {groups.lines[lines[-1]].number}"
    return f"{numbers}, repeat {repeat + 1}, end {rest + 1} of it"
