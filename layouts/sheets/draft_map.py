"""A small map of the tiles of a draft, turned as the draft is."""

from __future__ import annotations

from collections.abc import Iterable

from layouts.drawing import Box, Mark
from layouts.sheets.draft_tiles import Tile, Tiling
from layouts.sheets.parts import INK, Block

# A map is no larger than this, in mm; threading and treadling stand a little apart.
_WIDTH, _HEIGHT, _GAP = 36.0, 16.0, 1.0
# No tile is drawn larger than this, in mm.
_WIDEST, _HIGHEST = 6.0, 4.0


def tile_map(whole: Tiling, tile: Tile) -> Block:
    """Return a map of all tiles with this one filled."""
    wide, high = _cell(whole)
    lefts, tops = _lefts(whole, wide), _tops(whole, high)

    def draw(x: float, y: float) -> Iterable[Mark]:
        for row, top in enumerate(tops):
            for column, left in enumerate(lefts):
                apart = column >= len(lefts) - whole.columns_apart and row < whole.rows_apart
                if apart and whole.bare_corner:
                    continue
                here = (column, row) == (tile.column, tile.row)
                fill = INK if here else "#ffffff"
                yield Box(x + left, y + 0.5 + top, wide, high, fill, INK, 0.2)

    return Block(len(tops) * high + _GAP + 1.0, draw)


def map_width(whole: Tiling) -> float:
    """Return the width of the map in mm."""
    return _cell(whole)[0] * len(whole.across) + _GAP


def _cell(whole: Tiling) -> tuple[float, float]:
    return min(_WIDEST, _WIDTH / len(whole.across)), min(_HIGHEST, _HEIGHT / len(whole.down))


def _lefts(whole: Tiling, wide: float) -> list[float]:
    """Return where each column of tiles stands: the cloth, and at its right the treadling."""
    card, section = whole.chart.card, whole.chart.section
    cloth = len(whole.across) - whole.columns_apart
    lefts = [place * wide for place in range(cloth)]
    apart = [(cloth + place) * wide + _GAP for place in range(whole.columns_apart)]
    if card.conventions.first_end == "right":
        lefts.reverse()
    if section.by_treadle and card.treadle_1 == "right":
        apart.reverse()
    return lefts + apart


def _tops(whole: Tiling, high: float) -> list[float]:
    """Return where each row of tiles stands: the threading above or below the cloth."""
    ways, first = whole.chart.card.conventions, whole.rows_apart
    cloth = len(whole.down) - first
    gap = _GAP if first else 0.0
    if ways.threading == "above":
        apart = [(first - 1 - place) * high for place in range(first)]
        tops = [(first + place) * high + gap for place in range(cloth)]
    else:
        apart = [(cloth + place) * high + gap for place in range(first)]
        tops = [place * high for place in range(cloth)]
    if ways.treadling == "up":
        tops.reverse()
    return apart + tops
