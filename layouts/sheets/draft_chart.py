"""How large a draft is on paper and where its parts stand, for cells of any size.

The tie-up stands at the right, between threading and treadling, whatever the tradition (common
practice). Nothing is drawn here.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from cards.draft_sheet import DraftSheet, SectionDraft, View, columns_of, view
from layouts.sheets.draft_part import Part
from layouts.typeface import NOTE, measure

LARGEST_CELL = 3.5
SMALLEST_CELL = 2.2
# Sizes of cells in mm, the largest first.
CELLS = tuple(
    tenths / 10 for tenths in range(round(LARGEST_CELL * 10), round(SMALLEST_CELL * 10) - 1, -1)
)

# A row of figures one below another needs so much for each.
FIGURE = 2.8
# A figure between two lines of a grid needs so much.
_TIE_NUMBER = 3.4
COUNTS = 3.4
BRACKETS = 5.8
GAP = 4.2
_YARN_GAP = 1.6
_BETWEEN = 2.4
# Of more shafts or treadles than this only every fourth is numbered where cells are small.
_NARROW_FROM = 12


@dataclass(frozen=True, eq=False, slots=True)
class Chart:
    """A draft of some ends and picks, drawn with cells of `cell` mm.

    `shafts` and `columns` are the places, from 0, of the shafts and of the treadles (or of the
    shafts of a lift plan) that are drawn; with no shafts the threading and the tie-up are left to
    a page of their own, with no columns the tie-up and the treadling.
    """

    card: DraftSheet
    section: SectionDraft
    ends: Part
    picks: Part
    shafts: range
    columns: range
    cell: float = SMALLEST_CELL

    @property
    def numbers(self) -> tuple[int, ...]:
        """Numbers of the treadles, or of the shafts of a lift plan, that are drawn."""
        every = columns_of(self.card, self.section)
        return every[self.columns.start : self.columns.stop]

    @property
    def tied(self) -> bool:
        """Whether a tie-up stands between the threading and the treadling."""
        return bool(self.shafts) and bool(self.columns) and self.section.by_treadle

    @property
    def numbered(self) -> bool:
        """Whether the ties are numbers, which need room as high and as wide as a number."""
        numbers = self.card.conventions.tie_up_as == "numbers"
        # A number cannot say which way its shaft goes.
        return self.section.by_treadle and numbers and self.card.ties != "both"

    @property
    def shaft(self) -> float:
        """Height in mm of the row of a shaft."""
        if self.numbered:
            return max(self.cell, _TIE_NUMBER)
        return self.cell if self.card.shafts > _NARROW_FROM else max(self.cell, FIGURE)

    @property
    def column(self) -> float:
        """Width in mm of the column of a treadle."""
        if self.numbered:
            return max(self.cell, FIGURE, measure(str(self.card.shafts), NOTE) + 0.8)
        narrow = len(columns_of(self.card, self.section)) > _NARROW_FROM
        return self.cell if narrow else max(self.cell, FIGURE)

    @property
    def weft_column(self) -> float:
        """Width in mm of the column of a weft yarn, which bears its letter."""
        return max(self.cell, self.picks.letter_width + 0.8) if self.picks.used else 0.0

    @property
    def warp_row(self) -> float:
        """Height in mm of the row of a warp yarn, which bears its letter."""
        return max(self.cell, FIGURE)

    @property
    def count_width(self) -> float:
        """Width in mm of the numbers of the picks, and of the shafts at the same side."""
        shafts = measure(str(self.shafts.stop), NOTE) if self.shafts else 0.0
        return max(self.picks.count_width, shafts) + 1.4

    @property
    def between(self) -> float:
        """Width in mm between drawdown and treadling, where shafts and warp yarns are named."""
        if not self.shafts:
            return _BETWEEN
        return max(measure(str(self.shafts.stop), NOTE), self.ends.letter_width) + 2.4

    @property
    def bracket_width(self) -> float:
        """Width in mm of the brackets of the picks."""
        return 3.4 + self.picks.words_width if self.picks.brackets else 0.0

    def lefts(self) -> dict[str, tuple[float, float]]:
        """Return where each part stands from the left, and how wide it is, in mm."""
        treadled = bool(self.columns)
        yarns = len(self.picks.used) if treadled else 0
        return _placed(
            [
                ("counts", self.count_width),
                ("cloth", self.ends.count * self.cell),
                ("between", self.between),
                ("treadling", len(self.columns) * self.column),
                ("yarn gap", _YARN_GAP if yarns else 0.0),
                ("yarns", yarns * self.weft_column),
                ("more counts", self.count_width if treadled else 0.0),
                ("brackets", self.bracket_width if treadled else 0.0),
            ]
        )

    def tops(self) -> dict[str, tuple[float, float]]:
        """Return where each part stands from the top, and how high it is, in mm."""
        threaded = bool(self.shafts)
        yarns = len(self.ends.used) if threaded else 0
        stacked = [
            ("brackets", BRACKETS if threaded and self.ends.brackets else 0.0),
            ("counts", COUNTS if self.ends.count else 0.0),
            ("yarns", yarns * self.warp_row),
            ("yarn gap", _YARN_GAP if yarns else 0.0),
            ("threading", len(self.shafts) * self.shaft),
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

    def fits(self, width: float, height: float) -> bool:
        """Whether the draft has room on so many mm."""
        return self.width <= width and self.height <= height

    def grown(self, width: float, height: float, largest: float = LARGEST_CELL) -> Chart | None:
        """Return the chart with the largest cells that fit, or None if it does not fit at all."""
        for cell in CELLS:
            chart = replace(self, cell=cell)
            if cell <= largest and chart.fits(width, height):
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
