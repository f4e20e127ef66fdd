"""The orders of the treadles for the feet: how they lie now, and every other order on offer."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from cards.cloth_words import listed
from cards.treadle_styles import Walk
from layouts.drawing import Mark
from layouts.sheets.parts import (
    HAIR,
    HAIRLINE,
    INK,
    SOFT,
    Block,
    baseline,
    heading_line,
    leading,
    paragraph,
    rule,
    stack,
)
from layouts.typeface import BODY, LABEL, label, measure

# What an order is called stands beside it if the sheet is not narrower than this.
_NAMED_LEAST, _NAME = 150.0, 62.0
_BETWEEN = 3.0
_AFTER_COLUMN = 5.0
# With two treadles every order is as good as the other.
_LEAST_TREADLES = 3


@dataclass(frozen=True, slots=True)
class _Order:
    """An order from left to right, the first `left` the left foot's, and all that it is called."""

    places: tuple[int, ...]
    left: int
    names: tuple[str, ...]
    reach: Fraction
    changes: Fraction | None
    joined: int


def feet_words(walk: Walk, width: float) -> list[Block]:
    """Return a row for each different order, that of now first, under its head.

    Nothing with two treadles.
    """
    if len(walk.left_foot) + len(walk.right_foot) < _LEAST_TREADLES:
        return []
    orders = _orders(walk)
    columns = _columns(walk, orders)
    words = ["Reach: mean treadles a step."]
    words += ["Changes: steps that change foot."] * (walk.changes is not None)
    words += ["Left + right: presses that join both feet."] * bool(walk.together)
    if walk.tabby is not None:
        words.append(f"Plain weave (tabby): {listed([str(each) for each in sorted(walk.tabby)])}.")
    if len(orders) > 1:
        words.append("Another order: its name as treadle_order in the spec.")
    head = [
        heading_line("For the feet", width),
        paragraph(" ".join(words), width, BODY),
        Block(0.6, lambda x, y: ()),
        _head(columns, width),
    ]
    rows = [_row(order, columns, place, width) for place, order in enumerate(orders)]
    return [stack([*head, rows[0]]), *rows[1:]]


def _orders(walk: Walk) -> list[_Order]:
    """Return the order of now and those on offer, one for each that differs."""
    now = (*walk.left_foot, *walk.right_foot)
    left = len(walk.left_foot)
    found = {(now, left): _Order(now, left, ("as now",), walk.reach, walk.changes, walk.joined)}
    for each in walk.offered:
        name = each.written if each.best else f"{each.written} (best found)"
        # With free treadles between them the treadles lie otherwise now than in this order.
        key = (each.places if each.now or each.places != now else (), each.left)
        if key in found:
            found[key] = replace(found[key], names=(*found[key].names, name))
        else:
            found[key] = _Order(
                each.places, each.left, (name,), each.reach, each.changes, each.joined
            )
    return list(found.values())


@dataclass(frozen=True, slots=True)
class _Column:
    """A column of figures: its head, a figure for each order, how far its end is from the right."""

    head: str
    figures: tuple[str, ...]
    end: float


def _columns(walk: Walk, orders: Sequence[_Order]) -> list[_Column]:
    """Return the columns of figures from right to left; none that would be empty."""
    some = []
    if walk.together:
        some.append(("left + right", [f"{each.joined} of {walk.together}" for each in orders]))
    if walk.changes is not None:
        some.append(("changes", [_share(each.changes) for each in orders]))
    some.append(("reach", [f"{float(each.reach):.2f}" for each in orders]))
    columns, end = [], 0.0
    for head, figures in some:
        columns.append(_Column(head, tuple(figures), end))
        widest = max(measure(head, BODY, "bold"), *(measure(each, LABEL) for each in figures))
        end += widest + _AFTER_COLUMN
    return columns


def _share(changes: Fraction | None) -> str:
    return "–" if changes is None else f"{round(100 * changes)} %"


def _room(columns: Sequence[_Column], width: float) -> float:
    """Return how much is left beside the columns of figures."""
    last = columns[-1]
    widest = max(measure(last.head, BODY, "bold"), *(measure(each, LABEL) for each in last.figures))
    return width - last.end - widest - _AFTER_COLUMN


def _head(columns: Sequence[_Column], width: float) -> Block:
    def draw(x: float, y: float) -> Iterable[Mark]:
        at = y + baseline(BODY)
        yield label(x, at, "left foot | right foot", BODY, "bold", colour=SOFT)
        if width >= _NAMED_LEAST:
            left = x + _room(columns, width) - _NAME
            yield label(left, at, "name of the order", BODY, "bold", colour=SOFT)
        for column in columns:
            yield label(x + width - column.end, at, column.head, BODY, "bold", "end", SOFT)
        yield rule(x, y + leading(BODY) + 0.6, width, 0.3, INK)

    return Block(leading(BODY) + 1.2, draw)


def _row(order: _Order, columns: Sequence[_Column], place: int, width: float) -> Block:
    beside_it = width >= _NAMED_LEAST
    room = _room(columns, width) - (_NAME + _BETWEEN if beside_it else 0.0)
    numbers = paragraph(_split(order), room, LABEL + 1, "bold")
    names = paragraph(", ".join(order.names), _NAME if beside_it else room, BODY, colour=SOFT)
    height = max(numbers.height, names.height) if beside_it else numbers.height + names.height
    height += 0.8

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield from numbers.draw(x, y + 0.4)
        if beside_it:
            yield from names.draw(x + room + _BETWEEN, y + 0.7)
        else:
            yield from names.draw(x, y + 0.4 + numbers.height)
        at = y + 0.4 + baseline(LABEL + 1)
        for column in columns:
            figure = column.figures[place]
            yield label(x + width - column.end, at, figure, LABEL, "regular", "end", INK)
        yield rule(x, y + height, width, HAIRLINE, HAIR)

    return Block(height, draw)


def _split(order: _Order) -> str:
    """Return the treadles with a stroke between the feet."""
    feet = order.places[: order.left], order.places[order.left :]
    return "  |  ".join("  ".join(map(str, foot)) for foot in feet)
