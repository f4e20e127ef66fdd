"""The boxes of the sley card: what is sleyed in order, with running counts of ends and dents."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from fractions import Fraction
from typing import Final

from cards.calculation.dents import Edge, mean_of
from cards.calculation.sley import pattern_text
from cards.sley_card import ReedEdge, SleyCard, Stretch
from layouts.drawing import Mark
from layouts.sheets.across import Across
from layouts.sheets.page import PageFlow
from layouts.sheets.parts import (
    BOX,
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
    tick_box,
)
from layouts.sheets.reed_picture import bar, cross
from layouts.typeface import BODY, LABEL, label, measure


def sley_ticks(flow: PageFlow, card: SleyCard) -> None:
    """Place the boxes in the order of the work: first edge, body, last edge, what is beyond."""
    width = flow.width
    far = "left" if card.first_end == "right" else "right"
    title = heading_line(f"Sley from the {card.first_end} to the {far}, and tick", width)
    body = [each for each in card.stretches if each.kind == "body"]
    ends = {each.kind: each for each in card.stretches if each.kind != "body"}
    rows: list[Block] = []
    if "first" in ends:
        rows.append(_edge_row(card, 0, ends["first"], width))
    rows += _grid(card, body, width)
    if card.remainder and body:
        words = f"The last dent of the pattern holds {_ends(card.remainder)} only."
        rows.append(paragraph(words, width, BODY))
    if "last" in ends:
        rows.append(_edge_row(card, 1, ends["last"], width))
    rows += [_beyond_row(words, mark, width) for words, mark in _beyond(card)]
    # The title stands over two rows at least.
    flow.add(stack([stack([title, *_note(body, width)], 1.0), *rows[:2]]))
    flow.running_head = title
    for row in rows[2:]:
        flow.add(row)
    flow.running_head = None


def _note(body: list[Stretch], width: float) -> list[Block]:
    if not body:
        return []
    one = body[0]
    words = f"A box is {_dents(one.dents)}, {_ends(one.ends)}"
    if (one.dents, one.ends) != (body[-1].dents, body[-1].ends):
        words += f", the last {_dents(body[-1].dents)}, {_ends(body[-1].ends)}"
    return [paragraph(f"{words}. Totals count from the first end.", width, BODY, colour=SOFT)]


def _edge_row(card: SleyCard, place: int, stretch: Stretch, width: float) -> Block:
    words = paragraph(
        edge_words(card.edges[place], mean_of(card.pattern), first=place == 0),
        width - BOX - 3.0 - 32.0,
        LABEL,
        "bold",
    )
    height = max(words.height, 2 * leading(BODY)) + 2.4

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield tick_box(x, y + 1.2)
        yield from words.draw(x + BOX + 3.0, y + 1.2)
        at = y + 1.0 + baseline(LABEL)
        yield label(x + width, at, _ends(stretch.ends_so_far), LABEL, "bold", "end", INK)
        under = _dents(stretch.dents_so_far)
        yield label(x + width, at + leading(BODY), under, BODY, "regular", "end", SOFT)
        yield rule(x, y + height, width)

    return Block(height + 0.6, draw)


def edge_words(edge: ReedEdge, mean: Fraction, *, first: bool) -> str:
    """Return what differs at an edge from a body of `mean` ends per dent, as it is sleyed.

    The edge of the `first` end is sleyed from the outermost dent inwards, the other one outwards.
    """
    what = "fold" if edge.fold else "open edge"
    dents = edge.edge.dents
    if edge.edge.kind == "opened" and dents == (1, 0):
        how = "one end, then skip a dent" if first else "skip a dent, then one end"
    elif edge.edge.kind == "opened":
        how = f"{_alike(edge.edge, first=first)}, so that the fold does not crowd"
    else:
        twice = edge.edge.ends == 2 * mean * len(dents)
        how = f"{_alike(edge.edge, first=first)}, {'twice as close' if twice else 'closer'}"
    assumed = " (common practice, assumed)" if edge.assumed else ""
    return f"{edge.side.capitalize()}, {what}: {how}{assumed}"


def _dents(number: int) -> str:
    return f"{number} dent{'' if number == 1 else 's'}"


def _ends(number: int) -> str:
    return f"{number} end{'' if number == 1 else 's'}"


def _alike(edge: Edge, *, first: bool) -> str:
    """Return the dents of an edge in the order in which they are sleyed."""
    each = set(edge.dents)
    number = len(edge.dents)
    if len(each) == 1:
        (ends,) = each
        word = "end" if ends == 1 else "ends"
        if number == 1:
            return f"{ends} {word} in the outermost dent"
        return f"{ends} {word} in each of the {number} outermost dents"
    if first:
        return f"{pattern_text(edge.dents)} from the outermost dent inwards"
    return f"{pattern_text(edge.dents[::-1])}, the last of them the outermost dent"


_Sign = Callable[[float, float], Mark]


def _beyond(card: SleyCard) -> Iterable[tuple[str, _Sign]]:
    """Return what stands in dents beyond the outermost ends (common practice)."""
    lines = " and the ".join(edge.side for edge in card.edges if edge.line)
    if lines:
        yield f"A smooth line in the dent beyond the outermost end at the {lines}: {_LINE}", bar
    if card.floating:
        yield _FLOATING, cross


_LINE: Final = (
    "through no heddle, weighted behind, inside the fold. Drawn out afterwards, never counted as "
    "an end."
)
_FLOATING: Final = (
    "A floating selvedge in a dent of its own beyond each outermost end; not in the totals."
)


def _beyond_row(words: str, mark: _Sign, width: float) -> Block:
    text = paragraph(words, width - BOX - 10.0, BODY)
    height = max(text.height, BOX) + 2.4

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield tick_box(x, y + 1.2)
        yield mark(x + BOX + 4.5, y + 1.2 + BOX / 2)
        yield from text.draw(x + BOX + 9.0, y + 1.2)
        yield rule(x, y + height, width)

    return Block(height + 0.6, draw)


def _grid(card: SleyCard, body: list[Stretch], width: float) -> list[Block]:
    """Return rows of boxes with the totals beside each, read from the first end's side."""
    if not body:
        return []
    last = body[-1]
    words = max(
        measure(f"{last.ends_so_far} ends", LABEL + 1, "bold"),
        measure(f"{last.dents_so_far} dents", BODY),
    )
    pitch = BOX + 2.0 + words + 5.0
    columns = max(1, int((width + 5.0) // pitch))
    # A round number of boxes in a row is counted at a glance.
    columns = next((each for each in (10, 8, 6, 5, 4, 3, 2) if each <= columns), 1)
    pitch = (width + 5.0) / columns
    rows = [body[at : at + columns] for at in range(0, len(body), columns)]
    mirrored = card.first_end == "right"
    return [_grid_row(row, pitch, width, mirrored=mirrored) for row in rows]


def _grid_row(row: list[Stretch], pitch: float, width: float, *, mirrored: bool) -> Block:
    height = leading(LABEL + 1) + leading(BODY) + 1.4

    def draw(x: float, y: float) -> Iterable[Mark]:
        across = Across(x, width, mirrored)
        start = across.anchor("start")
        for place, each in enumerate(row):
            u = place * pitch
            yield tick_box(across.left(u, BOX), y + (height - BOX) / 2 - 0.6)
            at = across.left(u + BOX + 2.0)
            line = y + baseline(LABEL + 1)
            ends = _ends(each.ends_so_far)
            yield label(at, line, ends, LABEL + 1, "bold", start, INK)
            under = line + leading(BODY)
            yield label(at, under, _dents(each.dents_so_far), BODY, "regular", start, SOFT)
        yield rule(x, y + height - 0.4, width, HAIRLINE)

    return Block(height, draw)


_SHARES: Final = {
    Fraction(1, 4): "¼",
    Fraction(1, 2): "middle",
    Fraction(3, 4): "¾",
    Fraction(1): "end",
}


def sley_checks(card: SleyCard, width: float) -> Block:
    """Return the counts to be checked on the way, each with a box."""
    head = heading_line("Count and check", width)
    words = [f"{_SHARES[each.share]}: {_ends(each.ends)}" for each in card.checks]
    widest = max(measure(each, LABEL + 1, "bold") for each in words) + BOX + 5.0
    columns = 4 if 4 * widest <= width else 2
    pitch = width / columns
    tall = leading(LABEL + 1) + leading(BODY) + 1.4
    rows = -(-len(card.checks) // columns)

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield from head.draw(x, y)
        across = Across(x, width, card.first_end == "right")
        start = across.anchor("start")
        for place, (check, text) in enumerate(zip(card.checks, words, strict=True)):
            row, column = divmod(place, columns)
            u, top = column * pitch, y + head.height + 1.0 + row * tall
            yield tick_box(across.left(u, BOX), top + (tall - BOX) / 2 - 0.6)
            at = across.left(u + BOX + 2.0)
            line = top + baseline(LABEL + 1)
            yield label(at, line, text, LABEL + 1, "bold", start, INK)
            under = f"in {_dents(check.dents)}"
            yield label(at, line + leading(BODY), under, BODY, "regular", start, SOFT)

    return Block(head.height + 1.0 + rows * tall, draw)
