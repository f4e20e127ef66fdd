"""Reads the picture of a tie-up as an eye does: from its marks alone back to cords and shafts.

A cord is an upright stroke of some weight; a lamm is a row of grey pieces between two names; a
treadle is a box with a large number. Nothing is taken from the code that draws.
"""

from dataclasses import dataclass, field
from itertools import pairwise

from layouts.drawing import Box, Disc, Figure, Line, Text, unparted
from tests.sheets.looks import flat

NEAR = 0.01


@dataclass
class Cord:
    """A cord as it was read: treadle and shaft at its ends, the set of lamms from the top."""

    line: Line
    treadle: int
    shaft: int
    lamms: int
    way: str


@dataclass
class Picture:
    """All that was read of one picture."""

    cords: list[Cord]
    treadles: list[tuple[float, int]]
    free: list[tuple[float, int]]
    rows: list[tuple[float, int, int]]  # y, set from the top, shaft
    pieces: list[Box] = field(repr=False)
    texts: list[Text] = field(repr=False)
    lines: list[Line] = field(repr=False)


def pictures(drawing):
    """Return every picture of a tie-up in a drawing."""
    return [
        read(mark)
        for page in drawing.pages
        for mark in unparted(page.marks)
        if isinstance(mark, Figure) and mark.title.startswith("Tie-up")
    ]


def upright(mark):
    return isinstance(mark, Line) and mark.x1 == mark.x2


def read(figure):
    marks = list(flat(figure.marks))
    texts = [mark for mark in marks if isinstance(mark, Text)]
    pieces = [
        mark
        for mark in marks
        if isinstance(mark, Box) and mark.stroke is None and mark.fill == "#909090"
    ]
    boards = {}
    free = []
    for box in marks:
        if isinstance(box, Box) and box.stroke is not None:
            inside = [text for text in texts if _inside(text, box)]
            large = [text for text in inside if text.size >= 24]
            if large:
                (number,) = large
                boards[int(number.text)] = box
            elif len(inside) == 1:
                first, _, last = inside[0].text.partition("–")
                free += [(box.x, each) for each in range(int(first), int(last or first) + 1)]
    rows = _rows(pieces, texts)
    strokes = [mark for mark in marks if upright(mark) and mark.width >= 0.8]
    cords = [_cord(line, marks, texts, pieces, boards, rows) for line in strokes]
    lines = [mark for mark in marks if upright(mark)]
    lying = sorted((box.x, number) for number, box in boards.items())
    return Picture(cords, lying, sorted(free), rows, pieces, texts, lines)


def _inside(text, box):
    middle = text.left + text.width / 2
    return (
        text.text.replace("–", "").isdigit()
        and box.x < middle < box.x + box.width
        and box.y < text.y <= box.y + box.height
    )


def _rows(pieces, texts):
    """Return the rows of lamms with the shaft that is named at both their ends."""
    heights = sorted({round(piece.y + piece.height / 2, 6) for piece in pieces})
    found = []
    for y in heights:
        here = [piece for piece in pieces if abs(piece.y + piece.height / 2 - y) < NEAR]
        left, right = min(p.x for p in here), max(p.x + p.width for p in here)
        names = [
            text
            for text in texts
            if text.size >= 14 and text.text.isdigit() and y < text.y < y + 3
            and (0 < left - (text.left + text.width) < 3 or 0 < text.left - right < 3)
        ]  # fmt: skip
        assert len(names) == 2, names
        assert names[0].text == names[1].text
        found.append((y, int(names[0].text)))
    rows, seen, lamms = [], set(), 0
    for y, shaft in found:
        if shaft in seen:
            seen, lamms = set(), lamms + 1
        seen.add(shaft)
        rows.append((y, lamms, shaft))
    return rows


def _cord(line, marks, texts, pieces, boards, rows):
    """Return a cord with the one lamm and the one treadle that it ends at."""
    top, bottom = sorted((line.y1, line.y2))
    ends = [(lamms, shaft) for y, lamms, shaft in rows if abs(y - top) < NEAR]
    assert len(ends) == 1
    ((lamms, shaft),) = ends
    on = [
        piece
        for piece in pieces
        if piece.x < line.x1 < piece.x + piece.width
        and piece.y < top < piece.y + piece.height
    ]  # fmt: skip
    assert len(on) == 1
    treadles = [
        number
        for number, box in boards.items()
        if box.x < line.x1 < box.x + box.width and abs(box.y - bottom) < NEAR
    ]
    assert len(treadles) == 1
    box = boards[treadles[0]]
    below = [
        text
        for text in texts
        if text.size >= 14 and text.size < 24 and _inside(text, box)
        and abs(text.left + text.width / 2 - line.x1) < NEAR
    ]  # fmt: skip
    assert [text.text for text in below] == [str(shaft)]
    ways = {_knot(marks, line.x1, y) for y in (top, bottom)}
    assert len(ways) == 1
    return Cord(line, treadles[0], shaft, lamms, ways.pop())


def _knot(marks, x, y):
    """Return whether a disc or a cross stands about a point."""
    discs = [
        mark
        for mark in marks
        if isinstance(mark, Disc) and abs(mark.x - x) < NEAR and abs(mark.y - y) < NEAR
    ]
    strokes = [
        mark
        for mark in marks
        if isinstance(mark, Line)
        and mark.x1 != mark.x2
        and mark.y1 != mark.y2
        and abs((mark.x1 + mark.x2) / 2 - x) < NEAR
        and abs((mark.y1 + mark.y2) / 2 - y) < NEAR
    ]
    assert (len(discs), len(strokes)) in ((1, 0), (0, 2))
    return "rise" if discs else "sink"


def table(drawing):
    """Return what the table says: for each treadle the lists of its columns and its cords.

    A row lies between two rules; each list of shafts begins below the head of its column.
    """
    rows = {}
    for page in drawing.pages:
        marks = list(flat(page.marks))
        texts = [mark for mark in marks if isinstance(mark, Text)]
        heads = [text for text in texts if text.text == "treadle"]
        if not heads:
            continue
        (head,) = heads
        # A knot of at most 5 mm stands before the word of a column.
        lefts = [
            text.left for text in texts if text.y == head.y and text.text not in _NO_LISTS
        ]  # fmt: skip
        rules = sorted(
            mark.y1
            for mark in marks
            if isinstance(mark, Line)
            and mark.y1 == mark.y2
            and mark.y1 > head.y
            and abs(mark.x1 - head.left) < NEAR
        )
        for top, bottom in pairwise(rules):
            here = [text for text in texts if top < text.y < bottom]
            first = min(here, key=lambda text: text.left)
            if not (first.text.isdigit() and first.weight == "bold" and first.size >= 16):
                break
            # A list may take two lines; its first is not left of any other.
            lists = [
                [each for text in sorted(here, key=lambda text: text.y)
                 if 0 <= left - text.left < 5 and text is not first
                 for each in text.text.split()]
                for left in lefts
            ]  # fmt: skip
            cords = max(here, key=lambda text: text.left)
            rows[int(first.text)] = lists, int(cords.text)
    return rows


_NO_LISTS = ("treadle", "cords", "tied", "tried")
