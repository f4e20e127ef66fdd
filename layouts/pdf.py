"""Drawings written as one PDF: real text in an embedded font, at exactly the size drawn.

Marks become content stream operators, which go to reportlab a page at a time; reportlab does the
fonts, the outline, the labels and the file. The same drawings give the same bytes in every
process: the date is fixed, whatever the clock or the surroundings say. Nothing is drawn off its
place by more than a millionth of a point, which is the last decimal written.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from functools import lru_cache
from io import BytesIO
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from layouts.attachment import Attachment, attach
from layouts.cells import path_text, rectangles
from layouts.drawing import (
    Box,
    Cells,
    Disc,
    Drawing,
    Entry,
    Figure,
    Line,
    Mark,
    Page,
    Part,
    Path,
    Picture,
    Step,
    Text,
)
from layouts.metadata import describe
from layouts.packed import pack
from layouts.raster import image_name
from layouts.tagging import Structure, Tags
from layouts.typeface import MM_PER_PT, check_glyphs, face
from layouts.values import compact, rgb

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

_VERSION = (1, 7)  # /PrintScaling came with 1.6
_QUARTER = 0.5522847498  # control length of the cubic nearest a quarter circle, from memory
_SEGMENTS = {"M": "m", "L": "l", "C": "c", "Z": "h"}


def pdf_bytes(
    drawings: Iterable[Drawing],
    *,
    title: str,
    author: str = "",
    subject: str = "",
    language: str = "en",
    creator: str = "loomfolio",
    attachments: Iterable[Attachment] = (),
    duplex: str = "",
) -> bytes:
    """Write the drawings one after another as a PDF that asks the printer for no scaling.

    Every drawing has an entry in the outline, with one below it for each page when it has
    several, and pages are labelled with the drawing's title and their number in it. A printed sheet
    of several pages has the entries and the label that it brings. `attachments` travel inside;
    `duplex` is the way in which the printer is asked to turn the paper, as ISO 32000 names it.
    Raises ValueError when there is no page, or for a character that the font lacks.
    """
    drawings = tuple(drawings)
    if not drawings or not all(drawing.pages for drawing in drawings):
        raise ValueError("there is no page to write")
    file = BytesIO()
    canvas = _canvas(file, language)
    describe(
        canvas, title=title, author=author, subject=subject, language=language, creator=creator
    )
    canvas.setViewerPreference("DisplayDocTitle", "true")
    canvas.setViewerPreference("PrintScaling", "None")
    if duplex:
        canvas.setViewerPreference("Duplex", duplex)
    if len(drawings) > 1 or any(page.entries for page in drawings[0].pages):
        canvas.showOutline()
    structure = Structure(canvas)
    for number, drawing in enumerate(drawings):
        _write_drawing(canvas, drawing, number, structure)
    _write_entries(canvas, drawings)
    structure.finish()
    attach(canvas, attachments)
    pack(canvas)
    canvas.save()
    return file.getvalue()


def _canvas(file: BytesIO, language: str) -> Canvas:
    from reportlab import rl_config  # noqa: PLC0415 - 200 ms that a cold start need not spend
    from reportlab.pdfbase import pdfmetrics  # noqa: PLC0415
    from reportlab.pdfgen.canvas import Canvas  # noqa: PLC0415

    pdfmetrics.registerFont(face("regular"))
    pdfmetrics.registerFont(face("bold"))
    rl_config.useA85 = 0  # a quarter larger and far slower, for printers of the last century
    # Without an initial font of ours, Helvetica is listed in the file and not embedded.
    with _without_epoch():
        return Canvas(
            file,
            pageCompression=1,
            invariant=1,
            pdfVersion=_VERSION,
            lang=language,
            initialFontName=face("regular").fontName,  # type: ignore[arg-type]  # a wrong stub
        )


@contextmanager
def _without_epoch() -> Iterator[None]:
    """Hide SOURCE_DATE_EPOCH, by which reportlab would date the file or, misspelt, give up."""
    epoch = os.environ.pop("SOURCE_DATE_EPOCH", None)
    try:
        yield
    finally:
        if epoch is not None:
            os.environ["SOURCE_DATE_EPOCH"] = epoch


def _write_drawing(canvas: Canvas, drawing: Drawing, number: int, structure: Structure) -> None:
    structure.begin(drawing)
    canvas.addPageLabel(
        canvas.getPageNumber() - 1, style="ARABIC", start=1, prefix=f"{drawing.title} "
    )
    several = sum(1 for page in drawing.pages if page.marks) > 1
    for index, page in enumerate(drawing.pages):
        canvas.setPageSize((page.width / MM_PER_PT, page.height / MM_PER_PT))
        if page.label:
            canvas.addPageLabel(canvas.getPageNumber() - 1, prefix=page.label)
            for entry in page.entries:
                canvas.bookmarkPage(_key(entry))
        elif index == 0:
            _outline(canvas, drawing.title, str(number), level=0)
        if several and page.marks and not page.label:
            _outline(canvas, page.name, f"{number}-{index}", level=1)
        pen = _drawn(page, canvas, structure)
        canvas.addLiteral("\n".join(pen.operators))
        canvas.showPage()
        structure.finish_page(pen.tags)


def _write_entries(canvas: Canvas, drawings: Iterable[Drawing]) -> None:
    """Write the outline of printed sheets of several pages, in the order of reading."""
    entries = (entry for each in drawings for page in each.pages for entry in page.entries)
    for entry in sorted(entries, key=lambda entry: entry.place):
        canvas.addOutlineEntry(entry.title, _key(entry), level=entry.level)


def _key(entry: Entry) -> str:
    return f"entry-{entry.place}"


def _outline(canvas: Canvas, title: str, key: str, level: int) -> None:
    """Enter the page in the outline; reportlab wants a key of its own for every entry."""
    canvas.bookmarkPage(key)
    canvas.addOutlineEntry(title, key, level=level)


def _drawn(page: Page, canvas: Canvas, structure: Structure) -> _Pen:
    """Return the pen that has drawn a page, with its content stream."""
    operators: list[str] = []
    pen = _Pen(_Placement(page.height), canvas, Tags(structure, page, operators), operators)
    for mark in page.marks:
        pen.draw(mark)
    pen.tags.close()
    return pen


@dataclass(frozen=True, slots=True)
class _Placement:
    """Millimetres from the top left become points from the bottom left: here and nowhere else.

    `height` is that of the page in mm.
    """

    height: float

    @property
    def _top(self) -> float:
        return self.height / MM_PER_PT

    def point(self, x: float, y: float) -> str:
        return f"{compact(x / MM_PER_PT, 6)} {compact(self._top - y / MM_PER_PT, 6)}"

    def length(self, length: float) -> str:
        return compact(length / MM_PER_PT, 6)

    def box(self, x: float, y: float, width: float, height: float) -> str:
        return f"{self.point(x, y + height)} {self.length(width)} {self.length(height)}"

    def picture(self, x: float, y: float, width: float, height: float) -> str:
        """Matrix that lays the unit square, which a picture fills, over a rectangle."""
        return f"{self.length(width)} 0 0 {self.length(height)} {self.point(x, y + height)} cm"

    def move(self, across: float, down: float) -> str:
        """Matrix that moves what follows."""
        return f"1 0 0 1 {self.length(across)} {self.length(-down)} cm"

    def grid(self, x: float, y: float, width: float, height: float) -> str:
        """Matrix of a grid whose unit is a cell of `width` by `height`, rows counted downwards."""
        # A rounding here would be multiplied by the number of cells: hence three decimals more.
        across, down = compact(width / MM_PER_PT, 9), compact(-height / MM_PER_PT, 9)
        return f"{across} 0 0 {down} {self.point(x, y)} cm"


class _Pen:
    """Writes marks as operators and remembers the colours and widths already set."""

    def __init__(
        self, placement: _Placement, canvas: Canvas, tags: Tags, operators: list[str]
    ) -> None:
        self.operators = operators
        self.tags = tags
        self.placement = placement
        self.canvas = canvas
        self.last_text: Text | None = None
        self._fill = "#000000"
        self._stroke = "#000000"
        self._line: tuple[float, tuple[float, ...]] | None = None

    def draw(self, mark: Mark) -> None:
        self.tags.before(mark)
        WRITERS[type(mark)](self, mark)

    def fill(self, colour: str) -> None:
        if colour != self._fill:
            self.operators.append(f"{_colour(colour)} rg")
            self._fill = colour

    def stroke(self, colour: str, width: float, dash: tuple[float, ...] = ()) -> None:
        if colour != self._stroke:
            self.operators.append(f"{_colour(colour)} RG")
            self._stroke = colour
        if self._line is None or self._line[0] != width:
            self.operators.append(f"{self.placement.length(width)} w")
        if dash != (self._line[1] if self._line else ()):
            self.operators.append(f"[{' '.join(map(self.placement.length, dash))}] 0 d")
        self._line = (width, dash)

    def ink(self, mark: Box | Disc | Path, dash: tuple[float, ...] = ()) -> None:
        """Set the colours and the width of line that a mark wants."""
        if mark.fill is not None:
            self.fill(mark.fill)
        if mark.stroke is not None:
            self.stroke(mark.stroke, mark.line_width, dash)

    def paint(self, outline: str, mark: Box | Disc | Path, dash: tuple[float, ...] = ()) -> None:
        """Fill and stroke an outline as the mark says; with neither there is nothing to see."""
        self.ink(mark, dash)
        paint = {(True, True): "B", (True, False): "f", (False, True): "S", (False, False): ""}
        operator = paint[mark.fill is not None, mark.stroke is not None]
        if operator:
            self.operators.append(f"{outline} {operator}")


def _colour(colour: str) -> str:
    return " ".join(compact(part / 255, 6) for part in rgb(colour))


def _line(pen: _Pen, mark: Line) -> None:
    pen.stroke(mark.colour, mark.width, mark.dash)
    at = pen.placement.point
    pen.operators.append(f"{at(mark.x1, mark.y1)} m {at(mark.x2, mark.y2)} l S")


def _box(pen: _Pen, mark: Box) -> None:
    pen.paint(f"{pen.placement.box(mark.x, mark.y, mark.width, mark.height)} re", mark)


def _disc(pen: _Pen, mark: Disc) -> None:
    x, y, r, c = mark.x, mark.y, mark.radius, mark.radius * _QUARTER
    at = pen.placement.point
    quarters = (
        (x + r, y + c, x + c, y + r, x, y + r),
        (x - c, y + r, x - r, y + c, x - r, y),
        (x - r, y - c, x - c, y - r, x, y - r),
        (x + c, y - r, x + r, y - c, x + r, y),
    )
    curves = " ".join(f"{at(*q[:2])} {at(*q[2:4])} {at(*q[4:])} c" for q in quarters)
    pen.paint(f"{at(x + r, y)} m {curves} h", mark)


def _path(pen: _Pen, mark: Path) -> None:
    if not mark.steps:
        return
    outline = _written(mark.steps, pen.placement)
    if mark.at == (0.0, 0.0):
        pen.paint(outline, mark, mark.dash)
        return
    # Inks are set before the move, lest they be forgotten with it.
    pen.ink(mark, mark.dash)
    pen.operators.append(f"q {pen.placement.move(*mark.at)}")
    pen.paint(outline, mark, mark.dash)
    pen.operators.append("Q")


@lru_cache(maxsize=512)
def _written(steps: tuple[Step, ...], placement: _Placement) -> str:
    """Write out the steps of a path; the same shape is often drawn in many places of a page."""
    words: list[str] = []
    for kind, *numbers in steps:
        values = iter(map(float, numbers))
        words.extend(placement.point(x, y) for x, y in zip(values, values, strict=True))
        words.append(_SEGMENTS[str(kind)])
    return " ".join(words)


def _text(pen: _Pen, mark: Text) -> None:
    if not mark.text:
        return
    check_glyphs(mark.text)  # reportlab would print a blank
    pen.fill(mark.colour)
    if pen.tags.goes_on and pen.last_text is not None:
        # Where words are read one after another there must be a space: ISO 32000-1, 14.8.2.5.
        end = pen.last_text
        _show(pen, end.left + end.width, end.y, replace(end, text=" "))
    pen.last_text = mark
    _show(pen, mark.left, mark.y, mark)


def _show(pen: _Pen, x: float, y: float, text: Text) -> None:
    line = pen.canvas.beginText()
    line.setFont(face(text.weight).fontName, text.size)
    line.textOut(text.text)
    # reportlab knows which subset of the font a character went to; the place is ours to write.
    shown = line.getCode().split(" Tm ", 1)[1]
    pen.operators.append(f"BT 1 0 0 1 {pen.placement.point(x, y)} Tm {shown}")


def _cells(pen: _Pen, mark: Cells) -> None:
    merged = rectangles(mark.filled)
    if not len(merged):
        return
    pen.fill(mark.colour)
    pen.operators += [
        "q " + pen.placement.grid(mark.x, mark.y, mark.cell_width, mark.cell_height),
        path_text(merged, "{x} {y} {w} {h} re\n") + "f Q",
    ]


def _figure(pen: _Pen, mark: Figure) -> None:
    with pen.tags.figure(mark):
        for inner in mark.marks:
            pen.draw(inner)


def _picture(pen: _Pen, mark: Picture) -> None:
    name = image_name(pen.canvas, mark.data)
    place = pen.placement.picture(mark.x, mark.y, mark.width, mark.height)
    with pen.tags.figure(mark):
        pen.operators.append(f"q {place} /{name} Do Q")


def _part(pen: _Pen, mark: Part) -> None:
    with pen.tags.part(mark.role):
        for inner in mark.marks:
            pen.draw(inner)


# What draws each kind of mark. The tests hold a decoder against every entry.
WRITERS: Mapping[type[Any], Callable[[_Pen, Any], None]] = MappingProxyType(
    {
        Line: _line,
        Box: _box,
        Disc: _disc,
        Path: _path,
        Text: _text,
        Cells: _cells,
        Figure: _figure,
        Picture: _picture,
        Part: _part,
    }
)
