"""Draws photographs in rows, each with the words for what it shows above it.

One whose file is not there leaves an empty box, to paste a print into.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from cards.project.photographs import ProjectPhotograph
from cards.spec.refusal import NotationError
from layouts.drawing import Box, Mark, Picture
from layouts.paper import Frame
from layouts.photographs import Shown, shown
from layouts.sheets.page import PageFlow
from layouts.sheets.parts import HAIR, SOFT, Block, heading_line, paragraph, stack
from layouts.typeface import NOTE

_IN_A_ROW: Final = 2
_GAP: Final = 6.0
_AFTER: Final = 3.0  # between rows
_OVER: Final = 0.8  # between the words and the photograph
_TALLEST: Final = 70.0
_LEAST: Final = 42.0  # a row is made no lower to save a page
_EMPTY: Final = 2 / 3  # height of an empty box for its width


@dataclass(frozen=True, slots=True)
class _Cell:
    words: Block
    of: str
    picture: Shown | None
    width: float
    height: float


def add_photographs(flow: PageFlow, photographs: Sequence[ProjectPhotograph], frame: Frame) -> None:
    """Place photographs in rows, on further pages where there is no room on this one."""
    title = "Photographs" if len(photographs) > 1 else "Photograph"
    head = heading_line(title, flow.width)
    for first in range(0, len(photographs), _IN_A_ROW):
        over = 0.0 if first else head.height
        row = photographs[first : first + _IN_A_ROW]
        width = (flow.width - _GAP * (_IN_A_ROW - 1)) / _IN_A_ROW
        words = [paragraph(each.of, width, NOTE, "bold", SOFT) for each in row]
        told = max(block.height for block in words) + _OVER
        room = flow.room - over - told
        tallest = room if _LEAST <= room < _TALLEST else min(_TALLEST, flow.full_room - over - told)
        cells = [
            _cell(each, block, width, tallest, frame)
            for each, block in zip(row, words, strict=True)
        ]
        block = _row(cells, told, width)
        flow.add(block if first else stack([head, block]))
        flow.gap(_AFTER)
        flow.running_head = heading_line("Photographs, continued", flow.width)
    flow.running_head = None


def _cell(
    photograph: ProjectPhotograph, words: Block, width: float, tallest: float, frame: Frame
) -> _Cell:
    try:
        picture = shown(photograph.data(), width, tallest, frame)
    except NotationError:  # it was told of when the spec was read
        return _Cell(words, photograph.of, None, width, min(tallest, width * _EMPTY))
    return _Cell(words, photograph.of, picture, picture.width, picture.height)


def _row(cells: Sequence[_Cell], told: float, width: float) -> Block:
    def draw(x: float, y: float) -> Iterable[Mark]:
        for place, cell in enumerate(cells):
            left = x + place * (width + _GAP)
            yield from cell.words.draw(left, y + told - _OVER - cell.words.height)
            top = y + told
            if cell.picture is None:
                yield Box(left, top, cell.width, cell.height, None, HAIR, 0.3)
            else:
                yield Picture(left, top, cell.width, cell.height, cell.picture.data, cell.of)

    return Block(told + max(cell.height for cell in cells), draw)
