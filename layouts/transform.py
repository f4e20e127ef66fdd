"""Marks moved or enlarged as a whole, so that a page laid out once can stand on another sheet.

A page that is read from closer or farther, one of two on a sheet, or one that is bound on the
other side is the same page elsewhere: nothing is laid out twice.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Any, TypeVar

from layouts.drawing import (
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
    Step,
    Text,
)

Group = TypeVar("Group", Figure, Part)


def moved(marks: Iterable[Mark], across: float, down: float) -> tuple[Mark, ...]:
    """Return marks moved by `across` and `down` mm.

    >>> moved([Line(0, 0, 1, 0)], 2, 3)[0].y2
    3
    """
    return tuple(MOVERS[type(mark)](mark, across, down) for mark in marks)


def enlarged(marks: Iterable[Mark], factor: float) -> tuple[Mark, ...]:
    """Return marks `factor` times as large about the top left corner of the page, type and all."""
    return tuple(ENLARGERS[type(mark)](mark, factor) for mark in marks)


def enlarged_drawing(drawing: Drawing, factor: float) -> Drawing:
    """Return a sheet whose pages and all that is on them are `factor` times as large."""
    if factor == 1.0:
        return drawing
    pages = tuple(
        replace(
            page,
            width=page.width * factor,
            height=page.height * factor,
            marks=enlarged(page.marks, factor),
        )
        for page in drawing.pages
    )
    return replace(drawing, pages=pages)


def _steps(steps: Iterable[Step], factor: float) -> tuple[Step, ...]:
    return tuple((kind, *(float(number) * factor for number in rest)) for kind, *rest in steps)


def _moved_line(mark: Line, across: float, down: float) -> Line:
    return replace(
        mark, x1=mark.x1 + across, y1=mark.y1 + down, x2=mark.x2 + across, y2=mark.y2 + down
    )


def _moved_corner(mark: Any, across: float, down: float) -> Any:  # noqa: ANN401 - by its type
    return replace(mark, x=mark.x + across, y=mark.y + down)


def _moved_path(mark: Path, across: float, down: float) -> Path:
    return replace(mark, at=(mark.at[0] + across, mark.at[1] + down))


def _moved_group(mark: Group, across: float, down: float) -> Group:
    return replace(mark, marks=moved(mark.marks, across, down))


def _times(mark: Any, factor: float, *lengths: str) -> Any:  # noqa: ANN401 - by its type
    """Return a mark with those of its fields that are lengths `factor` times as long."""
    return replace(mark, **{name: getattr(mark, name) * factor for name in lengths})


def _lengths(*names: str) -> Callable[[Any, float], Any]:
    return lambda mark, factor: _times(mark, factor, *names)


def _enlarged_line(mark: Line, factor: float) -> Line:
    larger: Line = _times(mark, factor, "x1", "y1", "x2", "y2", "width")
    return replace(larger, dash=tuple(each * factor for each in mark.dash))


def _enlarged_path(mark: Path, factor: float) -> Path:
    larger: Path = _times(mark, factor, "line_width")
    return replace(
        larger,
        steps=_steps(mark.steps, factor),
        dash=tuple(each * factor for each in mark.dash),
        at=(mark.at[0] * factor, mark.at[1] * factor),
    )


def _enlarged_group(mark: Group, factor: float) -> Group:
    return replace(mark, marks=enlarged(mark.marks, factor))


# How each kind of mark is moved and enlarged. The tests hold that no kind is forgotten.
MOVERS: Mapping[type[Any], Callable[[Any, float, float], Any]] = MappingProxyType(
    {
        Line: _moved_line,
        Box: _moved_corner,
        Disc: _moved_corner,
        Path: _moved_path,
        Text: _moved_corner,
        Cells: _moved_corner,
        Figure: _moved_group,
        Part: _moved_group,
        Picture: _moved_corner,
    }
)
ENLARGERS: Mapping[type[Any], Callable[[Any, float], Any]] = MappingProxyType(
    {
        Line: _enlarged_line,
        Box: _lengths("x", "y", "width", "height", "line_width"),
        Disc: _lengths("x", "y", "radius", "line_width"),
        Path: _enlarged_path,
        Text: _lengths("x", "y", "size", "width"),
        Cells: _lengths("x", "y", "cell_width", "cell_height"),
        Figure: _enlarged_group,
        Part: _enlarged_group,
        Picture: _lengths("x", "y", "width", "height"),
    }
)
