"""A draft as one block of a page, with its cloth in colours beside or below it if there is room."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from layouts.drawing import Mark
from layouts.sheets.draft_chart import CELLS, Chart
from layouts.sheets.draft_picture import colour_words, coloured, draw_chart, draw_colours
from layouts.sheets.parts import SOFT, Block, beside, paragraph, stack
from layouts.typeface import BODY

_BELOW = 4.0
_BESIDE = 8.0
# Cells are not made smaller than this only to show the colours below the draft too.
_CELL_WITH_COLOURS = 2.6
_CAPTION_LEAST = 44.0
_ABOVE_CAPTION = 1.2


def block_of(chart: Chart, width: float, height: float, largest: float, *, colours: bool) -> Block:
    """Return the draft with the largest cells that fit, none over `largest` mm.

    With `colours` it has the cloth in its colours with it, if there is room.
    """
    for cell in CELLS if colours and coloured(chart) else ():
        sized = replace(chart, cell=cell)
        if cell > largest or not sized.fits(width, height):
            continue
        below = cell >= _CELL_WITH_COLOURS
        both = _colours_beside(sized, width, height)
        both = both or (_colours_below(sized, width, height) if below else None)
        if both:
            return both
    return chart_block(chart.grown(width, height, largest) or chart)


def chart_block(chart: Chart) -> Block:
    """Return a draft as it is."""
    return Block(chart.height, lambda x, y: draw_chart(chart, x, y))


def _colours_beside(chart: Chart, width: float, height: float) -> Block | None:
    left = chart.width + _BESIDE
    if max(_CAPTION_LEAST, chart.ends.count * chart.cell) > width - left:
        return None
    both = beside([(0.0, chart_block(chart)), (left, _beside_cloth(chart, width - left))])
    # The words below the colours may go deeper than the draft.
    return both if both.height <= height else None


def _colours_below(chart: Chart, width: float, height: float) -> Block | None:
    left = chart.lefts()["cloth"][0]
    colours = _colours(chart, width - left)
    if chart.height + _BELOW + colours.height > height:
        return None
    return stack([chart_block(chart), beside([(left, colours)])], _BELOW)


def _beside_cloth(chart: Chart, width: float) -> Block:
    """Return the colours level with the drawdown that they stand beside."""
    top = chart.tops()["cloth"][0]
    caption = _caption(chart, width)
    below = top + chart.picks.count * chart.cell + _ABOVE_CAPTION

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield from draw_colours(chart, x, y + top)
        yield from caption.draw(x, y + below)

    return Block(below + caption.height, draw)


def _colours(chart: Chart, width: float) -> Block:
    caption = _caption(chart, width)
    cloth = chart.picks.count * chart.cell
    picture = Block(cloth + _ABOVE_CAPTION, lambda x, y: draw_colours(chart, x, y))
    return stack([picture, caption])


def _caption(chart: Chart, width: float) -> Block:
    words = "In the yarns\u2019 colours; in grey print the first drawing shows the structure."
    if shades := colour_words(chart):
        words = f"The yarn on top: {shades}. The first drawing shows the structure."
    return paragraph(words, width, BODY, colour=SOFT)
