"""Draws the heddle count: every shaft as a bar seen from the front, at the height where it hangs.

In the bar stand the heddles left and right of the middle of the warp, outside it the spare ones.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import accumulate, groupby

from cards.figures import Figures
from cards.heddle_count import HeddleCount
from cards.loom.heddles import ShaftHeddles
from layouts.drawing import Box, Drawing, Line, Mark
from layouts.paper import Frame, PaperTooSmall
from layouts.sheets.layer_key import layer_key
from layouts.sheets.layer_mark import TAG, layer_tag
from layouts.sheets.page import PageFlow
from layouts.sheets.parts import (
    BOX,
    HAIRLINE,
    HEAVY,
    INK,
    SOFT,
    Block,
    baseline,
    beside,
    heading_line,
    key_figures,
    leading,
    paragraph,
    rows_of,
    rule,
    stack,
    tick_box,
)
from layouts.typeface import BODY, FIGURE, LABEL, cap_height, label, measure

SLUG = "heddle-count"

_ROW = 12.4
_BAR = 9.0
_PAD = 3.0  # in a column, for both sides together
_NARROW_PAD = 2.0
_BEFORE_TICK = 1.6
_WARP = "#e4e4e4"
_SMALLER = LABEL + 2  # figures that are looked up, not counted out
_MOVE = 9.0

# A warp that leaves less than this free has no room for spare heddles (common practice, no source).
_LEAST_ROOM = 20.0


@dataclass(frozen=True, slots=True)
class _Columns:
    """Where the boxes to tick stand, and the left edge of every column, in mm.

    They are counted from `start`, before which boxes stand for a left hand; all is `width` wide.
    Two are equal where a column is left out; `narrow` says whether what is needed and what is there
    share one. `edge`, `left`, `middle`, `right`, `other` are the parts of the bar, from left to
    right.
    """

    narrow: bool
    start: float
    width: float
    tick: float
    needed: float
    there: float
    edge: float
    left: float
    middle: float
    right: float
    other: float
    end: float


def draw_heddle_count(card: HeddleCount, frame: Frame) -> Drawing:
    """Return the pages of a heddle count. Raises PaperTooSmall where its columns do not fit."""
    flow = PageFlow(frame, card.heading, _legend(card))
    columns = _columns(card, flow.width, left_handed=flow.left_handed)
    flow.add(key_figures(_key_figures(card), flow.width))
    flow.add(paragraph(_reading(card), flow.width, BODY, colour=SOFT))
    if card.layers:
        flow.gap(1.5)
        flow.add(layer_key(card.layers, flow.width))
    if card.moves or card.added:
        flow.gap(2.5)
        for block in _moves(card, flow.width):
            flow.add(block)
    flow.gap(2.5)
    head = _head(card, columns)
    rows = list(_rows(card, columns))
    flow.add(stack([_end_of_loom("Back of the loom", flow.width), head, rows[0]]))
    flow.running_head = head
    for row in rows[1:-1]:
        flow.add(row)
    front = _end_of_loom("Front of the loom, where the weaver sits", flow.width)
    flow.add(stack([*rows[1:][-1:], front]))
    flow.running_head = None
    flow.notes()
    return flow.drawing("Heddle count", SLUG)


def _legend(card: HeddleCount) -> str:
    near = "nearest the weaver" if card.shaft_1 == "front" else "farthest from the weaver"
    return f"Seen from the front. First end at the {card.first_end}. Shaft 1 is {near}."


def _key_figures(card: HeddleCount) -> list[tuple[str, str]]:
    figures = [(str(card.ends), "heddles needed")]
    if card.known:
        figures.append((str(card.there), "there"))
        figures.append((str(card.moved), "to move"))
        figures.append((str(card.added), "to add"))
    return figures


def _reading(card: HeddleCount) -> str:
    words = (
        "On each shaft push apart the heddles at the middle of the warp, so many to the left and "
        "so many to the right, then tick it."
    )
    if card.middle:
        shaft = next(each.shaft for each in card.shafts if each.middle)
        words += f" End {card.middle} hangs in the middle itself, on shaft {shaft}."
    if card.floating:
        words += " The floating selvedges go through no heddle."
    return f"{words} {_spare(card)}".rstrip()


def _moves(card: HeddleCount, width: float) -> list[Block]:
    """Return what to do before all else, each with a box to tick."""
    title = "First move these heddles" if card.moves else "First add these heddles"
    under = "" if card.fewest else "Fewer moves may do as well."
    steps = [(each.heddles, f"from shaft {each.source} to {each.target}") for each in card.moves]
    adds = sorted((each.shaft, each.added) for each in card.shafts if each.added)
    steps += [(added, f"more on shaft {shaft}") for shaft, added in adds]
    figures = max(measure(str(number), FIGURE, "bold") for number, _ in steps)
    start = BOX + 2.0 + figures + 1.8
    wide = max(start + measure(words, LABEL) for _, words in steps)
    rows = rows_of([wide] * len(steps), width, least_gap=6.0)
    pitch = wide + 6.0
    lines = [
        beside([(k * pitch, _move(*steps[at], start)) for k, at in enumerate(row)]) for row in rows
    ]
    blocks = [stack([heading_line(title, width, under), lines[0]]), *lines[1:]]
    if adds:
        words = "Those to add are bought, or tied of string as the end is drawn in."
        blocks.append(paragraph(words, width, BODY, colour=SOFT))
    return blocks


def _move(number: int, words: str, start: float) -> Block:
    def draw(x: float, y: float) -> Iterable[Mark]:
        line = y + _MOVE / 2 + cap_height(FIGURE) / 2
        yield tick_box(x, y + (_MOVE - BOX) / 2)
        yield label(x + start - 1.8, line, str(number), FIGURE, "bold", "end", INK)
        yield label(x + start, line, words, LABEL, colour=INK)

    return Block(_MOVE, draw)


def _columns(card: HeddleCount, width: float, *, left_handed: bool) -> _Columns:
    """Return the columns, on narrow paper what is needed and there one above the other.

    What is left over widens the part of the bar that is the warp.
    """
    found = _laid(card, width, _PAD, narrow=False)
    if found.end > found.tick and card.known:
        found = _laid(card, width, _NARROW_PAD, narrow=True)
    if found.end > found.tick:
        least = width + found.end - found.tick
        raise PaperTooSmall(f"the heddle count needs {least:.0f} mm between the margins")
    if not left_handed:
        return found
    before = min(BOX + _BEFORE_TICK, width - found.end)
    return replace(found, start=before, tick=-before)


def _laid(card: HeddleCount, width: float, pad: float, *, narrow: bool) -> _Columns:
    def wide(texts: Iterable[str], size: float = FIGURE, head: str = "") -> float:
        figures = max((measure(text, size, "bold") for text in texts), default=0.0)
        return max(figures, measure(head, BODY)) + pad

    shafts = card.shafts
    tags = max(len(card.layers_of(each.shaft)) for each in shafts) * (TAG + 0.6)
    numbers = wide(str(each.shaft) for each in shafts)
    shaft = max(numbers + tags, measure("shaft", BODY) + pad)
    needed = wide((str(each.needed) for each in shafts), _SMALLER, "needed")
    there = edge = 0.0
    if card.known:
        there = wide((str(each.there) for each in shafts), _SMALLER, "there")
        there = max(there, wide(map(_over, shafts), BODY))
        edge = wide((str(most) for each in shafts for most in each.edges or ()), head="spare")
    if narrow:
        needed, there = wide((words for each in shafts for words in _in_short(each)), BODY), 0.0
    middle = wide(["1"]) if card.middle else 0.0
    half = wide((str(n) for each in shafts for n in (each.left, each.right)), head="right")
    least = shaft + needed + there + 2 * edge + 2 * half + middle
    half += max(0.0, width - BOX - _BEFORE_TICK - least) / 2
    parts = accumulate((shaft, needed, there, edge, half, middle, half, edge))
    return _Columns(narrow, 0.0, width, width - BOX, *parts)


def _in_short(shaft: ShaftHeddles) -> tuple[str, str]:
    return f"needs {shaft.needed}", f"has {shaft.there}"


def _over(shaft: ShaftHeddles) -> str:
    """Return how many heddles are spare or short before any are moved, or how many it gives."""
    over = shaft.over or 0
    if shaft.moved < 0:
        return f"gives {-shaft.moved}"
    return f"short {-over}" if over < 0 else f"spare {over}"


def _head(card: HeddleCount, columns: _Columns) -> Block:
    """Return the words above the columns."""
    height = 2 * leading(BODY) + 1.0
    words = [(0.0, columns.needed, "shaft")]
    if not columns.narrow:
        words.append((columns.needed, columns.there, "needed"))
    if card.known:
        words += [] if columns.narrow else [(columns.there, columns.edge, "there")]
        words.append((columns.edge, columns.left, "spare"))
        words.append((columns.other, columns.end, "spare"))
    words += [(columns.left, columns.middle, "left"), (columns.right, columns.other, "right")]

    def draw(x: float, y: float) -> Iterable[Mark]:
        x += columns.start
        low = y + leading(BODY) + baseline(BODY)
        middle = x + (columns.middle + columns.right) / 2
        top = y + baseline(BODY)
        yield label(middle, top, "middle of the warp", BODY, "bold", "middle", INK)
        yield Line(middle, top + 1.0, middle, y + height, HEAVY, INK)
        for left, right, word in words:
            anchored = left < columns.edge
            at = x + left if anchored else x + (left + right) / 2
            yield label(at, low, word, BODY, anchor="start" if anchored else "middle", colour=SOFT)

    return Block(height, draw)


def _end_of_loom(words: str, width: float) -> Block:
    text = paragraph(words, width, BODY, "bold", SOFT)

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield from text.draw(x, y + 0.6)

    return Block(text.height + 1.2, draw)


def _rows(card: HeddleCount, columns: _Columns) -> Iterator[Block]:
    """Yield a row for every shaft, one for neighbours that stay without ends."""
    for idle, group in groupby(card.shafts, key=_idle):
        shafts = list(group)
        if idle:
            yield _idle_row(shafts, columns)
        else:
            yield from (_row(card, columns, shaft) for shaft in shafts)


def _idle(shaft: ShaftHeddles) -> bool:
    """Whether a shaft holds no end, and gives no heddle away."""
    return not shaft.needed and not shaft.moved


def _idle_row(shafts: list[ShaftHeddles], columns: _Columns) -> Block:
    """Return the row of shafts without ends, whose heddles must not hang in the warp."""
    numbers = sorted(shaft.shaft for shaft in shafts)
    some = f"Shafts {numbers[0]} to {numbers[-1]}" if len(numbers) > 1 else f"Shaft {numbers[0]}"
    words = f"{some}: no end. Push all heddles to the edges, out of the warp."
    text = paragraph(words, columns.width - BOX - 3.0, LABEL, "bold")

    def draw(x: float, y: float) -> Iterable[Mark]:
        height = max(text.height + 3.0, _ROW)
        yield from text.draw(x + columns.start, y + (height - text.height) / 2)
        yield tick_box(x + columns.start + columns.tick, y + (height - BOX) / 2)
        yield rule(x, y + height, columns.width, HAIRLINE)

    return Block(max(text.height + 3.0, _ROW), draw)


def _row(card: HeddleCount, columns: _Columns, shaft: ShaftHeddles) -> Block:
    """Return the row of one shaft."""

    def draw(x: float, y: float) -> Iterable[Mark]:
        line = y + _ROW / 2 + cap_height(FIGURE) / 2
        yield rule(x, y + _ROW, columns.width, HAIRLINE)
        x += columns.start
        yield label(x, line, str(shaft.shaft), FIGURE, "bold", colour=INK)
        at = x + measure(str(shaft.shaft), FIGURE, "bold") + 0.8 + TAG / 2
        for layer in card.layers_of(shaft.shaft):
            yield from layer_tag(layer.lane, at, y + _ROW / 2)
            at += TAG + 0.6
        if columns.narrow:
            yield from _two_lines(_in_short(shaft), BODY, shaft, x + columns.needed, y)
        else:
            yield label(x + columns.needed, line, str(shaft.needed), _SMALLER, colour=INK)
        if card.known and not columns.narrow:
            two = str(shaft.there), _over(shaft)
            yield from _two_lines(two, _SMALLER, shaft, x + columns.there, y)
        yield from _bar(shaft, columns, x, y, line)
        yield tick_box(x + columns.tick, y + (_ROW - BOX) / 2)

    return Block(_ROW, draw)


def _two_lines(
    words: tuple[str, str], size: float, shaft: ShaftHeddles, x: float, y: float
) -> Iterator[Mark]:
    """Yield what hangs on a shaft in two lines, the second bold where it is too little."""
    top = y + (_ROW - leading(size) - leading(BODY)) / 2
    short = (shaft.over or 0) < 0
    yield label(x, top + baseline(size), words[0], size, colour=INK)
    under = top + leading(size) + baseline(BODY)
    yield label(x, under, words[1], BODY, "bold" if short else "regular", colour=INK)


def _bar(shaft: ShaftHeddles, columns: _Columns, x: float, y: float, line: float) -> Iterator[Mark]:
    top = y + (_ROW - _BAR) / 2
    whole = columns.end - columns.edge
    warp = columns.other - columns.left
    yield Box(x + columns.left, top, warp, _BAR, fill=_WARP, stroke=None)
    yield Box(x + columns.edge, top, whole, _BAR, stroke=INK, line_width=0.3)
    for at in {columns.left, columns.other} - {columns.edge, columns.end}:
        yield Line(x + at, top, x + at, top + _BAR, 0.3, INK)
    parts = [(columns.left, columns.middle, shaft.left)]
    parts += [(columns.middle, columns.right, shaft.middle)] if shaft.middle else []
    parts += [(columns.right, columns.other, shaft.right)]
    if shaft.edges is not None:
        parts.insert(0, (columns.edge, columns.left, shaft.edges[0]))
        parts.append((columns.other, columns.end, shaft.edges[1]))
    for left, right, number in parts:
        yield label(x + (left + right) / 2, line, str(number), FIGURE, "bold", "middle", INK)
    if shaft.middle:
        for at in (columns.middle, columns.right):
            yield Line(x + at, top, x + at, top + _BAR, 0.3, INK)
    else:
        middle = x + (columns.middle + columns.right) / 2
        yield Line(middle, y, middle, y + _ROW, HEAVY, INK)


def _spare(card: HeddleCount) -> str:
    """Return what becomes of the spare heddles; nothing where none is left over."""
    if card.known and not any(each.spare for each in card.shafts):
        return ""
    if card.room is not None and card.room < _LEAST_ROOM:
        return "The warp is nearly as wide as the loom: take the spare heddles off."
    words = "Push the spare ones to the edges, half to each, so that the shaft hangs level"
    if card.room is None:
        return f"{words}; where the warp is as wide as the shafts, take them off."
    figures = Figures("metric" if card.heading.units == "metric" else "imperial")
    return f"{words}: {figures.both('width', card.room)} are free there at each side."
