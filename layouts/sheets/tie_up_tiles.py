"""How the picture of a tie-up is cut: which treadles and which shafts are drawn together.

Nothing is shrunk. Treadles that do not fit side by side go on in a further band; shafts whose
lamms do not fit one above another on a page are drawn in parts, each with all that it needs.
Where there is room, everything is drawn larger.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, groupby, pairwise
from typing import Final

from cards.tie_up_card import TieUpCard
from cards.tied_treadles import CordPlan
from layouts.sheets.layer_mark import TAG
from layouts.sheets.parts import leading
from layouts.typeface import BODY, LABEL, measure

TREADLE_SIZE: Final = 26.0  # points, of the number of a treadle
SHAFT_SIZE: Final = 14.0  # points, of the number of a shaft, and of a free treadle

POST: Final = 2.4  # width of the posts of the loom
GAP: Final = 1.6  # between a post, the names of bars, and the bars
PAD: Final = 0.8  # from the edge of a treadle to its first cord
BETWEEN: Final = 2.0  # between two treadles
CLEAR: Final = 7.0  # of cords between the lowest lamm and the treadles
SET_GAP: Final = 2.0  # below a set of bars
SET_WORD: Final = leading(BODY)

_FREE_BOARD = 8.4
# "4 cords" stands under a treadle; in parts "2 of 12 cords".
_BOARD, _BOARD_IN_PARTS = 15.6, 26.0
_WIDEST_PITCH = 8.0
# From cord to cord at least, where shafts have numbers of one place, and where some have two.
_PITCH, _PITCH_OF_TWO_PLACES = 3.5, 4.0
# Space between numbers, so that 6 7 is never read as 67.
_NUMBER_GAP = 1.4
# All cords of a treadle in one picture are worth so many times the pages.
_WORTH_A_WHOLE = 1.6
_LAMM_PITCHES = (9.0, 8.0, 7.0, 6.0, 5.2)
_NAMES_AT_BOTH_ENDS = 5.0
_SHAFT_PITCH = 2.9


@dataclass(frozen=True, slots=True)
class Board:
    """A treadle in the picture: its number, whether it is tied, its width in mm.

    Many free treadles side by side may be drawn as one, from `number` to `last`.
    """

    number: int
    last: int
    tied: bool
    width: float

    @property
    def name(self) -> str:
        """What stands on the treadle."""
        return str(self.number) if self.number == self.last else f"{self.number}–{self.last}"


@dataclass(frozen=True, slots=True)
class Tile:
    """One picture: treadles from left to right and the shafts drawn, shaft 1 first; all in mm.

    `slot` is the distance from cord to cord, `lamm` that from lamm to lamm and `shaft` that from
    shaft to shaft. `at_left` and `at_right` say whether the loom ends at that side of the picture;
    `whole` whether it is all of the loom.
    """

    boards: tuple[Board, ...]
    shafts: tuple[int, ...]
    sets: int
    slot: float
    lamm: float
    left: float
    right: float
    at_left: bool
    at_right: bool
    in_parts: bool
    feet: bool

    @property
    def whole(self) -> bool:
        """Whether all of the loom is in this one picture."""
        return self.at_left and self.at_right and not self.in_parts

    @property
    def shaft(self) -> float:
        """Distance from shaft to shaft; where it is small, names stand at alternate ends."""
        if self.lamm <= _LAMM_PITCHES[-2]:
            return _SHAFT_PITCH
        return max(_NAMES_AT_BOTH_ENDS, 0.7 * self.lamm)

    @property
    def both_named(self) -> bool:
        """Whether shafts are named at both ends."""
        return self.shaft >= _NAMES_AT_BOTH_ENDS

    @property
    def number_rows(self) -> int:
        """In how many rows the numbers of shafts stand on a treadle."""
        widest = measure(str(self.shafts[-1]), SHAFT_SIZE, "bold") + _NUMBER_GAP
        return 2 if len(self.shafts) > 1 and self.slot < widest else 1

    @property
    def width(self) -> float:
        """Width of the whole picture."""
        boards = sum(board.width + BETWEEN for board in self.boards)
        return self.left + boards + BETWEEN + self.right

    @property
    def title(self) -> float:
        """Height of the words that say which part of the loom this is."""
        return 0.0 if self.whole else leading(LABEL) + 1.0

    @property
    def shafts_top(self) -> float:
        """Where the first row of shafts lies, below the top of the tile."""
        return self.title + POST + 0.8 + SET_WORD + self.shaft / 2

    def lamms_top(self, place: int) -> float:
        """Where the first row of a set of lamms lies, counted from the top set."""
        shafts = self.shafts_top + (len(self.shafts) - 0.5) * self.shaft + SET_GAP
        words = SET_WORD * (1 if self.sets == 1 else 2)
        each = words + len(self.shafts) * self.lamm + SET_GAP
        return shafts + place * each + words + self.lamm / 2

    @property
    def boards_top(self) -> float:
        """Where the treadles begin."""
        return self.lamms_top(self.sets - 1) + (len(self.shafts) - 0.5) * self.lamm + CLEAR

    @property
    def board_height(self) -> float:
        """Height of a treadle."""
        return 2.6 + self.number_rows * leading(SHAFT_SIZE) + leading(TREADLE_SIZE) + 1.2

    @property
    def height(self) -> float:
        """Height of the whole picture."""
        below = leading(BODY) + (leading(BODY) + 2.4 if self.feet else 0.0)
        return self.boards_top + self.board_height + 0.8 + below + 1.6


def tiles_for(
    card: TieUpCard, cords: CordPlan, width: float, first_room: float, room: float
) -> list[Tile]:
    """Return the pictures of a tie-up for a sheet `width` mm wide, on as few pages as can be.

    `first_room` mm are left on the first page, `room` on further ones. Empty where the paper is
    too small for the least picture.
    """
    best: list[Tile] = []
    fewest = 0.0, 0
    for parts in range(1, len(card.used) + 1):
        for lamm in _LAMM_PITCHES:
            tiles = _cut(card, cords, width, parts, lamm)
            if not tiles or max(tile.height for tile in tiles) > room:
                continue
            pages = _pages(tiles, first_room, room)
            cost = pages * (1.0 if parts == 1 else _WORTH_A_WHOLE), len(tiles)
            if not best or cost < fewest:
                best, fewest = tiles, cost
        if best and parts > 2:
            break
    return best


def _pages(tiles: Sequence[Tile], first_room: float, room: float) -> int:
    pages, left = 1, first_room
    for tile in tiles:
        if tile.height > left:
            pages, left = pages + 1, room
        left -= tile.height
    return pages


def _cut(card: TieUpCard, cords: CordPlan, width: float, parts: int, lamm: float) -> list[Tile]:
    """Return the pictures with the shafts in so many parts; none if no treadle fits."""
    left, right = _sides(card, len(cords.lamms))
    room = width - left - right - BETWEEN
    marks = [len(card.used) * place // parts for place in range(parts + 1)]
    ranges = [card.used[start:stop] for start, stop in pairwise(marks)]
    most = max(len(shafts) for shafts in ranges)
    pitch = _PITCH if card.used[-1] <= 9 else _PITCH_OF_TWO_PLACES
    least = max(_BOARD if parts == 1 else _BOARD_IN_PARTS, most * pitch + 2 * PAD)
    if least + BETWEEN > room:
        return []
    boards = _boards(cords, least)
    joined = _joined(boards)
    if len(_filled(joined, room)) < len(_filled(boards, room)):
        boards = joined
    bands = _stretched(_bands(boards, room), room, most)
    slot = min(_WIDEST_PITCH, (_tied_width(bands, least) - 2 * PAD) / most)
    ordered = bands if card.treadle_1 == "left" else [band[::-1] for band in bands]
    ends = (0, len(bands) - 1) if card.treadle_1 == "left" else (len(bands) - 1, 0)
    return [
        Tile(
            boards=tuple(band),
            shafts=shafts,
            sets=len(cords.lamms),
            slot=slot,
            lamm=lamm,
            left=left,
            right=right,
            at_left=place == ends[0],
            at_right=place == ends[1],
            in_parts=parts > 1,
            feet=card.walk is not None,
        )
        for place, band in enumerate(ordered)
        for shafts in ranges
    ]


def _boards(cords: CordPlan, least: float) -> list[Board]:
    """Return all treadles, those that are tied `least` mm wide."""
    tied = {treadle.number for treadle in cords.treadles}
    return [
        Board(number, number, number in tied, least if number in tied else _FREE_BOARD)
        for number in range(1, cords.places + 1)
    ]


def _joined(boards: Sequence[Board]) -> list[Board]:
    """Return the same treadles, free ones that lie side by side as one."""
    found: list[Board] = []
    for tied, alike in groupby(boards, key=lambda board: board.tied):
        some = list(alike)
        if tied or len(some) == 1:
            found.extend(some)
            continue
        both = replace(some[0], last=some[-1].number)
        found.append(replace(both, width=measure(both.name, SHAFT_SIZE) + 2.0))
    return found


def _sides(card: TieUpCard, sets: int) -> tuple[float, float]:
    """Return the width at the left and at the right of the treadles, posts and names in it.

    Cords to the upper of two sets pass the words of the lower one, which stand at the left.
    """
    name = measure(str(card.used[-1]), SHAFT_SIZE, "bold")
    right = POST + 2 * GAP + name
    left = right + (TAG + GAP if card.layers else 0.0)
    if sets > 1:
        left = max(left, POST + GAP + measure("lower", BODY, "bold") + 5.0)
    return left, right


def _bands(boards: Sequence[Board], room: float) -> list[list[Board]]:
    """Return treadles in as few bands as can be, all as nearly of one width as can be.

    Least squares over the places where bands end, band by band (dynamic programming).
    """
    ends = [0.0, *accumulate(board.width + BETWEEN for board in boards)]
    best: dict[int, tuple[float, tuple[int, ...]]] = {0: (0.0, (0,))}
    for _ in range(len(_filled(boards, room))):
        further: dict[int, tuple[float, tuple[int, ...]]] = {}
        for start, (cost, marks) in best.items():
            for stop in range(start + 1, len(boards) + 1):
                width = ends[stop] - ends[start]
                if width > room + 1e-9:
                    break
                found = cost + width * width, (*marks, stop)
                further[stop] = min(found, further.get(stop, found))
        best = further
    marks = best[len(boards)][1]
    return [list(boards[start:stop]) for start, stop in pairwise(marks)]


def _filled(boards: Sequence[Board], room: float) -> list[list[Board]]:
    bands: list[list[Board]] = [[]]
    used = 0.0
    for board in boards:
        if bands[-1] and used + board.width + BETWEEN > room + 1e-9:
            bands.append([])
            used = 0.0
        bands[-1].append(board)
        used += board.width + BETWEEN
    return bands


def _stretched(bands: list[list[Board]], room: float, most: int) -> list[list[Board]]:
    """Widen all tied treadles alike, as far as every band has room and cords need."""
    largest = max(_BOARD, most * _WIDEST_PITCH + 2 * PAD)
    widths = [largest]
    for band in bands:
        tied = [board for board in band if board.tied]
        free = sum(board.width for board in band if not board.tied)
        if tied:
            widths.append((room - free - len(band) * BETWEEN) / len(tied))
    width = min(widths)
    return [
        [replace(board, width=max(board.width, width)) if board.tied else board
         for board in band]
        for band in bands
    ]  # fmt: skip


def _tied_width(bands: list[list[Board]], least: float) -> float:
    return next((board.width for band in bands for board in band if board.tied), least)
