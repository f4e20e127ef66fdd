"""How large a draft is on paper and where its parts stand, for cells of any size.

The tie-up stands at the right, between threading and treadling, whatever the tradition (common
practice). Nothing is drawn here.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from cards.draft_sheet import DraftSheet, SectionDraft, View, columns_of, view
from layouts.sheets.draft_part import Bracket, Part
from layouts.typeface import NOTE, measure

LARGEST_CELL = 3.5
SMALLEST_CELL = 2.2

# A row of figures one below another needs so much for each.
FIGURE = 2.8
COUNTS = 3.4
BRACKETS = 5.8
GAP = 4.2
_YARN_GAP = 1.6
# Of more shafts or treadles than this only every fourth is numbered where cells are small.
_NARROW_FROM = 12


@dataclass(frozen=True, eq=False, slots=True)
class Chart:
    """A draft of some ends and picks, drawn with cells of `cell` mm.

    One that is not `threaded` leaves the threading and the tie-up to a page of their own, one that
    is not `treadled` the tie-up and the treadling; then ends or picks of those pages are none.
    """

    card: DraftSheet
    section: SectionDraft
    ends: Part
    picks: Part
    cell: float = SMALLEST_CELL
    threaded: bool = True
    treadled: bool = True

    @property
    def shafts(self) -> int:
        """How many shafts are drawn."""
        return self.card.shafts if self.threaded else 0

    @property
    def shaft(self) -> float:
        """Height in mm of the row of a shaft."""
        return self.cell if self.card.shafts > _NARROW_FROM else max(self.cell, FIGURE)

    @property
    def columns(self) -> tuple[int, ...]:
        """Numbers of the treadles, or of the shafts of a lift plan."""
        return columns_of(self.card, self.section) if self.treadled else ()

    @property
    def column(self) -> float:
        """Width in mm of the column of a treadle."""
        return self.cell if len(self.columns) > _NARROW_FROM else max(self.cell, FIGURE)

    @property
    def weft_column(self) -> float:
        """Width in mm of the column of a weft yarn, which bears its letter."""
        letters = [measure(yarn.letter, NOTE, "bold") + 0.8 for yarn in self.picks.used]
        return max(self.cell, *letters) if letters else 0.0

    @property
    def warp_row(self) -> float:
        """Height in mm of the row of a warp yarn, which bears its letter."""
        return max(self.cell, FIGURE)

    @property
    def count_width(self) -> float:
        """Width in mm of the numbers of the picks."""
        numbers = (*self.picks.threads[:1], *self.picks.threads[-1:], self.shafts - 1)
        return max(measure(str(int(number) + 1), NOTE) for number in numbers) + 1.4

    @property
    def between(self) -> float:
        """Width in mm between drawdown and treadling, where shafts and warp yarns are named."""
        words = [str(self.shafts), *(yarn.letter for yarn in self.ends.used)]
        return max(measure(text, NOTE, "bold") for text in words) + 2.4

    @property
    def bracket_width(self) -> float:
        """Width in mm of the brackets of the picks."""
        return max((3.4 + words_width(each) for each in self.picks.brackets), default=0.0)

    def lefts(self) -> dict[str, tuple[float, float]]:
        """Return where each part stands from the left, and how wide it is, in mm."""
        yarns = len(self.picks.used) if self.treadled else 0
        return _placed(
            [
                ("counts", self.count_width),
                ("cloth", self.ends.count * self.cell),
                ("between", self.between),
                ("treadling", len(self.columns) * self.column),
                ("yarn gap", _YARN_GAP if yarns else 0.0),
                ("yarns", yarns * self.weft_column),
                ("more counts", self.count_width if self.treadled else 0.0),
                ("brackets", self.bracket_width if self.treadled else 0.0),
            ]
        )

    def tops(self) -> dict[str, tuple[float, float]]:
        """Return where each part stands from the top, and how high it is, in mm."""
        yarns = len(self.ends.used) if self.threaded else 0
        stacked = [
            ("brackets", BRACKETS if self.threaded and self.ends.brackets else 0.0),
            ("counts", COUNTS if self.ends.count else 0.0),
            ("yarns", yarns * self.warp_row),
            ("yarn gap", _YARN_GAP if yarns else 0.0),
            ("threading", self.shafts * self.shaft),
            ("between", GAP),
            ("cloth", self.picks.count * self.cell),
            ("more counts", COUNTS if self.ends.count else 0.0),
        ]
        above = self.card.conventions.threading == "above"
        return _placed(stacked if above else stacked[::-1])

    @property
    def width(self) -> float:
        """Width of the whole draft in mm."""
        return sum(width for _, width in self.lefts().values())

    @property
    def height(self) -> float:
        """Height of the whole draft in mm."""
        return sum(height for _, height in self.tops().values())

    def grown(self, width: float, height: float) -> Chart | None:
        """Return the chart with the largest cells that fit, or None if it does not fit at all."""
        for tenths in range(round(LARGEST_CELL * 10), round(SMALLEST_CELL * 10) - 1, -1):
            chart = replace(self, cell=tenths / 10)
            if chart.width <= width and chart.height <= height:
                return chart
        return None

    def view(self) -> View:
        """Return what is drawn, in threading and weaving order."""
        return view(self.card, self.section, self.ends.threads, self.picks.threads)


def _placed(sizes: list[tuple[str, float]]) -> dict[str, tuple[float, float]]:
    placed: dict[str, tuple[float, float]] = {}
    at = 0.0
    for name, size in sizes:
        placed[name] = at, size
        at += size
    return placed


def words_width(bracket: Bracket) -> float:
    """Return the width in mm of what a bracket says."""
    return measure(bracket.words, NOTE, "bold")
