"""One page written as SVG: real text, in millimetres, with nothing in it that runs or is fetched.

One user unit is one millimetre. Text carries its measured length, so a reader that has another
font keeps every line as long as it is on paper. Coordinates are written to a ten-thousandth of a
millimetre; cells are written in whole cells under one exact transformation.
"""

from __future__ import annotations

import re
from base64 import b64encode
from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache
from types import MappingProxyType
from typing import Any
from xml.etree import ElementTree as ET

from layouts.attachment import Attachment, metadata_of
from layouts.cells import path_text, rectangles
from layouts.drawing import (
    Box,
    Cells,
    Disc,
    Figure,
    Line,
    Mark,
    Page,
    Part,
    Path,
    Picture,
    Role,
    Step,
    Text,
)
from layouts.raster import media_type
from layouts.typeface import FAMILY, MM_PER_PT, check_glyphs
from layouts.values import compact, rgb

# Carlito was drawn to the same widths, and is what many systems have instead.
_FAMILIES = f"{FAMILY}, 'Carlito', sans-serif"
# The letters that PDF sets, each with its own width: no pairs drawn together, none joined in one.
_LETTERS = "font-kerning: none; font-variant-ligatures: none"
_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")  # XML 1.0, Char
_UNEVEN_SPACE = re.compile("^ | $|  ")
# What a part is in WAI-ARIA 1.2. A box to be ticked in pencil is nothing to press: a picture.
_HIDDEN = {"aria-hidden": "true"}
_ROLES: Mapping[Role, Mapping[str, str]] = MappingProxyType(
    {
        "title": {"role": "heading", "aria-level": "1"},
        "heading": {"role": "heading", "aria-level": "2"},
        "subheading": {"role": "heading", "aria-level": "3"},
        "paragraph": {"role": "paragraph"},
        "caption": {"role": "caption"},
        "list": {"role": "list"},
        "item": {"role": "listitem"},
        "table": {"role": "table"},
        "row": {"role": "row"},
        "column head": {"role": "columnheader"},
        "row head": {"role": "rowheader"},
        "cell": {"role": "cell"},
        "tick box": {"role": "img"},
        "decoration": _HIDDEN,
        "page head": _HIDDEN,
        "page foot": _HIDDEN,
    }
)


def svg_text(
    page: Page,
    *,
    title: str,
    description: str = "",
    language: str = "en",
    attachments: Sequence[Attachment] = (),
) -> str:
    """Write a page as an SVG document of its true size, titled and described for those who hear it.

    `attachments` travel in its metadata. Raises ValueError for a character that the font lacks.
    """
    import svgwrite  # noqa: PLC0415 - 100 ms that a cold start to PDF need not spend

    drawing = svgwrite.Drawing(
        size=(f"{_n(page.width)}mm", f"{_n(page.height)}mm"),
        viewBox=f"0 0 {_n(page.width)} {_n(page.height)}",
        debug=False,
    )
    # As a picture it would be heard as one; as a document it is read, in the order of the marks.
    drawing.update({"role": "graphics-document document", "lang": language, "xml:lang": language})
    drawing.update({"font-family": _FAMILIES})
    drawing.update({"stroke-miterlimit": "10"})  # as in PDF
    drawing.update({"style": _LETTERS})
    drawing.set_desc(_clean(title), _clean(description) or None)
    if attachments:
        drawing.set_metadata(metadata_of(attachments))
    for mark in page.marks:
        drawing.add(_element(drawing, mark))
    tree = drawing.get_xml()
    ET.indent(tree, space="")  # a line a mark, for whoever compares two files
    return f'<?xml version="1.0" encoding="utf-8"?>\n{ET.tostring(tree, encoding="unicode")}\n'


def _element(drawing: Any, mark: Mark) -> Any:  # noqa: ANN401 - svgwrite has no types
    return WRITERS[type(mark)](drawing, mark)


def _n(value: float) -> str:
    return compact(value, 4)


def _clean(text: str) -> str:
    """Text without the characters that may not stand in XML at all."""
    return _NOT_XML.sub("\ufffd", text)


def _ink(colour: str | None) -> str:
    return "none" if colour is None else "#{:02x}{:02x}{:02x}".format(*rgb(colour))


