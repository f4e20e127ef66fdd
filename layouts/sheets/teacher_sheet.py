"""Draws the teacher's sheet: a row with boxes for every seat, what differs, and yarn for all."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from cards.figures import money, plain
from cards.teacher_sheet import ClassYarn, SeatRow, TeacherSheet
from layouts.drawing import Drawing, Mark
from layouts.paper import Frame
from layouts.sheets.page import PageFlow
from layouts.sheets.parts import (
    BOX,
    HAIR,
    HAIRLINE,
    INK,
    PATCH_HEIGHT,
    PATCH_WIDTH,
    SOFT,
    Block,
    beside,
    heading_line,
    key_figures,
    paragraph,
    rows_of,
    rule,
    stack,
    tick_box,
    yarn_patch,
)
from layouts.typeface import BODY, LABEL, label, measure

SLUG = "teacher-sheet"

_DONE: Final = ("handed out", "warp wound", "threaded", "woven")
_AFTER_BOX: Final = 2.0
_GAP: Final = 5.0
_INDENT: Final = PATCH_WIDTH + 3.0
_LEGEND: Final = (
    "Seats are places in the room. Figures of all looms are in the units of this sheet."
)


def draw_teacher_sheet(card: TeacherSheet, frame: Frame) -> Drawing:
    """Return the pages of a teacher's sheet."""
    flow = PageFlow(frame, card.heading, _LEGEND)
    pages = sum(seat.pages for seat in card.seats)
    figures = [(str(len(card.seats)), "seats"), (str(pages), "pages to print")]
    flow.add(key_figures(figures, flow.width))
    flow.gap(2.0)
    for seat in card.seats:
        flow.add(_seat(seat, flow.width))
    flow.gap(4.0)
    _add_differences(flow, card)
    flow.gap(4.0)
    _add_yarns(flow, card)
    flow.notes()
    return flow.drawing("Teacher's sheet", SLUG)


def _seat(seat: SeatRow, width: float) -> Block:
    """Return a seat: what was printed for it, and boxes for how far it is."""
    sheets = ", ".join(f"{name} {pages}" for name, pages in seat.sheets)
    name = paragraph(seat.seat, width, LABEL + 1, "bold")
    told = [
        paragraph(_described(seat), width, BODY),
        paragraph(f"{seat.pages} pages: {sheets}.", width, BODY, colour=SOFT),
    ]
    wide = _boxes_width()
    if measure(seat.seat, LABEL + 1, "bold") + 2 * _GAP + wide <= width:
        parts = [beside([(0.0, name), (width - wide, _boxes(wide))]), *told]
    else:
        parts = [name, *told, _boxes(width)]
    inner = stack(parts, 0.6)

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield rule(x, y + 0.2, width, 0.3, INK)
        yield from inner.draw(x, y + 1.8)

    return Block(inner.height + 3.6, draw)


def _described(seat: SeatRow) -> str:
    mirrored = "the cloth comes out mirrored" if seat.mirrored else ""
    parts = (seat.loom, seat.units, seat.paper, seat.needs, mirrored)
    return " · ".join(text for text in parts if text)


def _box_widths() -> list[float]:
    return [BOX + _AFTER_BOX + measure(word, BODY) for word in _DONE]


def _boxes_width() -> float:
    """Return how wide all boxes with their words are in one row."""
    widths = _box_widths()
    return sum(widths) + _GAP * (len(widths) - 1)


def _boxes(width: float) -> Block:
    """Return the boxes to tick as a seat gets on, in as few rows as they need."""
    widths = _box_widths()
    rows = rows_of(widths, width + 1e-6, least_gap=_GAP)
    height = BOX + 1.6

    def draw(x: float, y: float) -> Iterable[Mark]:
        for place, row in enumerate(rows):
            left, top = x, y + place * height
            for index in row:
                yield tick_box(left, top)
                yield label(left + BOX + _AFTER_BOX, top + BOX - 1.0, _DONE[index], BODY)
                left += max(widths) + _GAP if len(rows) > 1 else widths[index] + _GAP

    return Block(len(rows) * height, draw)


def _add_differences(flow: PageFlow, card: TeacherSheet) -> None:
    """Place what is another at every seat, as a table whose columns are as wide as they need."""
    heads = ("seat", "warp", "reed", "treadles", "ties")
    rows = [_differs(card, seat) for seat in card.seats]
    title = heading_line("What differs from loom to loom", flow.width)
    columns = _columns((heads, *rows), flow.width)
    head = _line(heads, columns, flow.width, bold=True)
    first, *others = [_line(row, columns, flow.width, bold=False) for row in rows]
    flow.keep([stack([title, Block(1.0, lambda x, y: ()), head, first]), *others], head)


