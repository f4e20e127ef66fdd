"""A drawing in black ink alone, for a printer or a copier that has nothing else.

No tint and no grey is left: type, lines and dark shapes are black, pale shapes white with an
outline where they had none. Whatever is told by colour must be told by a hatch or a letter before.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Any

from layouts.drawing import (
    BLACK,
    WHITE,
    Box,
    Cells,
    Disc,
    Drawing,
    Figure,
    Line,
    Mark,
    Part,
    Path,
    Picture,
    Text,
)
from layouts.patch import contrast

# WCAG 2.2, 1.4.11: parts of a picture need 3 to 1 against what is beside them. What has less
# against white is a tint.
_TINT = 3.0
_OUTLINE = 0.2


def in_black(drawing: Drawing) -> Drawing:
    """Return a sheet with every mark in black or white."""
    pages = tuple(replace(page, marks=tuple(_blackened(page.marks))) for page in drawing.pages)
    return replace(drawing, pages=pages)


def _blackened(marks: Iterable[Mark]) -> Iterator[Mark]:
    for mark in marks:
        yield BLACKENERS[type(mark)](mark)


def ink(colour: str) -> str:
    """Return white for white, and black for every other colour of a line or of type."""
    return WHITE if colour == WHITE else BLACK


def _fill(colour: str | None) -> str | None:
    if colour is None:
        return None
    return WHITE if contrast(colour, WHITE) < _TINT else BLACK


def _line(mark: Line | Text) -> Mark:
    return replace(mark, colour=ink(mark.colour))


def _cells(mark: Cells) -> Cells:
    return replace(mark, colour=_fill(mark.colour) or BLACK)


def _shape(mark: Box | Disc | Path) -> Mark:
    """Return a shape in black and white; a tint that had no outline gets one."""
    fill, stroke = _fill(mark.fill), mark.stroke
    if stroke is not None:
        return replace(mark, fill=fill, stroke=ink(stroke))
    if fill == WHITE and mark.fill != WHITE:
        return replace(mark, fill=fill, stroke=BLACK, line_width=_OUTLINE)
    return replace(mark, fill=fill)


def _group(mark: Figure | Part) -> Mark:
    return replace(mark, marks=tuple(_blackened(mark.marks)))


def _picture(mark: Picture) -> Picture:
    """Return a photograph without its colours; its greys are what the printer makes of them."""
    from PIL import Image  # noqa: PLC0415 - few projects have photographs

    with Image.open(io.BytesIO(mark.data)) as image:
        kind = image.format or "PNG"
        data = io.BytesIO()
        image.convert("L").save(data, kind)
    return replace(mark, data=data.getvalue())


# How each kind of mark is drawn in black. The tests hold that no kind is forgotten.
BLACKENERS: Mapping[type[Any], Callable[[Any], Mark]] = MappingProxyType(
    {
        Line: _line,
        Text: _line,
        Box: _shape,
        Disc: _shape,
        Path: _shape,
        Cells: _cells,
        Figure: _group,
        Part: _group,
        Picture: _picture,
    }
)
