"""The drawing model: immutable marks in millimetres, recorded once, replayed by any writer.

The origin is the top left corner of the page, x runs right, y runs down. Text sizes are points,
everything else is millimetres. Colours are `#rrggbb`. Nothing here is ever rounded.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

Weight = Literal["regular", "bold"]
Anchor = Literal["start", "middle", "end"]

# What a part of a page is to those who hear it read. What nobody needs to hear, because it says
# nothing or was said before, is decoration, or the head or foot of a page that goes on.
Role = Literal[
    "title",
    "heading",
    "subheading",
    "paragraph",
    "caption",
    "list",
    "item",
    "item label",
    "item body",
    "table",
    "row",
    "column head",
    "row head",
    "cell",
    "tick box",
    "decoration",
    "page head",
    "page foot",
]

BLACK = "#000000"
WHITE = "#ffffff"


@dataclass(frozen=True, slots=True)
class Line:
    """A straight stroke; `dash` gives on and off lengths in mm."""

    x1: float
    y1: float
    x2: float
    y2: float
    width: float = 0.2
    colour: str = BLACK
    dash: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle from its top left corner, filled, outlined or both."""

    x: float
    y: float
    width: float
    height: float
    fill: str | None = None
    stroke: str | None = BLACK
    line_width: float = 0.2


@dataclass(frozen=True, slots=True)
class Disc:
    """A circle about its centre, filled, outlined or both."""

    x: float
    y: float
    radius: float
    fill: str | None = None
    stroke: str | None = BLACK
    line_width: float = 0.2


# One step of a path: ("M", x, y), ("L", x, y), ("C", x1, y1, x2, y2, x, y) or ("Z",).
Step = tuple[str | float, ...]


@dataclass(frozen=True, slots=True)
class Path:
    """Moves, lines and cubic curves as one mark; also many strokes drawn as one, as in a hatch.

    The whole is moved by `at` mm, so that a shape drawn in many places is written out once.
    """

    steps: tuple[Step, ...]
    fill: str | None = None
    stroke: str | None = BLACK
    line_width: float = 0.2
    dash: tuple[float, ...] = ()
    at: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text on its baseline; `width` is as measured, in mm, `size` is in points."""

    x: float
    y: float
    text: str
    size: float
    width: float
    weight: Weight = "regular"
    anchor: Anchor = "start"
    colour: str = BLACK

    @property
    def left(self) -> float:
        """The x of the left edge in mm, whatever the anchor."""
        return self.x - self.width * {"start": 0.0, "middle": 0.5, "end": 1.0}[self.anchor]


@dataclass(frozen=True, eq=False, slots=True)
class Cells:
    """A grid of cells, those that are true filled with one colour.

    `filled` is a bool array of shape (rows, columns), row 0 at the top. Writers merge cells into
    few rectangles, so a drawdown of a million cells stays small.
    """

    x: float
    y: float
    cell_width: float
    cell_height: float
    filled: NDArray[np.bool_]
    colour: str = BLACK


@dataclass(frozen=True, slots=True)
class Figure:
    """Marks that are one picture, with the words that stand for it where it cannot be seen."""

    marks: tuple[Mark, ...]
    title: str
    description: str = ""


@dataclass(frozen=True, slots=True)
class Picture:
    """A photograph over the whole of a rectangle, with the words that stand for it.

    `data` are the bytes of a JPEG or a PNG, which whoever draws it has scaled down and turned.
    """

    x: float
    y: float
    width: float
    height: float
    data: bytes
    title: str
    description: str = ""


@dataclass(frozen=True, slots=True)
class Part:
    """Marks that are read together, as what `role` says; they look as they would without it.

    Texts that stand in no part are a paragraph with those before and after them; other marks that
    stand in none are decoration.
    """

    marks: tuple[Mark, ...]
    role: Role


Mark = Line | Box | Disc | Path | Text | Cells | Figure | Picture | Part


def flat(marks: Iterable[Mark]) -> Iterator[Line | Box | Disc | Path | Text | Cells | Picture]:
    """Return all marks that leave ink, in their order, whatever figures and parts they stand in."""
    for mark in marks:
        if isinstance(mark, Figure | Part):
            yield from flat(mark.marks)
        else:
            yield mark


def unparted(marks: Iterable[Mark]) -> Iterator[Mark]:
    """Return marks in their order, those of parts one by one, and figures whole."""
    for mark in marks:
        if isinstance(mark, Part):
            yield from unparted(mark.marks)
        else:
            yield mark


@dataclass(frozen=True, slots=True)
class Entry:
    """A line of an outline that leads to a page: `level` 0 or 1, `place` its turn among all."""

    title: str
    level: int
    place: int


@dataclass(frozen=True, slots=True)
class Page:
    """One page: its size in mm, its marks in reading order, and what it is called in an outline.

    A printed sheet on which several pages stand has the `entries` of all of them, and a `label` of
    its own in place of a number.
    """

    width: float
    height: float
    marks: tuple[Mark, ...]
    name: str
    entries: tuple[Entry, ...] = ()
    label: str = ""


@dataclass(frozen=True, slots=True)
class Drawing:
    """One sheet of a folio: all its pages, and its name as it is printed and as a file is named."""

    title: str
    slug: str
    pages: tuple[Page, ...]
