"""What the tie-up card says in words and tables beside its picture."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from cards.cloth_words import listed
from cards.hung_shafts import HungShafts
from cards.tie_up_card import TieUpCard
from cards.tied_treadles import CordPlan, TiedTreadle, Way
from layouts.drawing import Anchor, Mark, Part
from layouts.sheets.parts import (
    BOX,
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
    tick_box,
)
from layouts.sheets.tie_up_picture import cord, knot
from layouts.typeface import BODY, FIGURE, LABEL, cap_height, label, measure

_BETWEEN = 3.0
_KNOT = 4.4
# Types of the table where there is no picture, and how far its columns are then apart.
_LARGE = (FIGURE, LABEL + 4, LABEL + 3)
_APART = 6.0
_WAYS: dict[Way, str] = {"rise": "rising", "sink": "sinking"}


def shaft_list(shafts: Iterable[int]) -> str:
    """Return shafts in a row."""
    return "  ".join(str(shaft) for shaft in shafts) or "none"


def plural(number: int, word: str) -> str:
    """Return a number with its word.

    >>> plural(1, "cord"), plural(2, "cord")
    ('1 cord', '2 cords')
    """
    return f"{number} {word}" if number == 1 else f"{number} {word}s"


def knot_key(cords: CordPlan, width: float) -> Block:
    """Return what the knots mean: a piece of cord with each, and words."""
    words = {"rise": "tied: the shaft rises", "sink": "tied: the shaft sinks"}
    both = len(cords.lamms) > 1
    # A countermarch by lamms from the top down; the ways stand in one row if there is room.
    items = [(lamms.way, words[lamms.way]) for lamms in cords.lamms]
    height = leading(LABEL) + 1.4
    each = max(measure(text, LABEL) for _, text in items) + 20.0
    in_row = max(1, min(len(items), int(width // each)))

    def draw(x: float, y: float) -> Iterable[Mark]:
        for place, (way, text) in enumerate(items):
            row, column = divmod(place, in_row)
            yield from _sample(way, x + column * each, y + row * height + height / 2, both=both)
            at = y + row * height + height / 2 + cap_height(LABEL) / 2
            yield label(x + column * each + 14.0, at, text, LABEL, colour=INK)

    return Block(height * -(-len(items) // in_row), draw)


def _sample(way: Way, x: float, y: float, *, both: bool) -> Iterable[Mark]:
    """Yield a piece of cord that lies on its side, with its knot."""
    line = cord(way, y, x, x + 11.5, both=both)
    turned = type(line)(x + 2.0, y, x + 11.5, y, line.width, line.colour, line.dash)
    yield turned
    yield from knot(way, x + 2.0, y)


def tie_table(
    card: TieUpCard,
    cords: CordPlan,
    width: float,
    *,
    large: bool = False,
    left_handed: bool = False,
) -> tuple[Block, list[Block], Block]:
    """Return head, rows and total of the table: what each treadle is tied to, boxes to tick.

    It is set `large` where there is no picture. For a left hand the boxes come first.
    """
    columns = _columns(card, cords, short=False)
    number = max(measure("treadle", BODY, "bold"), measure("24", FIGURE, "bold")) + _BETWEEN
    right = measure("cords", BODY, "bold") + 2 * (BOX + 6.0) + 2 * _BETWEEN
    each = (width - number - right) / len(columns)
    if max(measure(name, BODY, "bold") for name, _, _ in columns) + _KNOT + 2.0 > each:
        columns = _columns(card, cords, short=True)
    size = _size(cords, columns, each - _APART) if large else LABEL + 2
    ends = _Ends.of(width, left_handed=left_handed)
    lefts = [ends.number + number + place * each for place in range(len(columns))]

    def head(x: float, y: float) -> Iterable[Mark]:
        at = y + baseline(BODY)
        heads: list[Mark] = [label(x + ends.number, at, "treadle", BODY, "bold", colour=SOFT)]
        for left, (name, way, _) in zip(lefts, columns, strict=True):
            if way:
                yield from knot(way, x + left + 1.6, at - cap_height(BODY) / 2, 1.3)
            start = x + left + (_KNOT if way else 0.0)
            heads.append(label(start, at, name, BODY, "bold", colour=SOFT))
        heads.append(label(x + ends.cords, at, "cords", BODY, "bold", "end", SOFT))
        tied = label(x + ends.tied + BOX / 2, at, "tied", BODY, "bold", "middle", SOFT)
        tried = x + ends.tried + (BOX / 2 if left_handed else BOX)
        anchor: Anchor = "middle" if left_handed else "end"
        heads += [tied, label(tried, at, "tried", BODY, "bold", anchor, SOFT)]
        yield Part(tuple(Part((each,), "column head") for each in heads), "row")
        yield rule(x, y + leading(BODY) + 0.6, width, 0.3, INK)

    rows = [
        _tie_row(treadle, columns, lefts, each, ends, width, size) for treadle in cords.treadles
    ]
    return Block(leading(BODY) + 1.2, head), rows, _total(cords, width)


@dataclass(frozen=True, slots=True)
class _Ends:
    """Where the number of a treadle begins, where its cords end, and where the boxes are, in mm."""

    number: float
    cords: float
    tied: float
    tried: float

    @classmethod
    def of(cls, width: float, *, left_handed: bool) -> _Ends:
        boxes = 2 * (BOX + 6.0) + _BETWEEN
        if left_handed:
            return cls(boxes, width, 1.0, BOX + 6.0 + 1.0)
        tied = width - 2 * BOX - 10.0
        return cls(0.0, width - boxes, tied, width - BOX)


def _size(cords: CordPlan, columns: Sequence[_Column], room: float) -> float:
    """Return the largest type in which every list of shafts is one line, or the smallest of all."""
    lists = [_shown(treadle, what) for treadle in cords.treadles for _, _, what in columns]
    widest = {size: max(measure(each, size, "bold") for each in lists) for size in _LARGE}
    return next((size for size in _LARGE if widest[size] <= room), _LARGE[-1])


_Column = tuple[str, Way | None, str]


def _columns(card: TieUpCard, cords: CordPlan, *, short: bool) -> list[_Column]:
    """Return the columns of shafts: their heads, the knot if they are tied, what they show."""
    tie = "tie to" if short else "tie to these shafts"
    if card.action == "rising":
        return [(tie, "rise", "rise")]
    if card.action == "sinking":
        return [(tie, "sink", "sink"), ("raises" if short else "which raises", None, "raises")]
    names = [each.name.split()[0] if short else each.name for each in cords.lamms]
    return [(name, each.way, each.way) for name, each in zip(names, cords.lamms, strict=True)]


def _tie_row(
    treadle: TiedTreadle,
    columns: Sequence[_Column],
    lefts: Sequence[float],
    each: float,
    ends: _Ends,
    width: float,
    size: float,
) -> Block:
    lists = [
        paragraph(
            _shown(treadle, what),
            each - (_APART if size > LABEL + 2 else _BETWEEN),
            size,
            "bold" if way else "regular",
        )
        for _, way, what in columns
    ]
    number = FIGURE if size >= FIGURE else LABEL + 4
    height = max(leading(number), *(block.height for block in lists)) + 0.8

    def draw(x: float, y: float) -> Iterable[Mark]:
        middle = y + height / 2
        at = middle + cap_height(number) / 2
        name = label(x + ends.number, at, str(treadle.number), number, "bold", colour=INK)
        cells: list[Mark] = [Part((name,), "row head")]
        for left, block in zip(lefts, lists, strict=True):
            shown = block.draw(x + left, middle - block.height / 2)
            cells.append(Part(tuple(shown), "cell"))
        at = middle + cap_height(LABEL) / 2
        cells.append(label(x + ends.cords, at, str(treadle.cords), LABEL, "regular", "end", INK))
        boxes = [tick_box(x + box, middle - BOX / 2) for box in (ends.tied, ends.tried)]
        cells += [Part((box,), "cell") for box in boxes]
        yield Part(tuple(cells), "row")
        yield rule(x, y + height, width, HAIRLINE, HAIR)

    return Block(height, draw)


def _shown(treadle: TiedTreadle, what: str) -> str:
    """Return what a column shows of a treadle; alone it raises nothing if it never is alone."""
    if what != "raises" or treadle.alone:
        return shaft_list(getattr(treadle, what))
    others = ", ".join(str(number) for number in treadle.others)
    return f"only with {others}" if others else "not pressed"


def _total(cords: CordPlan, width: float) -> Block:
    words = f"{plural(cords.cords, 'cord')} in all"
    if len(cords.lamms) > 1:
        each = [f"{lamms.cords} to the {lamms.name} ({_WAYS[lamms.way]})" for lamms in cords.lamms]
        words += f": {listed(each)}"
    parts = [Block(1.2, lambda x, y: ()), paragraph(words, width, LABEL, "bold")]
    if len(cords.lamms) > 1:
        parts.append(paragraph(_moved_words(cords), width, BODY))
    looks = [str(each.number) for each in cords.treadles if each.look]
    if looks:
        one = len(looks) == 1
        weave = "weaves nothing: it raises" if one else "weave nothing: they raise"
        told = f"Treadle{'' if one else 's'} {listed(looks)} {weave} upper layers whole, "
        told += "to look underneath."
        parts.append(paragraph(told, width, BODY))
    return stack(parts)


def together_words(card: TieUpCard, cords: CordPlan, width: float) -> list[Block]:
    """Return the presses of several treadles at once, and how sure it is that they are few."""
    sure = {
        "easiest": "With so many treadles no tie-up needs this for fewer picks: proved.",
        "best found": "The fewest picks found; the search was stopped before it was sure.",
    }
    under = "" if cords.own else sure.get(cords.proved, "")
    blocks = []
    for each in cords.together:
        pressed = " + ".join(str(number) for number in each.treadles)
        words = f"raises {shaft_list(each.raises)}"
        if card.action != "rising":
            words += f", sinks {shaft_list(each.sinks)}"
        blocks.append(_pressed_row(pressed, f"{words} · {plural(each.picks, 'pick')}", width))
    head = heading_line("Treadles pressed together", width, under)
    return [stack([head, blocks[0]]), *blocks[1:]]


def _pressed_row(pressed: str, words: str, width: float) -> Block:
    left = max(measure("10 + 12", LABEL + 2, "bold"), measure(pressed, LABEL + 2, "bold")) + 4.0
    text = paragraph(words, width - left, LABEL)
    height = max(leading(LABEL + 2), text.height) + 0.6

    def draw(x: float, y: float) -> Iterable[Mark]:
        at = y + height / 2 + cap_height(LABEL + 2) / 2
        yield label(x, at, pressed, LABEL + 2, "bold", colour=INK)
        yield from text.draw(x + left, y + (height - text.height) / 2)

    return Block(height, draw)


def confirm_words(cords: CordPlan, width: float) -> Block:
    """Return what is to be looked at on a countermarch before all of it is tied."""
    upper, lower = (each.way for each in cords.lamms)
    words = (
        f"{_WAYS[lower].capitalize()} shafts are tied to the lower (long) lamms, {_WAYS[upper]} "
        "shafts to the upper (short) lamms. Confirm on your loom before tying all: tie one "
        "treadle, press it and look."
    )
    return ticked(words, width)


def _moved_words(cords: CordPlan) -> str:
    """Return whether a countermarch moves every shaft one way at each press."""
    if cords.clean:
        presses = "each press" if len(cords.pressed) > 1 else "the press"
        return f"Worked out for {presses}: every shaft is moved, and none both ways."
    bad = [" + ".join(map(str, each.treadles)) for each in cords.pressed if each.torn or each.still]
    return f"Do not weave this: {listed(bad)} would not move every shaft one way."


def ticked(words: str, width: float) -> Block:
    """Return words with a box to tick before them."""
    text = paragraph(words, width - BOX - 3.0, LABEL)

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield tick_box(x, y + 0.4)
        yield from text.draw(x + BOX + 3.0, y + 0.2)

    return Block(max(text.height, BOX) + 1.0, draw)


def hung_words(hung: HungShafts, width: float) -> list[Block]:
    """Return how the shafts of a counterbalance hang, its uneven sheds, and what helps them."""
    pairs = ", ".join(f"{one} with {other}" for one, other in hung.pairs)
    words = f"In pairs: {pairs}." if pairs else "Not in pairs."
    head = stack([heading_line("How the shafts hang", width), paragraph(words, width, LABEL)])
    if not hung.uneven:
        return [stack([head, paragraph("As many shafts rise as sink in every shed.", width)])]
    sheds = [
        f"{len(each.raises)} against {len(each.sinks)}: raise {' '.join(map(str, each.raises))}, "
        f"{plural(each.picks, 'pick')}"
        for each in hung.uneven
    ]
    words = "In these sheds more shafts go one way than the other, and the shed is smaller:"
    first = [head, paragraph(words, width, BODY), paragraph(sheds[0], width, LABEL)]
    blocks = [stack(first), *(paragraph(shed, width, LABEL) for shed in sheds[1:])]
    helps = f"What helps: {'; '.join(hung.remedies)}."
    return [*blocks, paragraph(helps, width, BODY)]
