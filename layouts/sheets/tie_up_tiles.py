"""How the picture of a tie-up is cut: which treadles and which shafts are drawn together.

Nothing is shrunk. Treadles that do not fit side by side go on in a further band; shafts whose
lamms do not fit one above another on a page are drawn in parts, each with all that it needs. On a
treadle every shaft has a place, or only those tied to it have one where that saves parts. Where
there is room, everything is drawn larger. In more parts than four nobody would find a cord: then
there is no picture.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, groupby, pairwise, product
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
# "16 cords" stands under a treadle; in parts "2 of 12 cords".
_BOARD, _BOARD_IN_PARTS = 14.4, 26.0
_WIDEST_PITCH = 8.0
# From cord to cord at least, where shafts have numbers of one place, and where some have two.
_PITCH, _PITCH_OF_TWO_PLACES = 3.5, 4.0
# Space between numbers, so that 6 7 is never read as 67.
_NUMBER_GAP = 1.4
# Below a picture.
AFTER: Final = 4.0
MOST_PARTS: Final = 4
# From the least to the widest distance of cords.
_STEP = 0.1
# All cords of a treadle in one picture are worth so many times the pages.
_WORTH_A_WHOLE = 1.6
_LAMM_PITCHES = (9.0, 8.0, 7.0, 6.0, 5.2)
_NAMES_AT_BOTH_ENDS = 5.0
_SHAFT_PITCH = 2.9


@dataclass(frozen=True, slots=True)
class Board:
    """A treadle in the picture: its number, whether it is tied, its width in mm.

    It has so many `places` for cords. Many free treadles side by side may be drawn as one, from
    `number` to `last`.
    """

    number: int
    last: int
    tied: bool
    places: int
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
    close: bool

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
    card: TieUpCard,
    cords: CordPlan,
    width: float,
    first_room: float,
    room: float,
    after: Sequence[float] = (),
) -> list[Tile]:
    """Return the pictures of a tie-up for a sheet `width` mm wide, on as few pages as can be.

    `first_room` mm are left on the first page, `room` on further ones; `after` are the heights in
    mm of what follows on the pictures. Empty where it would take more than `MOST_PARTS` of them.
    """
    best: list[Tile] = []
    fewest = 0.0, 0, False
    for parts in range(1, min(MOST_PARTS, len(card.used)) + 1):
        for close, lamm in product((False, True), _LAMM_PITCHES):
            tiles = _cut(card, cords, width, parts, lamm, close=close)
            if not 0 < len(tiles) <= MOST_PARTS or max(tile.height for tile in tiles) > room:
                continue
            pages = _pages([tile.height for tile in tiles], after, first_room, room)
            cost = pages * (1.0 if parts == 1 else _WORTH_A_WHOLE), len(tiles), close
            if not best or cost < fewest:
                best, fewest = tiles, cost
    return best


def _pages(
    pictures: Sequence[float], after: Sequence[float], first_room: float, room: float
) -> int:
    """Return how many pages hold these heights; below a picture there is a gap."""
    pages, left = 1, first_room
    for height, gap in [*((each, AFTER) for each in pictures), *((each, 0.0) for each in after)]:
        if height > left + 1e-9:
            pages, left = pages + 1, room
        left = max(0.0, left - height - gap)
    return pages


def _cut(
    card: TieUpCard, cords: CordPlan, width: float, parts: int, lamm: float, *, close: bool
) -> list[Tile]:
    """Return the pictures with the shafts in so many parts; none if no treadle fits."""
    left, right = _sides(card, len(cords.lamms))
    room = width - left - right - BETWEEN
    marks = [len(card.used) * place // parts for place in range(parts + 1)]
    ranges = [card.used[start:stop] for start, stop in pairwise(marks)]
    pitch = _PITCH if card.used[-1] <= 9 else _PITCH_OF_TWO_PLACES
    boards = _boards(cords, ranges, pitch, close=close)
    if max(board.width for board in boards if board.tied) + BETWEEN > room:
        return []
    joined = _joined(boards)
    if len(_filled(joined, room)) < len(_filled(boards, room)):
        boards = joined
    bands, slot = _stretched(_bands(boards, room), room, pitch, in_parts=parts > 1)
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
            close=close,
        )
        for place, band in enumerate(ordered)
        for shafts in ranges
    ]


def _boards(
    cords: CordPlan, ranges: Sequence[tuple[int, ...]], slot: float, *, close: bool
) -> list[Board]:
    """Return all treadles, those that are tied wide enough for cords `slot` mm apart."""
    tied = {each.number: {*each.rise, *each.sink} for each in cords.treadles}
    found = []
    for number in range(1, cords.places + 1):
        if number not in tied:
            found.append(Board(number, number, tied=False, places=0, width=_FREE_BOARD))
            continue
        some = [[each for each in shafts if each in tied[number]] for shafts in ranges]
        places = max(1, *map(len, some if close else ranges))
        board = Board(number, number, tied=True, places=places, width=0.0)
        found.append(_widened(board, slot, in_parts=len(ranges) > 1))
    return found


def _widened(board: Board, slot: float, *, in_parts: bool) -> Board:
    """Return a treadle as wide as its cords need it, and the words under it."""
    if not board.tied:
        return board
    words = _BOARD_IN_PARTS if in_parts else _BOARD
    return replace(board, width=max(words, board.places * slot + 2 * PAD))


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


def _stretched(
    bands: list[list[Board]], room: float, pitch: float, *, in_parts: bool
) -> tuple[list[list[Board]], float]:
    """Widen all tied treadles as far as every band has room; return the distance of cords too."""
    steps = int((_WIDEST_PITCH - pitch) / _STEP + 1e-9)
    for step in range(steps, -1, -1):
        slot = pitch + step * _STEP
        wide = [[_widened(board, slot, in_parts=in_parts) for board in band] for band in bands]
        if all(sum(each.width + BETWEEN for each in band) <= room + 1e-9 for band in wide):
            return wide, slot
    return bands, pitch
