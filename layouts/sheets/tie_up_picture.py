"""The picture of a tie-up, seen from the front: shafts, lamms, treadles and the cords between.

Bars lie one above another as they hang one behind another, the nearest at the bottom. On every
treadle each tied shaft has a place of its own, so a cord runs straight down from its lamm and never
meets another. Where it passes a lamm to which it is not tied, that has a gap.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from cards.tie_up_card import TieUpCard
from cards.tied_treadles import CordPlan, LammSet, TiedTreadle, Way
from layouts.drawing import Box, Disc, Figure, Line, Mark
from layouts.sheets.layer_mark import TAG, layer_tag
from layouts.sheets.parts import HAIR, INK, SOFT, Block, baseline, leading
from layouts.sheets.tie_up_tiles import (
    BETWEEN,
    GAP,
    POST,
    SET_WORD,
    SHAFT_SIZE,
    TREADLE_SIZE,
    Board,
    Tile,
)
from layouts.typeface import BODY, LABEL, cap_height, label, measure

CORD: Final = 0.9
LAMM: Final = "#909090"  # 3 to 1 on white, and a cord in ink is seen across it
_LAMM_HEIGHT = 2.0
_SHAFT_HEIGHT = 1.8
_WOOD = "#dedede"
# From the middle of a cord to the lamm that it passes.
_CLEAR = 1.15
_KNOT = 1.7
_EYE = 1.25
_DASH = (2.2, 1.2)


def knot(way: Way, x: float, y: float, size: float = _KNOT) -> Iterable[Mark]:
    """Yield a knot about (x, y) mm: a disc where the shaft rises, a cross where it sinks."""
    if way == "rise":
        yield Disc(x, y, size, fill=INK, stroke=None)
        return
    arm = 0.9 * size
    yield Line(x - arm, y - arm, x + arm, y + arm, 0.9, INK)
    yield Line(x - arm, y + arm, x + arm, y - arm, 0.9, INK)


def cord(way: Way, x: float, top: float, bottom: float, *, both: bool) -> Line:
    """Return a cord; where there are cords of `both` ways those that sink a shaft are dashed."""
    return Line(x, top, x, bottom, CORD, INK, _DASH if both and way == "sink" else ())


@dataclass(frozen=True, slots=True)
class _Cord:
    """A cord in the picture: its shaft, the set of lamms and the row in it, its x in mm.

    `line` is the line of figures in which its shaft is named on the treadle.
    """

    shaft: int
    set: int
    way: Way
    row: int
    x: float
    line: int


class _Painter:
    """Draws one tile from its top left corner."""

    def __init__(self, card: TieUpCard, cords: CordPlan, tile: Tile, x: float, y: float) -> None:
        self.card, self.tile, self.x, self.y = card, tile, x, y
        self.sets = cords.lamms
        self.places = cords.places
        self.tied = {treadle.number: treadle for treadle in cords.treadles}
        # Rows from the top down hang from the back to the front.
        near_first = card.shaft_1 == "front"
        self.rows = tile.shafts[::-1] if near_first else tile.shafts
        self.cords = [each for board, left in self.boards() for each in self._cords_of(board, left)]

    def boards(self) -> Iterable[tuple[Board, float]]:
        """Yield each treadle with the x of its left edge."""
        left = self.x + self.tile.left + BETWEEN
        for board in self.tile.boards:
            yield board, left
            left += board.width + BETWEEN

    def _cords_of(self, board: Board, left: float) -> Iterable[_Cord]:
        if not board.tied:
            return
        tile, treadle = self.tile, self.tied[board.number]
        here = self._places(treadle)
        start = left + board.width / 2 - (len(here) - 1) * tile.slot / 2
        for place, lamms in enumerate(self.sets):
            for shaft in treadle.rise if lamms.way == "rise" else treadle.sink:
                if shaft in tile.shafts:
                    line = here.index(shaft)
                    at = start + line * tile.slot
                    row = self.rows.index(shaft)
                    yield _Cord(shaft, place, lamms.way, row, at, line % tile.number_rows)

    def _places(self, treadle: TiedTreadle) -> tuple[int, ...]:
        """Return the shafts that have a place on a treadle, from left to right."""
        if not self.tile.close:
            return self.tile.shafts
        tied = {*treadle.rise, *treadle.sink}
        return tuple(shaft for shaft in self.tile.shafts if shaft in tied)

    def lamm_y(self, place: int, row: int) -> float:
        """Return the height of the middle of a lamm."""
        return self.y + self.tile.lamms_top(place) + row * self.tile.lamm

    @property
    def bars(self) -> tuple[float, float]:
        """From where to where a bar reaches."""
        return self.x + self.tile.left, self.x + self.tile.width - self.tile.right

    def all(self) -> Iterable[Mark]:
        """Yield all marks of the picture."""
        yield from self._title()
        yield from self._frame()
        yield from self._shafts()
        for place, lamms in enumerate(self.sets):
            yield from self._set_words(place, lamms)
            for row in range(len(self.rows)):
                yield from self._lamm(place, row)
        for board, left in self.boards():
            yield from self._board(board, left)
        yield from self._strung()
        yield from self._feet()

    def _title(self) -> Iterable[Mark]:
        if not self.tile.whole:
            at = self.y + baseline(LABEL)
            yield label(
                self.x, at, tile_words(self.card, self.tile, self.places), LABEL, "bold", colour=INK
            )

    def _frame(self) -> Iterable[Mark]:
        """Yield the posts and the beam of the loom, open at a side where it goes on."""
        tile = self.tile
        top = self.y + tile.title
        height = tile.boards_top + tile.board_height - tile.title
        yield Box(self.x, top, tile.width, POST, _WOOD, None)
        if tile.at_left:
            yield Box(self.x, top + POST, POST, height - POST, _WOOD, None)
        if tile.at_right:
            left = self.x + tile.width - POST
            yield Box(left, top + POST, POST, height - POST, _WOOD, None)

    def _shafts(self) -> Iterable[Mark]:
        tile = self.tile
        first, last = self.bars
        at = self.y + tile.shafts_top - tile.shaft / 2 - SET_WORD + baseline(BODY) - 0.4
        yield label(self.x + POST + GAP, at, "shafts", BODY, "bold", colour=SOFT)
        for row, shaft in enumerate(self.rows):
            y = self.y + tile.shafts_top + row * tile.shaft
            top = y - _SHAFT_HEIGHT / 2
            yield Box(first, top, last - first, _SHAFT_HEIGHT, "#ffffff", INK, 0.3)
            yield from self._names(shaft, y, both=tile.both_named)

    def _names(self, shaft: int, y: float, *, both: bool) -> Iterable[Mark]:
        """Yield the number of a shaft at both ends of its bar, or at one by turns."""
        first, last = self.bars
        at = y + cap_height(SHAFT_SIZE) / 2
        even = shaft % 2 == 0
        if both or not even:
            yield label(first - GAP, at, str(shaft), SHAFT_SIZE, "bold", "end", INK)
        if both or even:
            yield label(last + GAP, at, str(shaft), SHAFT_SIZE, "bold", "start", INK)
        layer = self.card.layer_of(shaft)
        if layer is not None and both:
            name = measure(str(self.card.used[-1]), SHAFT_SIZE, "bold")
            yield from layer_tag(layer.lane, first - 2 * GAP - name - TAG / 2, y)

    def _set_words(self, place: int, lamms: LammSet) -> Iterable[Mark]:
        tile = self.tile
        words = lamms.name.split()
        top = self.y + tile.lamms_top(place) - tile.lamm / 2 - len(words) * SET_WORD
        left = self.x + POST + GAP
        for line, word in enumerate(words):
            at = top + line * SET_WORD + baseline(BODY) - 0.4
            yield label(left, at, word, BODY, "bold", colour=SOFT)
        at = top + baseline(BODY) - 0.4 - cap_height(BODY) / 2
        yield from knot(lamms.way, left + measure(words[0], BODY, "bold") + 3.0, at, 1.3)

    def _lamm(self, place: int, row: int) -> Iterable[Mark]:
        """Yield a lamm in pieces, cut where cords pass in front of it, and its name."""
        y = self.lamm_y(place, row)
        first, last = self.bars
        passing = sorted(each.x for each in self.cords if (each.set, each.row) < (place, row))
        start = first
        for x in passing:
            yield _piece(start, x - _CLEAR, y)
            start = x + _CLEAR
        yield _piece(start, last, y)
        yield from self._names(self.rows[row], y, both=True)

    def _board(self, board: Board, left: float) -> Iterable[Mark]:
        tile = self.tile
        top = self.y + tile.boards_top
        middle, height = left + board.width / 2, tile.board_height
        at = top + height - 1.2 - leading(TREADLE_SIZE) + baseline(TREADLE_SIZE)
        number = board.name
        under = top + height + 0.8 + baseline(BODY)
        if not board.tied:
            yield Box(left, top, board.width, height, None, HAIR, 0.3)
            yield label(middle, at, number, SHAFT_SIZE, "regular", "middle", SOFT)
            yield label(middle, under, "free", BODY, "regular", "middle", SOFT)
            return
        yield Box(left, top, board.width, height, "#ffffff", INK, 0.6)
        yield label(middle, at, number, TREADLE_SIZE, "bold", "middle", INK)
        words = self._cord_words(self.tied[board.number])
        yield label(middle, under, words, BODY, "regular", "middle", INK)

    def _cord_words(self, treadle: TiedTreadle) -> str:
        plural = "s" if treadle.cords != 1 else ""
        if not self.tile.in_parts:
            return f"{treadle.cords} cord{plural}"
        here = sum(1 for each in (*treadle.rise, *treadle.sink) if each in self.tile.shafts)
        return f"{here} of {treadle.cords} cord{plural}"

    def _strung(self) -> Iterable[Mark]:
        """Yield every cord with its knot, its eye in the treadle, and the number of its shaft."""
        tile = self.tile
        eye = self.y + tile.boards_top
        both = len(self.sets) > 1
        for each in self.cords:
            y = self.lamm_y(each.set, each.row)
            yield cord(each.way, each.x, y, eye, both=both)
            yield from knot(each.way, each.x, y)
            yield from knot(each.way, each.x, eye, _EYE)
            top = eye + 1.9
            at = top + each.line * leading(SHAFT_SIZE) + baseline(SHAFT_SIZE) - 0.3
            yield label(each.x, at, str(each.shaft), SHAFT_SIZE, "bold", "middle", INK)
            if each.line:
                yield Line(each.x, eye, each.x, top + leading(SHAFT_SIZE), 0.25, INK)

    def _feet(self) -> Iterable[Mark]:
        """Yield a brace under the treadles of each foot."""
        walk = self.card.walk
        if walk is None:
            return
        looks = tuple(each.number for each in self.tied.values() if each.look)
        top = self.y + self.tile.boards_top + self.tile.board_height + 0.8 + leading(BODY) + 1.0
        feet = ((walk.left_foot, "left foot"), (walk.right_foot, "right foot"), (looks, "to look"))
        for foot, words in feet:
            spans = [
                (left, left + board.width) for board, left in self.boards() if board.number in foot
            ]
            if spans:
                first, last = spans[0][0], spans[-1][1]
                yield Line(first, top, last, top, 0.5, INK)
                at = top + 0.8 + baseline(BODY)
                yield label((first + last) / 2, at, words, BODY, "regular", "middle", INK)


def _piece(start: float, stop: float, y: float) -> Box:
    return Box(start, y - _LAMM_HEIGHT / 2, stop - start, _LAMM_HEIGHT, LAMM, None)


def tile_words(card: TieUpCard, tile: Tile, places: int) -> str:
    """Return which part of a loom with so many treadles a picture shows."""
    first = min(board.number for board in tile.boards)
    words = _span("Treadle", first, max(board.last for board in tile.boards))
    if not (tile.at_left and tile.at_right):
        words += f" of {places}"
    if tile.in_parts:
        words += f" · {_span('shaft', tile.shafts[0], tile.shafts[-1])} of {card.shafts}"
    return words


def _span(word: str, first: int, last: int) -> str:
    return f"{word} {first}" if first == last else f"{word}s {first} to {last}"


def picture(card: TieUpCard, cords: CordPlan, tile: Tile, width: float) -> Block:
    """Return a picture as a block in the middle of a sheet `width` mm wide."""

    def draw(x: float, y: float) -> Iterable[Mark]:
        painter = _Painter(card, cords, tile, x + (width - tile.width) / 2, y)
        words = tile_words(card, tile, cords.places)
        title = f"Tie-up, {words[:1].lower()}{words[1:]}"
        yield Figure(tuple(painter.all()), title, _told(cords, tile))

    return Block(tile.height, draw)


def _told(cords: CordPlan, tile: Tile) -> str:
    """Return in words what the picture shows."""
    shown = {board.number for board in tile.boards}
    told = []
    for treadle in cords.treadles:
        if treadle.number in shown:
            ways = (("rise", treadle.rise), ("sink", treadle.sink))
            ties = [
                f"{way} {' '.join(map(str, some))}"
                for way, all_tied in ways
                if (some := [shaft for shaft in all_tied if shaft in tile.shafts])
            ]
            told.append(f"treadle {treadle.number}: {', '.join(ties) or 'no cord'}")
    return "; ".join(told)
