"""The lifts of a loom whose shafts are raised by hand, each as a picture of what the hand moves.

Levers: black and up is a shaft that is raised, white and down one that is left. Of a direct tie-up
the treadles that are pressed are black and lie lower. A rigid heddle stands up or down.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Final

from cards.different_lifts import DifferentLift
from cards.tie_up_card import TieUpCard
from layouts.drawing import WHITE, Box, Disc, Figure, Line, Mark, Path
from layouts.sheets.layer_key import layer_key
from layouts.sheets.page import PageFlow
from layouts.sheets.parts import (
    BOX,
    HAIR,
    INK,
    SOFT,
    Block,
    baseline,
    beside,
    key_figures,
    leading,
    paragraph,
    tick_box,
)
from layouts.typeface import BODY, FIGURE, LABEL, cap_height, label, measure

_NUMBER: Final = 14.0
_PITCH: Final = 8.2
_KNOB: Final = 3.6
_THROW: Final = 8.0  # from a knob that is up to one that is down
_BETWEEN: Final = 10.0
_BELOW: Final = 5.0
_HEDDLE_WIDTH: Final = 30.0

_WORDS = {
    "levers": "Black and up: raise this shaft. White and down: leave it down.",
    "pedals": "Each treadle raises the shaft of its number. Press those that are black.",
    "heddle": (
        "Heddle up raises the ends in the holes, here shaft 1; heddle down leaves those in the "
        "slots above, here shaft 2."
    ),
}


def draw_lifts(flow: PageFlow, card: TieUpCard) -> None:
    """Draw every different lift with a box to tick when it has been tried."""
    flow.add(key_figures(_key_figures(card), flow.width))
    flow.add(paragraph(_introduction(card), flow.width, BODY, colour=SOFT))
    if card.layers:
        flow.gap(1.0)
        flow.add(layer_key(card.layers, flow.width))
    flow.gap(3.0)
    cells = [_cell(card, lift, flow.width, left_handed=flow.left_handed) for lift in card.lifts]
    pitch = max(cell.width for cell in cells) + _BETWEEN
    in_row = max(1, int((flow.width + _BETWEEN) // pitch))
    for start in range(0, len(cells), in_row):
        row = cells[start : start + in_row]
        flow.add(beside([(place * pitch, cell.block) for place, cell in enumerate(row)]))
        flow.gap(_BELOW)


def _key_figures(card: TieUpCard) -> list[tuple[str, str]]:
    lifts = "different lift" if len(card.lifts) == 1 else "different lifts"
    return [(str(len(card.lifts)), lifts), (str(card.shafts), "shafts")]


def _introduction(card: TieUpCard) -> str:
    order = "Each different lift of a piece in the order of its first use; the pick tally has them"
    order += " pick by pick. Try each with the warp on the loom, look at the shed, and tick it."
    if card.kind == "lifts":
        have = f"{card.treadles} treadles" if card.treadles else "its treadles"
        return (
            f"This loom cannot make the {len(card.lifts)} different lifts with {have}, so none is "
            "tied. These are the lifts, for a loom that can. They stand in the order of their "
            "first use."
        )
    if card.kind == "heddle" and not any(lift.heddle for lift in card.lifts):
        return order
    return f"{_WORDS[card.kind]} {order}"


@dataclass(frozen=True, slots=True)
class _Cell:
    width: float
    block: Block


def _cell(card: TieUpCard, lift: DifferentLift, width: float, *, left_handed: bool) -> _Cell:
    """Return a lift: its number and box, its picture, and the shafts in words."""
    picture = _pictures(card, lift, width)
    picks = f"{lift.picks} picks, first pick {lift.first}"
    if lift.picks == 1:
        picks = f"1 pick, pick {lift.first}"
    number = measure("88", FIGURE, "bold") + 2.0
    head = number + BOX + 2.0 + measure(picks, BODY)
    wide = picture.width if picture else 0.0
    words = paragraph(_words(card, lift), max(wide, head, 46.0), LABEL + 2, "bold")
    figure, box = (BOX + 2.0, 0.0) if left_handed else (0.0, number)
    top = leading(FIGURE) + 0.8
    high = picture.block.height + 1.6 if picture else 0.0

    def draw(x: float, y: float) -> Iterable[Mark]:
        at = y + baseline(FIGURE)
        middle = at - cap_height(FIGURE) / 2
        yield label(x + figure, at, str(lift.number), FIGURE, "bold", colour=INK)
        yield tick_box(x + box, middle - BOX / 2)
        beside_box = middle + cap_height(BODY) / 2
        yield label(x + number + BOX + 2.0, beside_box, picks, BODY, colour=SOFT)
        if picture:
            marks = tuple(picture.block.draw(x, y + top))
            yield Figure(marks, f"Lift {lift.number}", _words(card, lift))
        yield from words.draw(x, y + top + high)

    return _Cell(max(wide, head, 46.0), Block(top + high + words.height, draw))


def _words(card: TieUpCard, lift: DifferentLift) -> str:
    if lift.heddle:
        return f"heddle {lift.heddle}"
    if not lift.shafts:
        return "press none" if card.kind == "pedals" else "raise none"
    if card.kind == "pedals":
        return f"press {' + '.join(map(str, lift.shafts))}"
    return f"raise {'  '.join(map(str, lift.shafts))}"


def _pictures(card: TieUpCard, lift: DifferentLift, width: float) -> _Cell | None:
    if card.kind == "heddle":
        return _heddle(lift.heddle) if lift.heddle else None
    if card.kind == "levers":
        return _row_of(card.shafts, width, 2 * _KNOB + _THROW + 1.0, _lever, set(lift.shafts))
    if card.kind == "pedals":
        return _row_of(card.shafts, width, 17.0, _pedal, set(lift.shafts))
    return None


def _row_of(
    shafts: int,
    width: float,
    height: float,
    one: Callable[[int, float, float, bool], Iterable[Mark]],
    raised: set[int],
) -> _Cell:
    """Return one thing a shaft side by side, in even rows if there is no room for a single one."""
    rows = -(-shafts // max(1, int(width // _PITCH)))
    in_row = -(-shafts // rows)

    def draw(x: float, y: float) -> Iterable[Mark]:
        for shaft in range(1, shafts + 1):
            row, place = divmod(shaft - 1, in_row)
            left = x + place * _PITCH
            yield from one(shaft, left, y + row * (height + 2.0), shaft in raised)

    return _Cell(in_row * _PITCH, Block(rows * (height + 2.0) - 2.0, draw))


def _lever(shaft: int, x: float, y: float, up: bool) -> Iterable[Mark]:  # noqa: FBT001
    """Yield a lever in its slot."""
    middle, top, bottom = x + _PITCH / 2, y + _KNOB, y + _KNOB + _THROW
    yield Line(middle, top, middle, bottom, 1.2, HAIR)
    at = top if up else bottom
    yield Disc(middle, at, _KNOB, INK if up else WHITE, INK, 0.4)
    number = at + cap_height(_NUMBER) / 2
    colour = WHITE if up else INK
    yield label(middle, number, str(shaft), _NUMBER, "bold", "middle", colour)


def _pedal(shaft: int, x: float, y: float, pressed: bool) -> Iterable[Mark]:  # noqa: FBT001
    """Yield a treadle, lower if it is pressed."""
    top = y + 4.0 if pressed else y
    yield Box(x + 0.5, top, _PITCH - 1.0, 13.0, INK if pressed else WHITE, INK, 0.4)
    at = top + 6.5 + cap_height(_NUMBER) / 2
    colour = WHITE if pressed else INK
    yield label(x + _PITCH / 2, at, str(shaft), _NUMBER, "bold", "middle", colour)


def _heddle(position: str) -> _Cell:
    """Return a rigid heddle between its posts, up or down, with an arrow that way."""
    height = 20.0

    def draw(x: float, y: float) -> Iterable[Mark]:
        for left in (x, x + _HEDDLE_WIDTH - 2.4):
            yield Box(left, y, 2.4, height, "#dedede", None)
        up = position == "up"
        top = y + 1.0 if up else y + height - 7.0
        yield Box(x + 3.4, top, _HEDDLE_WIDTH - 6.8, 6.0, INK if up else WHITE, INK, 0.5)
        middle = x + _HEDDLE_WIDTH / 2
        tip = y + 9.5 if up else y + 10.5
        back = tip + 6.0 if up else tip - 6.0
        neck = tip + 2.4 if up else tip - 2.4
        yield Line(middle, back, middle, neck, 0.9, INK)
        head = (("M", middle, tip), ("L", middle - 2.0, neck), ("L", middle + 2.0, neck), ("Z",))
        yield Path(head, INK, None)

    return _Cell(_HEDDLE_WIDTH, Block(height, draw))