def _differs(card: TeacherSheet, seat: SeatRow) -> tuple[str, ...]:
    figures = card.figures
    reed = figures.reed(seat.reed) if seat.reed is not None else "none"
    if seat.tied is None:
        treadles, ties = "none tied", "none"
    else:
        treadles = f"{seat.tied} of {seat.treadles}" if seat.treadles else str(seat.tied)
        ties = str(seat.cords)
    return seat.seat, figures.long(seat.warp_length), reed, treadles, ties


def _columns(rows: Sequence[Sequence[str]], width: float) -> list[float]:
    """Return the widths of columns: as their words need, with what is left between them.

    Where too little is left, the words of the first one wrap.
    """
    widths = [
        max(measure(row[at], BODY, "bold") for row in rows) + 4.0 for at in range(len(rows[0]))
    ]
    first = min(widths[0], width - sum(widths[1:]))
    more = min(14.0, (width - first - sum(widths[1:])) / (len(widths) - 1))
    return [first + more, *(each + more for each in widths[1:-1]), widths[-1]]


def _line(row: Sequence[str], columns: Sequence[float], width: float, *, bold: bool) -> Block:
    lefts = [sum(columns[:at]) for at in range(len(columns))]
    weight, colour = ("bold", SOFT) if bold else ("regular", INK)
    cells = [
        (left, paragraph(text, column - 2.0, BODY, weight, colour))  # type: ignore[arg-type]
        for left, text, column in zip(lefts, row, columns, strict=True)
    ]
    inner = beside(cells)

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield from inner.draw(x, y + 0.6)
        yield rule(
            x, y + inner.height + 1.2, width, 0.3 if bold else HAIRLINE, INK if bold else HAIR
        )

    return Block(inner.height + 1.4, draw)


def _add_yarns(flow: PageFlow, card: TeacherSheet) -> None:
    under = (
        f"With {plain(card.margin * 100)} % more at every seat, as on its yarn list. Packages are "
        "for all seats together: they are fewer than if every seat had its own. Each figure is "
        "rounded up by itself."
    )
    title = heading_line("Yarn for the whole class", flow.width, under)
    blocks = [_yarn(card, each, flow.width) for each in card.yarns]
    blocks[0] = stack([title, Block(1.0, lambda x, y: ()), blocks[0]])
    for block in blocks:
        flow.add(block)
    if card.shares_on_hand:
        words = (
            "Yarn on hand counts once for the class here; the yarn list of each seat counts it for "
            "that seat alone."
        )
        flow.add(paragraph(words, flow.width, BODY))


def _yarn(card: TeacherSheet, each: ClassYarn, width: float) -> Block:
    """Return a yarn: what every seat takes of it, and what to buy for all."""
    inner = width - _INDENT
    seats = ", ".join(f"{seat} {card.figures.mass(mass)}" for seat, mass in each.by_seat)
    parts = [
        paragraph(each.yarn.name, inner, LABEL, "bold"),
        paragraph(f"{seats}.", inner, BODY, colour=SOFT),
        paragraph(_total(card, each), inner, BODY, "bold"),
    ]
    words = stack(parts, 0.4)
    height = max(words.height, PATCH_HEIGHT) + 3.0

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield from yarn_patch(each.yarn, x, y + 1.0, PATCH_WIDTH, PATCH_HEIGHT)
        yield from words.draw(x + _INDENT, y + 0.6)
        yield rule(x, y + height - 0.6, width)

    return Block(height, draw)


def _total(card: TeacherSheet, each: ClassYarn) -> str:
    need, yarn = each.need, each.yarn
    on_hand = f", {card.figures.mass_down(need.on_hand)} on hand" if need.on_hand else ""
    together = f"Together {card.figures.both('mass', need.mass * (1 + card.margin))}{on_hand}"
    if not need.buy:
        return f"{together}: enough."
    if need.packages is None:
        return f"{together}: buy {card.figures.both('mass', need.buy)}."
    cost = f", {money(need.cost, yarn.currency)}" if need.cost is not None else ""
    return f"{together}: buy {need.packages} × {yarn.put_up_text}{cost}."
