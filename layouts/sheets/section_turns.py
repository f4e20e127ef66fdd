"""The turns at both sides of a cross-section: dashed ways from pick to pick, named turn or fold.

A way that leads over others goes farther out. Where the next pick is not on the page, the way
ends in a stub that says to which pick it goes, and there from which it comes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Final

from cards.cloth.weft_path import Side
from cards.cross_section import CrossSection, Turn
from layouts.drawing import Mark, Weight
from layouts.sheets.parts import INK
from layouts.sheets.weft_line import stub_line, turn_line
from layouts.typeface import NOTE, cap_height, label, measure

_REACH: Final = 5.0  # of the innermost way
_STEP: Final = 3.0  # from each way to the one around it
_GAP: Final = 1.2
_STUB_OUT: Final = 4.0
_STUB_DOWN: Final = 4.5
_LINE: Final = 3.9  # from one line of words to the next
_ARROW: Final = 2.0


@dataclass(frozen=True, slots=True)
class SideRoom:
    """Room in mm that the turns need at the left and at the right."""

    left: float
    right: float


@dataclass(frozen=True, slots=True)
class _Way:
    """A way at one side: from a pick to another, either of which may lie outside the page."""

    start: int | None
    end: int | None
    words: tuple[str, ...]
    level: int = 0


def room_for(section: CrossSection) -> SideRoom:
    """Return the room that the turns need, on however many pages the picks stand."""
    picks = range(len(section.picks))
    return SideRoom(*(_room(section, picks, side) for side in ("left", "right")))


def _room(section: CrossSection, picks: range, side: Side) -> float:
    ways = _levelled(_ways(section, picks, side))
    reach = max((way.level for way in ways), default=0) * _STEP + _REACH
    told = {word for way in ways for word in way.words}
    told |= {f"{word} {len(section.picks)}" for word in ("to", "from")}
    return _ARROW + reach + _GAP + max(measure(word, NOTE, "bold") for word in told)


def draw_turns(
    section: CrossSection,
    picks: range,
    height: Callable[[int], float],
    sides: tuple[float, float],
) -> Iterable[Mark]:
    """Yield the turns of a page of picks; `height` gives the y of the weft of each.

    `sides` are the x at which the weft turns, left and right.
    """
    left, right = sides
    for side, x, out in (("left", left, -1), ("right", right, 1)):
        ways = _levelled(_ways(section, picks, "left" if side == "left" else "right"))
        yield from _side(ways, x, out, height)


def _side(ways: list[_Way], x: float, out: int, height: Callable[[int], float]) -> Iterable[Mark]:
    words: list[tuple[float, float, tuple[str, ...]]] = []
    for way in ways:
        reach = _REACH + _STEP * way.level
        if way.start is not None and way.end is not None:
            start, end = height(way.start), height(way.end)
            begin = x + out * _ARROW
            yield turn_line((begin, start), (x, end), out * reach)
            words.append(((start + end) / 2, reach + _ARROW, way.words))
        elif way.start is not None:
            at = height(way.start)
            yield stub_line((x + out * _ARROW, at), out * _STUB_OUT, _STUB_DOWN)
            words.append((at + 2.0, _STUB_OUT + _ARROW, way.words))
        elif way.end is not None:
            at = height(way.end)
            yield stub_line((x, at), out * _STUB_OUT, -_STUB_DOWN)
            words.append((at - 2.0, _STUB_OUT, way.words))
    farthest = max((reach for _, reach, _ in words), default=0.0)
    yield from _names(words, x, out, farthest)


def _names(
    words: list[tuple[float, float, tuple[str, ...]]], x: float, out: int, farthest: float
) -> Iterable[Mark]:
    """Yield what each way is, beside it, and pushed down where two would lie on each other."""
    below = float("-inf")
    at = x + out * (farthest + _GAP)
    anchor = "start" if out > 0 else "end"
    for middle, _, lines in sorted(words):
        top = max(middle - _LINE * len(lines) / 2, below)
        for number, line in enumerate(lines):
            plain = line == "turn" or line.startswith(("to ", "from "))
            weight: Weight = "regular" if plain else "bold"
            y = top + number * _LINE + (_LINE + cap_height(NOTE)) / 2
            yield label(at, y, line, NOTE, weight, "start" if anchor == "start" else "end", INK)
        below = top + _LINE * len(lines)


def _ways(section: CrossSection, picks: range, side: Side) -> list[_Way]:
    """Return the ways at a side of a page."""
    number = len(section.picks)
    repeats = section.cycle.whole and section.cycle.shuttles
    ways = []
    for turn in section.turns:
        if turn.side != side:
            continue
        beyond = turn.following >= number
        target = turn.following % number if repeats else turn.following
        leaves, enters = turn.pick in picks, target in picks
        if leaves and enters and not beyond:
            ways.append(_Way(turn.pick, target, _told(turn)))
            continue
        if leaves:
            ways.append(_Way(turn.pick, None, (*_told(turn), f"to {target + 1}")))
        if enters:
            ways.append(_Way(None, target, (f"from {turn.pick + 1}",)))
    return ways


def _told(turn: Turn) -> tuple[str, ...]:
    return (turn.kind, *turn.fault.split(" ", 1)) if turn.fault else (turn.kind,)


def _levelled(ways: list[_Way]) -> list[_Way]:
    """Return the ways, shorter ones within longer ones, no two that overlap equally far out."""
    placed: list[_Way] = []
    for way in sorted(ways, key=_span):
        low, high = _ends(way)
        taken = {
            other.level for other in placed if low < _ends(other)[1] and _ends(other)[0] < high
        }
        level = next(each for each in range(len(ways) + 1) if each not in taken)
        placed.append(_Way(way.start, way.end, way.words, level))
    return placed


def _ends(way: _Way) -> tuple[float, float]:
    """Return where a way begins and ends, in picks; a stub is a short way alone."""
    if way.start is not None and way.end is not None:
        return way.start, way.end
    if way.start is not None:
        return way.start, way.start + 0.2
    assert way.end is not None  # noqa: S101 -- a way has one of both
    return way.end - 0.2, way.end


def _span(way: _Way) -> tuple[float, float]:
    low, high = _ends(way)
    return high - low, low
