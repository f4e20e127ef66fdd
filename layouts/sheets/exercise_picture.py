"""Draws the part of a draft that an exercise shows, with cells large enough to write in.

Cells that are asked are framed; on the sheet with the answers what was given is grey, and what was
asked stands in black. Everything is turned by the rulers, as on the draft sheet.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from cards.exercises import Field, ShownDraft
from cards.exercises.exercise import Marks
from cards.project.model import ProjectYarn
from cards.spec import Conventions
from layouts.drawing import BLACK, Box, Figure, Mark, Path, Step
from layouts.patch import SMALLEST_HEIGHT, SMALLEST_WIDTH
from layouts.sheets.draft_part import Ruler, cells, grid
from layouts.sheets.draft_picture import tie_mark, tie_number
from layouts.sheets.parts import HAIR, INK, SOFT, pictured, yarn_patch
from layouts.typeface import NOTE, cap_height, label, measure

# What was given, on the sheet with the answers: darker than any paper, lighter than any answer.
GIVEN: Final = "#a8a8a8"

# Sizes of cells in mm, those that are written in and those that are only read, the largest first.
SIZES: Final = (
    (9.0, 6.5),
    (8.0, 6.0),
    (7.5, 5.5),
    (7.0, 5.0),
    (6.5, 4.5),
    (6.0, 4.2),
    (6.0, 3.6),
    (6.0, 2.8),
)
_LEAST_WRITTEN: Final = 6.0
# On the sheet with the answers nobody writes.
_LEAST_READ: Final = 4.0
_NUMBERS: Final = 4.2
_BETWEEN: Final = 2.0
_YARN_ROW: Final = 6.0
_YARN_COLUMN: Final = 8.0
_FRAME: Final = 0.9
_BLANK: Final = 0.35
_INSET: Final = 0.75
_BEAT: Final = 4
# The strip of colour below a letter where a patch has no room.
_STRIP: Final = 1.0


@dataclass(frozen=True, slots=True)
class Look:
    """How pictures are turned and what their marks are; `answers` draws those of a solution.

    With `grey` nothing is tinted: what was given is hatched instead.
    """

    ways: Conventions
    treadle_1: str
    answers: bool = False
    grey: bool = False


@dataclass(frozen=True, eq=False, slots=True)
class Chart:
    """A picture with the sizes of its cells in mm: `written` in those asked, else `read`."""

    picture: ShownDraft
    look: Look
    written: float
    read: float

    @property
    def end(self) -> float:
        """Width of an end."""
        return self._cell(self.picture.threading, self.picture.drawdown)

    @property
    def pick(self) -> float:
        """Height of a pick."""
        return self._cell(self.picture.treadling, self.picture.drawdown)

    @property
    def shaft(self) -> float:
        """Height of the row of a shaft."""
        return self._cell(self.picture.threading, self.picture.tie_up)

    @property
    def column(self) -> float:
        """Width of the column of a treadle."""
        return self._cell(self.picture.treadling, self.picture.tie_up)

    def _cell(self, *fields: Field | None) -> float:
        asked = any(each is not None and each.asked.any() for each in fields)
        return self.written if asked else self.read

    def lefts(self) -> dict[str, tuple[float, float]]:
        """Return where each part stands from the left, and how wide it is, in mm."""
        picture = self.picture
        return _placed(
            [
                ("counts", _width_of(each + 1 for each in picture.picks) + 1.4),
                ("cloth", len(picture.ends) * self.end),
                ("between", _width_of([picture.shafts]) + _BETWEEN + 1.2),
                ("treadling", len(picture.columns) * self.column),
                ("yarns", _YARN_COLUMN + 1.6 if picture.weft else 0.0),
            ]
        )

    def tops(self) -> dict[str, tuple[float, float]]:
        """Return where each part stands from the top, and how high it is, in mm."""
        picture = self.picture
        stacked = [
            ("counts", _NUMBERS),
            ("yarns", _YARN_ROW + 1.6 if picture.warp else 0.0),
            ("threading", picture.shafts * self.shaft),
            ("between", _NUMBERS),
            ("cloth", len(picture.picks) * self.pick),
        ]
        return _placed(stacked if self.look.ways.threading == "above" else stacked[::-1])

    @property
    def width(self) -> float:
        """Width of the whole in mm."""
        return sum(width for _, width in self.lefts().values())

    @property
    def height(self) -> float:
        """Height of the whole in mm."""
        return sum(height for _, height in self.tops().values())


def fitted(
    picture: ShownDraft, look: Look, width: float, height: float, magnify: float = 1.0
) -> Chart | None:
    """Return the picture with the largest cells that have room, or None.

    Cells to write in are 6 mm or more on paper, after the drawing is enlarged by `magnify`.
    """
    only_read = look.answers and not picture.warp
    least = (_LEAST_READ if only_read else _LEAST_WRITTEN) / magnify
    if picture.warp:
        least = max(least, *(_letter_room(yarn) for yarn in (*picture.warp, *picture.weft)))
    sizes = [*SIZES, *((least * share, 0.7 * least * share) for share in (1.25, 1.0))]
    for written, read in sizes:
        chart = Chart(picture, look, written, read)
        if written >= least and chart.width <= width and chart.height <= height:
            return chart
    return None


def _placed(sizes: Sequence[tuple[str, float]]) -> dict[str, tuple[float, float]]:
    placed: dict[str, tuple[float, float]] = {}
    at = 0.0
    for name, size in sizes:
        placed[name] = at, size
        at += size
    return placed


def _width_of(numbers: Iterable[int]) -> float:
    return max((measure(str(number), NOTE) for number in numbers), default=0.0)


@dataclass(frozen=True, slots=True)
class _Rulers:
    """The rulers of a chart that stands on a page."""

    ends: Ruler
    picks: Ruler
    shafts: Ruler
    columns: Ruler

    @classmethod
    def of(cls, chart: Chart, x: float, y: float) -> _Rulers:
        ways, picture = chart.look.ways, chart.picture
        left = {name: x + place for name, (place, _) in chart.lefts().items()}
        top = {name: y + place for name, (place, _) in chart.tops().items()}
        turned = picture.by_treadle and chart.look.treadle_1 == "right"
        above = ways.threading == "above"
        first_right = ways.first_end == "right"
        shafts_at = top["threading"]
        return cls(
            Ruler(left["cloth"], chart.end, len(picture.ends), first_right),
            Ruler(top["cloth"], chart.pick, len(picture.picks), ways.treadling == "up"),
            Ruler(shafts_at, chart.shaft, picture.shafts, above),
            Ruler(left["treadling"], chart.column, len(picture.columns), turned),
        )


def draw_picture(chart: Chart, x: float, y: float) -> Iterable[Mark]:
    """Draw a chart with its top left corner at (x, y) mm."""
    rulers, picture = _Rulers.of(chart, x, y), chart.picture
    treadling = "Treadling" if picture.by_treadle else "Lift plan"
    yield _field(chart, picture.threading, rulers.ends, rulers.shafts, "Threading")
    if picture.tie_up is not None:
        yield _tie_up(chart, picture.tie_up, rulers)
    yield _field(chart, picture.treadling, rulers.columns, rulers.picks, treadling)
    yield _drawdown(chart, rulers)
    yield from pictured(_numbers(chart, rulers, x, y), "Numbers of ends, picks and shafts")
    yield from pictured(_yarns(chart, rulers, x, y), "Order of the yarns")


def _field(chart: Chart, field: Field, across: Ruler, down: Ruler, title: str) -> Figure:
    rules = tuple(range(_BEAT, across.count, _BEAT))
    levels = tuple(range(_BEAT, down.count, _BEAT))
    marks = (
        *_given(chart.look, field.marks & ~field.asked, across, down),
        *cells(field.marks & field.asked, across, down),
        *grid(across, down, rules, levels),
        *_framed(field.asked, across, down),
    )
    return Figure(marks, title, _described(field))


def _given(look: Look, marks: Marks, across: Ruler, down: Ruler) -> Iterable[Mark]:
    """Return what was given: on the sheet with the answers lighter than these, or hatched."""
    if not look.answers or not look.grey:
        return cells(marks, across, down, GIVEN if look.answers else BLACK)
    steps: list[Step] = []
    for row, column in zip(*np.nonzero(marks), strict=True):
        left, top = across.low(int(column)), down.low(int(row))
        right, bottom = left + across.cell, top + down.cell
        middle = (left + right) / 2, (top + bottom) / 2
        steps += [("M", left, bottom), ("L", right, top), ("M", left, middle[1])]
        steps += [("L", middle[0], top), ("M", middle[0], bottom), ("L", right, middle[1])]
    return (Path(tuple(steps), None, INK, 0.25),) if steps else ()


def _described(field: Field) -> str:
    if not field.asked.any():
        return "Given."
    return "To be filled in." if field.asked.all() else "Framed cells are to be filled in."


def _drawdown(chart: Chart, rulers: _Rulers) -> Figure:
    picture = chart.picture
    field = picture.drawdown
    if picture.coloured:
        return _cloth(chart, rulers)
    marks = field.marks if chart.look.ways.filled == "warp" else ~field.marks
    if not chart.look.answers:
        marks = marks & ~field.asked
    return _field(chart, Field(marks, field.asked), rulers.ends, rulers.picks, "Drawdown")


def _cloth(chart: Chart, rulers: _Rulers) -> Figure:
    """Return the drawdown in the yarns that lie on top, each told by colour, hatch and letter."""
    picture = chart.picture
    marks: list[Mark] = []
    for row, column in np.ndindex(picture.drawdown.marks.shape):
        warp = picture.drawdown.marks[row, column]
        yarn = picture.warp[column] if warp else picture.weft[row]
        place = rulers.ends.low(column), rulers.picks.low(row)
        marks += _patch(yarn, *place, rulers.ends.cell, rulers.picks.cell)
    frame = (rulers.ends.origin, rulers.picks.origin, rulers.ends.length, rulers.picks.length)
    marks.append(Box(*frame, None, INK, _FRAME))
    return Figure(tuple(marks), "The cloth in its colours", "The yarn that lies on top.")


def _framed(asked: Marks, across: Ruler, down: Ruler) -> Iterable[Mark]:
    """Frame a field that is asked as a whole; in one that is asked in part, every cell of it."""
    if asked.all():
        box = (across.origin, down.origin, across.length, down.length)
        yield Box(*box, None, INK, _FRAME)
        return
    steps: list[Step] = []
    for row, column in zip(*np.nonzero(asked), strict=True):
        left, top = across.low(int(column)) + _INSET, down.low(int(row)) + _INSET
        right, bottom = left + across.cell - 2 * _INSET, top + down.cell - 2 * _INSET
        steps += [("M", left, top), ("L", right, top), ("L", right, bottom), ("L", left, bottom)]
        steps.append(("Z",))
    if steps:
        yield Path(tuple(steps), None, INK, _BLANK)


def _tie_up(chart: Chart, field: Field, rulers: _Rulers) -> Figure:
    across, down = rulers.columns, rulers.shafts
    marks: list[Mark] = list(grid(across, down, range(4, across.count, 4), range(4, down.count, 4)))
    both = chart.picture.ties == "both"
    for kind, places in (("rise", field.marks), ("sink", field.crosses)):
        for shaft, column in zip(*np.nonzero(places), strict=True) if places is not None else ():
            rise = kind == "rise" if both else chart.picture.ties == "rise"
            asked = bool(field.asked[shaft, column]) and not field.asked.all()
            at = across.middle(int(column)), down.middle(int(shaft))
            marks += _tie(chart, at, int(shaft) + 1, rise=rise, asked=asked)
    marks += _framed(field.asked, across, down)
    return Figure(tuple(marks), "Tie-up", _described(field))


def _tie(
    chart: Chart, at: tuple[float, float], shaft: int, *, rise: bool, asked: bool
) -> Iterable[Mark]:
    size = min(chart.shaft, chart.column)
    if asked and chart.look.answers:
        # An answer is told from what was given by more than its grey.
        half = 0.36 * size
        yield Box(at[0] - half, at[1] - half, 2 * half, 2 * half, None, INK, 0.5)
    if chart.look.ways.tie_up_as == "numbers" and chart.picture.ties != "both":
        yield tie_number(*at, shaft)
    else:
        yield tie_mark(*at, size, rise=rise)


def _numbers(chart: Chart, rulers: _Rulers, x: float, y: float) -> Iterable[Mark]:
    picture, tops, lefts = chart.picture, chart.tops(), chart.lefts()
    middle = cap_height(NOTE) / 2
    over = y + tops["counts"][0] + _NUMBERS / 2 + middle
    for place in _numbered(rulers.ends, picture.ends):
        words = str(picture.ends[place] + 1)
        yield label(rulers.ends.middle(place), over, words, NOTE, "regular", "middle", SOFT)
    right = x + lefts["counts"][1] - 1.0
    for place in _told(len(picture.picks), rulers.picks.cell):
        at = rulers.picks.middle(place) + middle
        words = str(picture.picks[place] + 1)
        yield label(right, at, words, NOTE, "regular", "end", SOFT)
    between = y + tops["between"][0] + _NUMBERS / 2 + middle
    for place in _numbered(rulers.columns, [each - 1 for each in picture.columns]):
        words = str(picture.columns[place])
        yield label(rulers.columns.middle(place), between, words, NOTE, "regular", "middle", INK)
    beside = x + lefts["between"][0] + lefts["between"][1] - 1.4
    for place in _told(picture.shafts, rulers.shafts.cell):
        at = rulers.shafts.middle(place) + middle
        for right_end in (right, beside):
            yield label(right_end, at, str(place + 1), NOTE, "regular", "end", INK)


def _numbered(ruler: Ruler, threads: Sequence[int]) -> list[int]:
    """Return the places that are numbered along a line: all, or every fourth where they crowd."""
    if _width_of(each + 1 for each in threads) + 0.8 <= ruler.cell:
        return list(range(len(threads)))
    fourth = [place for place in range(len(threads)) if (place + 1) % _BEAT == 0]
    return [0, *fourth] if len(threads) >= _BEAT else [0]


def _told(number: int, cell: float) -> list[int]:
    """Return the places that are numbered down a side."""
    if cell >= 3.4:
        return list(range(number))
    return [0, *(place for place in range(number) if (place + 1) % _BEAT == 0)]


def _yarns(chart: Chart, rulers: _Rulers, x: float, y: float) -> Iterable[Mark]:
    """Draw a patch for every end and pick, each with its letter."""
    picture = chart.picture
    if not picture.warp:
        return
    above = chart.look.ways.threading == "above"
    top = y + chart.tops()["yarns"][0] + (0.0 if above else 1.6)
    for place, yarn in enumerate(picture.warp):
        yield from _patch(yarn, rulers.ends.low(place), top, chart.end, _YARN_ROW)
    left = x + chart.lefts()["yarns"][0] + 1.6
    for place, yarn in enumerate(picture.weft):
        yield from _patch(yarn, left, rulers.picks.low(place), _YARN_COLUMN, chart.pick)


def _patch(yarn: ProjectYarn, x: float, y: float, width: float, height: float) -> Iterable[Mark]:
    """Return the patch of a yarn; where it has no room, its letter over a strip of its colour."""
    if width >= SMALLEST_WIDTH and height >= SMALLEST_HEIGHT:
        yield from yarn_patch(yarn, x, y, width, height)
        return
    yield Box(x, y, width, height, "#ffffff", HAIR, _BLANK)
    yield Box(x, y + height - _STRIP, width, _STRIP, yarn.colour, SOFT, 0.15)
    at = y + (height - _STRIP + cap_height(NOTE)) / 2
    yield label(x + width / 2, at, yarn.letter, NOTE, "bold", "middle", INK)


def _letter_room(yarn: ProjectYarn) -> float:
    """Return the size of the smallest cell that has room for the letter of a yarn."""
    return max(measure(yarn.letter, NOTE, "bold") + 0.4, cap_height(NOTE) + _STRIP + 0.5)
