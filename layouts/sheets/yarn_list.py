"""Draws the yarn list."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from cards.calculation.bill import Bill
from cards.calculation.yarn_need import Need
from cards.cost_words import hours_words, sum_words
from cards.figures import Figures, money, plain
from cards.yarn_list import WITHIN, Entry, YarnList, buy_words
from layouts.drawing import Drawing, Mark
from layouts.paper import Frame
from layouts.sheets.page import PageFlow
from layouts.sheets.parts import (
    BOX,
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
    rows_of,
    rule,
    stack,
    tick_box,
    yarn_patch,
)
from layouts.typeface import BODY, FIGURE, LABEL, NOTE, label, measure

SLUG = "yarn-list"

_PATCH = 14.0
_PATCH_HEIGHT = 8.0
_INDENT = _PATCH + 3.0
_BETWEEN = 5.0
_BEFORE_PATCH = 14.0  # where a box stands before a patch, for a left hand

# Where at least so much is left beside what to buy, the name of a yarn stands there.
_NAME_LEAST = 55.0

_LABEL = re.compile(r"[\d.,]+ (m|yd)( per |/)")


def draw_yarn_list(card: YarnList, frame: Frame) -> Drawing:
    """Return the pages of a yarn list."""
    flow = PageFlow(frame, card.heading, "Buy all packages of a yarn from one dye lot.")
    for words in _before(card):
        flow.add(paragraph(words, flow.width, BODY))
        flow.gap(1.5)
    for entry in card.entries:
        flow.keep(_entry(card, entry, flow.width, left_handed=flow.left_handed))
    _add_enough(flow, card)
    flow.gap(2.0)
    flow.keep(_sums(card, flow.width))
    flow.notes()
    return flow.drawing("Yarn list", SLUG)


def _before(card: YarnList) -> list[str]:
    """Return what must be known before the list is read."""
    words = []
    if card.asked:
        words.append(f"For the most that can be made: {card.asked}.")
    if card.wound:
        names = ", ".join(yarn.name for yarn in card.wound)
        words.append(f"The warp is there already ({names}): its yarn is not in this list.")
    if not card.entries:
        words.append("There is nothing to buy.")
    return words


def _add_enough(flow: PageFlow, card: YarnList) -> None:
    """Place the yarns of which there is enough; their heading never stands alone."""
    if not card.enough:
        return
    left_handed = flow.left_handed
    entries = [_entry(card, each, flow.width, left_handed=left_handed) for each in card.enough]
    if card.entries:
        flow.gap(3.0)
        head = heading_line("Nothing to buy of these", flow.width)
        entries[0][0] = stack([head, entries[0][0]], 1.0)
    for blocks in entries:
        flow.keep(blocks)


def _entry(card: YarnList, entry: Entry, width: float, *, left_handed: bool) -> list[Block]:
    """Return a yarn: what to buy, what for, and what another yarn must have.

    It is in several parts, which go on over a page where none can hold it.
    """
    indent = _INDENT + (_BEFORE_PATCH if left_handed else 0.0)
    inner = width - indent
    facts = [beside([(indent, row)]) for row in _facts(_figures(card, entry), inner)]
    head = _head(card, entry, width, left_handed=left_handed)
    first = stack([_space(1.5), head, _space(1.0), facts[0]])
    more = [paragraph(words, inner, BODY) for words in _sentences(card, entry)]
    if entry.total.need.buy:
        more.append(_to_write(inner))
    told = [beside([(indent, stack(more, 1.0))])] if more else []
    last = stack([_space(1.0), *told, _space(1.5), _line(width)])
    return [first, *facts[1:], last]


def _space(height: float) -> Block:
    return Block(height, lambda x, y: ())


def _line(width: float) -> Block:
    return Block(0.5, lambda x, y: [rule(x, y, width, 0.3, INK)])


def _head(card: YarnList, entry: Entry, width: float, *, left_handed: bool) -> Block:
    """Return patch and name, and what to buy with a box to tick when it is bought.

    For a left hand the box stands in front of the patch.
    """
    yarn = entry.yarn
    buy = buy_words(entry, card.figures)
    ticked = bool(entry.total.need.buy)
    start = _BEFORE_PATCH if left_handed else 0.0
    bought = BOX + 2.0 + measure("bought", BODY) if ticked and not left_handed else -4.0
    right = measure(buy, FIGURE, "bold") + 4.0 + bought
    inner = width - start - _INDENT
    below = inner - right < _NAME_LEAST
    room = inner - (0.0 if below else right + 4.0)
    size = _size(card, entry)
    named = paragraph(yarn.name, room, LABEL, "bold")
    # Under what to buy there is the whole width for it.
    beneath = measure(size, BODY) > room
    name = named if beneath else stack([named, paragraph(size, room, BODY)])

    def patch(x: float, y: float) -> Iterable[Mark]:
        yield from yarn_patch(yarn, x + start, y + 0.6, _PATCH, _PATCH_HEIGHT)
        if ticked and left_handed:
            yield tick_box(x + (start - 3.0 - BOX) / 2, y + 0.6)
            at = y + 0.6 + BOX + baseline(NOTE)
            yield label(x + (start - 3.0) / 2, at, "bought", NOTE, "regular", "middle", SOFT)

    def packages(x: float, y: float) -> Iterable[Mark]:
        at = y + baseline(FIGURE)
        left = x + width - right if not below else x + start + _INDENT
        yield label(left, at, buy, FIGURE, "bold", colour=INK)
        if not ticked or left_handed:
            return
        box = left + right - bought
        yield tick_box(box, at - BOX)
        yield label(box + BOX + 2.0, at - 0.4, "bought", BODY, colour=SOFT)

    shown = Block(leading(FIGURE), packages)
    height = max(_PATCH_HEIGHT, BOX + leading(NOTE) if left_handed else 0.0) + 1.2
    top = beside([(0.0, Block(height, patch)), (start + _INDENT, name)])
    head = stack([top, shown]) if below else beside([(0.0, top), (0.0, shown)])
    if not beneath:
        return head
    return stack([head, beside([(start + _INDENT, paragraph(size, inner, BODY))])])


def _size(card: YarnList, entry: Entry) -> str:
    """Return fibre and size, as the weaver wrote it and by length and mass."""
    yarn = entry.yarn
    # A size that was written as length and mass already is not said twice.
    written = "" if _LABEL.match(yarn.size) else yarn.size
    parts = (yarn.fibre or "", written, card.figures.both("size", yarn.tex))
    return " · ".join(text for text in parts if text)


# What stands in a cell: the word for it, the figure, and the same in other units.
_Fact = tuple[str, str, str]


def _figures(card: YarnList, entry: Entry) -> list[_Fact]:
    figures, need = card.figures, entry.total.need
    other = figures.other()
    facts = [
        (
            part.what,
            figures.yarn(part.length),
            f"{other.yarn(part.length)}, {figures.mass(part.mass)}",
        )
        for part in entry.parts
    ]
    bare = need.mass * (1 + card.margin)
    facts.append((f"with {plain(card.margin * 100)} % more", figures.mass(bare), other.mass(bare)))
    if need.on_hand:
        facts.append(("on hand", figures.mass_down(need.on_hand), _on_hand(entry, other)))
    facts += _cost(entry, need)
    if need.left is not None:
        left = figures.mass_down(need.left)
        facts.append(("left over", left, other.mass_down(need.left)))
    if entry.bobbins:
        facts.append(("bobbins", str(entry.bobbins), _bobbin(card, figures)))
    return facts


def _on_hand(entry: Entry, other: Figures) -> str:
    mass = other.mass_down(entry.total.need.on_hand)
    lot = f"lot {entry.yarn.lot}" if entry.yarn.lot else ""
    # Of a thread or two there is not a tenth of an ounce.
    return ", ".join(text for text in ("" if mass.startswith("0.0 ") else mass, lot) if text)


def _cost(entry: Entry, need: Need) -> list[_Fact]:
    yarn = entry.yarn
    price = yarn.put_up.price
    if price is None or not need.packages or need.cost is None:
        return []
    each = f"{money(price, yarn.currency)} each"
    return [("cost", money(need.cost, yarn.currency), each)]


def _bobbin(card: YarnList, figures: Figures) -> str:
    bobbin = card.bobbin
    if bobbin.length is not None:
        return f"of {figures.yarn(bobbin.length)}"
    return f"of {figures.mass_down(bobbin.mass or 0.0)}"


def _facts(facts: Sequence[_Fact], width: float) -> list[Block]:
    """Return rows of figures side by side, each under its word and above it in other units."""
    widths = [
        max(measure(word, BODY), measure(value, LABEL, "bold"), measure(under, NOTE))
        for word, value, under in facts
    ]
    rows = rows_of(widths, width, least_gap=_BETWEEN)
    most = max(len(row) for row in rows)
    columns = [max(widths[row[at]] for row in rows if at < len(row)) for at in range(most)]
    if sum(columns) + _BETWEEN * (most - 1) <= width:
        return [_fact_row([facts[index] for index in row], columns) for row in rows]
    return [_fact_row([facts[at] for at in row], [widths[at] for at in row]) for row in rows]


def _fact_row(facts: Sequence[_Fact], widths: Sequence[float]) -> Block:
    def draw(x: float, y: float) -> Iterable[Mark]:
        at_value = y + leading(BODY) + baseline(LABEL)
        at_under = y + leading(BODY) + leading(LABEL) + baseline(NOTE)
        left = x
        for (word, value, under), wide in zip(facts, widths, strict=False):
            yield label(left, y + baseline(BODY), word, BODY, colour=SOFT)
            yield label(left, at_value, value, LABEL, "bold", colour=INK)
            if under:
                yield label(left, at_under, under, NOTE, colour=SOFT)
            left += wide + _BETWEEN

    return Block(leading(BODY) + leading(LABEL) + leading(NOTE) + 0.5, draw)


def _sentences(card: YarnList, entry: Entry) -> list[str]:
    """Return what another yarn must have, and whatever else must be said of a yarn."""
    figures, words = card.figures, []
    if entry.total.need.buy:
        size = f"{_range(entry, figures)} ({_range(entry, figures.other())})"
        alone = " without the yarn on hand" if entry.total.need.on_hand else ""
        length = f"{figures.both('yarn', entry.length)} in all{alone}"
        words.append(f"Instead: another yarn of {size}, {length}.")
    if entry.shuttles:
        parts = [f"{number}: {figures.both('yarn', mm)}" for number, mm in entry.shuttles]
        words.append(f"Weft by shuttle, without the sample: {', '.join(parts)}.")
    need = entry.total.need
    if need.on_hand and need.packages:
        words.append("Compare the dye lot with that of the yarn on hand before you mix them.")
    return words


def _range(entry: Entry, figures: Figures) -> str:
    """Return the sizes between which another yarn must lie, the thickest first."""
    thick, fine = figures.size(entry.thickest), figures.size(entry.finest)
    return f"{thick.split(' ')[0]} to {fine}"


def _to_write(width: float) -> Block:
    """Return the lines on which lot and price are written in the shop."""
    height = leading(BODY) + 3.0
    half = (width - _BETWEEN) / 2

    def draw(x: float, y: float) -> Iterable[Mark]:
        at = y + height - 1.5
        yield from blank(x, at, half, "lot")
        yield from blank(x + half + _BETWEEN, at, half, "price")

    return Block(height, draw)


def _sums(card: YarnList, width: float) -> list[Block]:
    """Return what all of it costs, by currency, with the hours if they cost anything."""
    bill = card.bill
    figures = [(sum_words(each), "cost of the yarn") for each in bill.yarn if card.entries]
    if bill.hours is not None and bill.hour is not None:
        words = f"{hours_words(card.hours)} at {sum_words(bill.hour)}, estimated"
        figures.append((sum_words(bill.hours), words))
        if bill.total is not None:
            figures.append((sum_words(bill.total), "yarn and hours"))
    if bill.budget is not None:
        figures.append((sum_words(bill.budget), _budget(bill)))
    blocks = []
    if figures:
        blocks.append(key_figures(figures, width))
    blocks += [paragraph(words, width, BODY) for words in _cautions(card)]
    return [_spaced(block) for block in blocks]


def _budget(bill: Bill) -> str:
    """Return the word for the budget, with what is left of it where that is known."""
    if bill.over is None or bill.budget is None:
        return "budget"
    much = money(abs(bill.over), bill.budget.currency)
    return f"budget: {much} {'too little' if bill.over > 0 else 'left'}"


def _spaced(block: Block) -> Block:
    return Block(block.height + 1.0, block.draw)


def _cautions(card: YarnList) -> list[str]:
    words = []
    missing = [entry.yarn.name for entry in card.entries if entry.yarn.key in card.bill.missing]
    if missing:
        words.append(f"Without a price in the plan: {', '.join(missing)}.")
    if card.bill.yarn and card.entries:
        words.append("Prices change: the sums are an estimate.")
    if card.entries:
        words.append(
            f"Another yarn within {plain(WITHIN * 100)} % of the size suits the same sett, if its "
            "fibre takes up and shrinks alike."
        )
    return [" ".join(words)] if words else []