def _stroked(colour: str | None, width: float, dash: tuple[float, ...] = ()) -> dict[str, str]:
    if colour is None:
        return {}
    ink = {"stroke": _ink(colour), "stroke-width": _n(width)}
    return ink | {"stroke-dasharray": " ".join(map(_n, dash))} if dash else ink


def _line(drawing: Any, mark: Line) -> Any:  # noqa: ANN401
    start, end = (_n(mark.x1), _n(mark.y1)), (_n(mark.x2), _n(mark.y2))
    return drawing.line(start, end, **_stroked(mark.colour, mark.width, mark.dash))


def _box(drawing: Any, mark: Box) -> Any:  # noqa: ANN401
    corner, size = (_n(mark.x), _n(mark.y)), (_n(mark.width), _n(mark.height))
    ink = _stroked(mark.stroke, mark.line_width)
    return drawing.rect(corner, size, fill=_ink(mark.fill), **ink)


def _disc(drawing: Any, mark: Disc) -> Any:  # noqa: ANN401
    ink = _stroked(mark.stroke, mark.line_width)
    centre = (_n(mark.x), _n(mark.y))
    return drawing.circle(centre, _n(mark.radius), fill=_ink(mark.fill), **ink)


def _path(drawing: Any, mark: Path) -> Any:  # noqa: ANN401
    ink = _stroked(mark.stroke, mark.line_width, mark.dash)
    if mark.at != (0.0, 0.0):
        ink["transform"] = f"translate({_n(mark.at[0])} {_n(mark.at[1])})"
    return drawing.path(_written(mark.steps), fill=_ink(mark.fill), **ink)


@lru_cache(maxsize=512)
def _written(steps: tuple[Step, ...]) -> str:
    """Write out the steps of a path; the same shape is often drawn in many places of a page."""
    return "".join(
        str(kind) + " ".join(_n(float(number)) for number in numbers) for kind, *numbers in steps
    )


def _text(drawing: Any, mark: Text) -> Any:  # noqa: ANN401
    check_glyphs(mark.text)
    extra = {"font-size": _n(mark.size * MM_PER_PT), "fill": _ink(mark.colour)}
    if mark.weight == "bold":
        extra["font-weight"] = "bold"
    if mark.anchor != "start":
        extra["text-anchor"] = mark.anchor
    if mark.width:
        extra |= {"textLength": _n(mark.width), "lengthAdjust": "spacingAndGlyphs"}
    if _UNEVEN_SPACE.search(mark.text):
        extra["xml:space"] = "preserve"
    return drawing.text(mark.text, (_n(mark.x), _n(mark.y)), **extra)


def _cells(drawing: Any, mark: Cells) -> Any:  # noqa: ANN401
    # A rounding of the cell would be multiplied by the number of cells: hence nine decimals.
    scale = f"{compact(mark.cell_width, 9)} 0 0 {compact(mark.cell_height, 9)}"
    return drawing.path(
        path_text(rectangles(mark.filled), "M{x} {y}h{w}v{h}h-{w}z"),
        fill=_ink(mark.colour),
        transform=f"matrix({scale} {_n(mark.x)} {_n(mark.y)})",
    )


def _figure(drawing: Any, mark: Figure) -> Any:  # noqa: ANN401
    group = drawing.g(role="img")
    group.set_desc(_clean(mark.title), _clean(mark.description) or None)
    for inner in mark.marks:
        group.add(_element(drawing, inner))
    return group


def _picture(drawing: Any, mark: Picture) -> Any:  # noqa: ANN401
    source = f"data:{media_type(mark.data)};base64,{b64encode(mark.data).decode('ascii')}"
    corner, size = (_n(mark.x), _n(mark.y)), (_n(mark.width), _n(mark.height))
    image = drawing.image(source, corner, size, role="img", preserveAspectRatio="none")
    image.set_desc(_clean(mark.title), _clean(mark.description) or None)
    return image


def _part(drawing: Any, mark: Part) -> Any:  # noqa: ANN401
    group = drawing.g(**_ROLES.get(mark.role, {}))
    if mark.role == "tick box":
        group.set_desc("tick box")
    for inner in mark.marks:
        group.add(_element(drawing, inner))
    return group


# What draws each kind of mark. The tests hold a decoder against every entry.
WRITERS: Mapping[type[Any], Callable[[Any, Any], Any]] = MappingProxyType(
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
