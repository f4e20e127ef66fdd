"""Draws the warping card."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from cards.counted import Line
from cards.figures import count, times
from cards.project.model import ProjectYarn, YarnShare
from cards.warping_card import Bout, WarpingCard, ties_in_turn
from layouts.drawing import Box, Disc, Drawing, Figure, Mark, Part, Path
from layouts.paper import Frame
from layouts.sheets.counted_list import LineStyle, check_lead, draw_counted_list, lead_room
from layouts.sheets.page import PageFlow
from layouts.sheets.parts import (
    BOX,
    HAIR,
    HAIRLINE,
    INK,
    SOFT,
    Block,
    baseline,
    beside,
    blank,
    heading_line,
    key_figures,
    leading,
    paragraph,
    rule,
    stack,
    tick_box,
    yarn_patch,
)
from layouts.typeface import BODY, FIGURE, LABEL, NOTE, cap_height, label, measure

SLUG = "warping-card"

_PATCH = 14.0
_PATCH_HEIGHT = 8.0

# From this width on, things stand side by side that otherwise stand below one another.
_WIDE = 150.0


def draw_warping_card(card: WarpingCard, frame: Frame) -> Drawing:
    """Return the pages of a warping card."""
    flow = PageFlow(frame, card.heading, _legend(card))
    flow.add(key_figures(_key_figures(card), flow.width))
    flow.add(_ruled(flow.width))
    draw_counted_list(flow, card.order, _style(card, flow.width), _total(card, flow.width))
    flow.gap(3.0)
    flow.add(_path(card, flow.width))
    flow.gap(2.0)
    _bout_table(flow, card)
    flow.gap(2.0)
    _yarns(flow, card)
    flow.notes(card.caution)
    return flow.drawing("Warping card", SLUG)


def _legend(card: WarpingCard) -> str:
    return f"First end and bout 1 at the {card.first_side}."


def _key_figures(card: WarpingCard) -> list[tuple[str, str]]:
    figures = card.figures
    other = figures.other()
    sizes = sorted({bout.ends for bout in card.bouts})
    size = str(sizes[0]) if len(sizes) == 1 else f"{sizes[0]} to {sizes[-1]}"
    bouts = "bout" if len(card.bouts) == 1 else "bouts"
    floating = f" + {card.floating}" if card.floating else ""
    one = len(card.count_ties) == 1
    tie = ", ".join(str(each) for each in card.count_ties)
    return [
        (
            f"{count(card.ends)}{floating}",
            _given("ends + floating" if card.floating else "ends", given=card.ends_given),
        ),
        (
            figures.long(card.length),
            _given(f"warp length ({other.long(card.length)})", given=card.length_given),
        ),
        (str(len(card.bouts)), f"{bouts} of {size} ends"),
        (f"every {tie}" if one else tie, "count tie, ends" if one else "count ties in turn"),
        (
            figures.width(card.width),
            _given(f"in the reed ({other.width(card.width)})", given=card.width_given),
        ),
    ]


def _given(words: str, *, given: bool) -> str:
    return f"{words}, given" if given else words


def _ruled(width: float) -> Block:
    return Block(3.0, lambda x, y: [rule(x, y + 1.0, width, 0.3, INK)])


def _style(card: WarpingCard, width: float) -> LineStyle[ProjectYarn]:
    """Return how lines are drawn: patch, name, ends, and round trips beside or under the ends."""
    room = lead_room(card.order, width)
    columns = _Columns.of(card, room)
    check_lead(room, columns.least)

    def name(line: Line[ProjectYarn]) -> Block:
        return paragraph(line.runs[0].value.name, columns.name, LABEL, "bold")

    def height(line: Line[ProjectYarn]) -> float:
        if columns.name_below:
            return 12.5 + name(line).height
        return max(9.4 if columns.trips else 12.5, name(line).height + 2.0)

    def draw(line: Line[ProjectYarn], x: float, y: float) -> Iterable[Mark]:
        tall = height(line)
        words = name(line)
        middle = y + (12.5 if columns.name_below else tall) / 2
        top = middle - _PATCH_HEIGHT / 2
        yield from yarn_patch(line.runs[0].value, x, top, _PATCH, _PATCH_HEIGHT)
        if columns.name_below:
            yield from words.draw(x, y + 11.2)
        else:
            yield from words.draw(x + _PATCH + 3.0, middle - words.height / 2)
        yield from _ends_and_trips(line, card, columns, x + columns.lead, middle)

    return LineStyle(columns.lead, height, draw, "ends", "wind in this order")


def _ends_and_trips(
    line: Line[ProjectYarn], card: WarpingCard, columns: _Columns, right: float, middle: float
) -> Iterable[Mark]:
    ends, trips = str(line.count), _trips(line.count, card)
    if columns.trips:
        at = middle + cap_height(FIGURE) / 2
        yield label(right - columns.trips, at, ends, FIGURE, "bold", "end", INK)
        yield label(right, at, trips, BODY, "regular", "end", SOFT)
        return
    top = middle - (leading(FIGURE) * 0.86 + leading(NOTE)) / 2
    yield label(right, top + baseline(FIGURE) - 0.6, ends, FIGURE, "bold", "end", INK)
    under = top + leading(FIGURE) * 0.86 + baseline(NOTE)
    yield label(right, under, trips, NOTE, "regular", "end", SOFT)


@dataclass(frozen=True, slots=True)
class _Columns:
    """Widths in mm of what a line says; `trips` is 0 where they stand under the ends."""

    lead: float
    name: float
    trips: float
    name_below: bool
    least: float

    @classmethod
    def of(cls, card: WarpingCard, room: float) -> _Columns:
        """Return the columns that fit into `room` mm: the name goes below where it is narrow."""
        lines = card.order.lines
        ends = max(measure(str(line.count), FIGURE, "bold") for line in lines)
        words = [_trips(line.count, card) for line in lines]
        beside = max(measure(text, BODY) for text in words) + 3.0
        under = max(ends, *(measure(text, NOTE) for text in words))
        least = _PATCH + 2.0 + under
        names = max(measure(line.runs[0].value.name, LABEL, "bold") for line in lines)
        name = room - _PATCH - 3.0 - ends - 3.0 - beside
        if name >= _NAME_LEAST:
            name = min(name, max(names, 34.0))
            lead = name + _PATCH + 3.0 + ends + 3.0 + beside
            return cls(lead, name, beside, name_below=False, least=least)
        name = room - _PATCH - 3.0 - under - 3.0
        if name >= _NAME_LEAST:
            name = min(name, max(names, _NAME_LEAST))
            lead = name + _PATCH + 3.0 + under + 3.0
            return cls(lead, name, 0.0, name_below=False, least=least)
        lead = min(room, max(least, names))
        return cls(lead, lead, 0.0, name_below=True, least=least)


# A name in less room than this breaks into too many lines.
_NAME_LEAST = 24.0


def _trips(ends: int, card: WarpingCard) -> str:
    if ends < card.strands:
        return f"strand{'s' if ends > 1 else ''} of {card.strands}"
    trips = Fraction(ends, card.ends_a_trip)
    return f"{times(trips)} trip{'s' if trips > 1 else ''}"


def _total(card: WarpingCard, width: float) -> Block:
    words = f"Total {card.ends} ends"
    if card.floating:
        names = " and ".join(dict.fromkeys(yarn.name for yarn in card.floating_yarns))
        words += f", then {card.floating} floating selvedges of {names}, wound apart"
    return stack([Block(1.2, lambda x, y: []), paragraph(words, width, LABEL + 1, "bold")])


def _path(card: WarpingCard, width: float) -> Block:
    """Return the guide string, the ties, and the picture of the warp with its crosses."""
    string = f"Guide string {card.figures.both('long', card.length)}"
    wide = width >= _WIDE
    text_width = width - 62.0 if wide else width
    text = stack(
        [paragraph(string, text_width, LABEL, "bold"), paragraph(_ties(card), text_width, BODY)]
    )
    if wide:
        return beside([(0.0, text), (width - 58.0, _crosses(58.0))])
    return stack([text, _crosses(min(width, 110.0))], 1.0)


def _ties(card: WarpingCard) -> str:
    """Return what to tie and what to leave tied (common practice)."""
    figures = card.figures
    together = ""
    if card.strands > 1:
        together = (
            f"Wind {card.strands} strands together, in the order of the lines: "
            f"{card.ends_a_trip} ends in a round trip. "
        )
    return (
        f"{together}A cross at each end. At the raddle cross tie off "
        f"{ties_in_turn(card.count_ties)}, counted from end 1 through all colours, for "
        f"{figures.both('width', card.raddle)} of the raddle. "
        "Tie each cross at its four arms, the waist and both end loops; choke every "
        f"{figures.long(card.choke)}. Bout 1 goes to the {card.first_side} edge: mark it. Beaming "
        "from the back, cut only the loops at the threading cross. Keep every tie until the lease "
        "sticks are in."
    )


def _crosses(width: float) -> Block:
    """Return the picture of a warp between its end pegs, crossed at both ends."""
    peg, tall = 1.8, 4.2

    def draw(x: float, y: float) -> Iterable[Mark]:
        middle = y + 2.0 + tall
        left, right = x + peg, x + width - peg
        first = left + width * 0.17
        second = right - width * 0.17
        marks: list[Mark] = []
        for side in (-1.0, 1.0):
            up, down = middle - side * tall, middle + side * tall
            low = middle + side * 0.35
            steps = (
                ("M", left, middle - side * peg),
                ("C", left + 4, up, first - 6, up, first, middle),
                ("C", first + 6, down, first + 9, down, first + width * 0.17, low),
                ("L", second - width * 0.17, low),
                ("C", second - 9, down, second - 6, down, second, middle),
                ("C", second + 6, up, right - 4, up, right, middle - side * peg),
            )
            marks.append(Path(steps, None, INK, 0.5))
        marks.extend(Disc(at, middle, peg, "#ffffff", INK, 0.4) for at in (left, right))
        under = middle + tall + 1.0 + baseline(BODY)
        marks.append(label(first, under, "threading cross", BODY, "regular", "middle", SOFT))
        marks.append(label(second, under, "raddle cross", BODY, "regular", "middle", SOFT))
        yield Figure(
            tuple(marks), "The warp on the board", "A cross near each of the two end pegs."
        )

    return Block(2.0 + 2 * tall + 1.0 + leading(BODY) + 1.0, draw)


def _bout_table(flow: PageFlow, card: WarpingCard) -> None:
    cells = [_bout_cells(card, bout) for bout in card.bouts]
    rights = _rights([_BOUT_HEADS, *cells], flow.width - _BEFORE_ROW)
    left_handed = flow.left_handed
    head = _bout_head(rights, flow.width, left_handed=left_handed)
    rows = [
        _bout_row(bout, each, rights, flow.width, left_handed=left_handed)
        for bout, each in zip(card.bouts, cells, strict=True)
    ]
    flow.keep([stack([heading_line("Bouts", flow.width), head, rows[0]]), *rows[1:]], head)


_BOUT_HEADS = ("bout", "ends", "from – to", "trips", "width")
_BETWEEN_COLUMNS = 4.0
_BEFORE_ROW = BOX + 3.0  # where a box stands before a row, for a left hand


def _bout_cells(card: WarpingCard, bout: Bout) -> tuple[str, ...]:
    span = f"{bout.first} – {bout.last}"
    width = card.figures.width(bout.width)
    return str(bout.number), str(bout.ends), span, times(bout.trips), width


def _rights(rows: list[tuple[str, ...]], room: float) -> list[float]:
    """Return where the columns end, in mm from the left, each as wide as its widest cell.

    They stand closer where they would be wider than `room`.
    """
    widths = [
        max(measure(cell, LABEL, "bold") for cell in column) for column in zip(*rows, strict=True)
    ]
    between = min(_BETWEEN_COLUMNS, (room - sum(widths)) / (len(widths) - 1))
    return [sum(widths[: place + 1]) + between * place for place in range(len(widths))]


def _bout_head(rights: list[float], width: float, *, left_handed: bool) -> Block:
    start = _BEFORE_ROW if left_handed else 0.0

    def draw(x: float, y: float) -> Iterable[Mark]:
        heads = [
            label(x + start + right, y + baseline(BODY), word, BODY, "bold", "end", SOFT)
            for word, right in zip(_BOUT_HEADS, rights, strict=True)
        ]
        yield Part(tuple(Part((head,), "column head") for head in heads), "row")
        yield rule(x, y + leading(BODY) + 1.0, width, 0.3, INK)

    return Block(leading(BODY) + 1.4, draw)


def _bout_row(
    bout: Bout, cells: tuple[str, ...], rights: list[float], width: float, *, left_handed: bool
) -> Block:
    start, box = (_BEFORE_ROW, 0.0) if left_handed else (0.0, width - BOX)
    left = start + rights[-1] + _BETWEEN_COLUMNS
    room = width - left - (0.0 if left_handed else BOX + 2.0)
    side = paragraph(bout.ends_where, room, BODY, colour=SOFT) if room >= 40.0 else None
    below = None if side else paragraph(bout.ends_where, width - 12.0, BODY, colour=SOFT)
    line = max(7.0, side.height + 1.4 if side else 0.0)
    height = line + (below.height + 0.6 if below else 0.0)

    def draw(x: float, y: float) -> Iterable[Mark]:
        at = y + 3.5 + cap_height(LABEL) / 2
        texts = [
            label(x + start + right, at, text, LABEL, "bold" if place == 1 else "regular", "end")
            for place, (text, right) in enumerate(zip(cells, rights, strict=True))
        ]
        last: list[Mark] = [texts.pop()]
        if side is not None:
            last.extend(side.draw(x + left, y + 3.5 - leading(BODY) / 2))
        if below is not None:
            last.extend(below.draw(x + 12.0, y + line - 0.6))
        last.append(tick_box(x + box, y + 1.0))
        # Where the bout ends and its box have no column of their own to those who hear the table.
        yield Part((*texts, Part(tuple(last), "cell")), "row")
        yield rule(x, y + height, width)

    return Block(height, draw)


def _yarns(flow: PageFlow, card: WarpingCard) -> None:
    """Place the yarns of the warp, several side by side where the paper is wide enough."""
    gap = 6.0
    columns = max(1, int((flow.width + gap) // (_YARN_WIDTH + gap)))
    width = (flow.width - gap * (columns - 1)) / columns
    cells = [
        (place % columns * (width + gap), _yarn(card, share, width))
        for place, share in enumerate(card.yarns)
    ]
    rows = [beside(cells[at : at + columns]) for at in range(0, len(cells), columns)]
    flow.keep([stack([heading_line("Yarn in the warp", flow.width), rows[0]], 0.6), *rows[1:]])


_YARN_WIDTH = 53.0


def _yarn(card: WarpingCard, share: YarnShare, width: float) -> Block:
    """Return one yarn: what the warp takes of it, room for a sample, blanks for lot and cone."""
    figures = card.figures
    name = paragraph(share.yarn.name, width - _PATCH - 3.0, LABEL, "bold")
    ends = [f"{count(share.threads)} ends"]
    if share.floating:
        ends.append(f"{share.floating} floating")
    spare = share.extra - share.floating
    if spare:
        ends.append(f"{spare} spare")
    room = width - _SAMPLE - 2.0
    words = stack(
        [
            paragraph(" + ".join(ends), room, BODY),
            paragraph(figures.both("yarn", share.need.length), room, BODY),
            paragraph(figures.both("mass", share.need.mass), room, BODY),
        ]
    )
    head = max(name.height, _PATCH_HEIGHT) + 1.0
    height = head + words.height + leading(BODY) + 3.4

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield from yarn_patch(share.yarn, x, y + 0.4, _PATCH, _PATCH_HEIGHT)
        yield from name.draw(x + _PATCH + 3.0, y + 0.4 + max(0.0, _PATCH_HEIGHT - name.height) / 2)
        yield from words.draw(x, y + head)
        slot = x + width - _SAMPLE
        yield Box(slot, y + head, _SAMPLE, words.height - 1.0, None, HAIR, HAIRLINE)
        yield label(slot + 1.2, y + head + baseline(NOTE), "sample", NOTE, colour=SOFT)
        at = y + head + words.height + baseline(BODY) + 2.2
        each = (width - 4.0) / 3
        for place, word in enumerate(("lot", "cone", "after")):
            yield from blank(x + place * (each + 2.0), at, each, word)

    return Block(height + 1.0, draw)


# A slot to tape the yarn into.
_SAMPLE = 17.0
