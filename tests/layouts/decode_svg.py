"""Reads a written SVG page back into marks with ElementTree."""

import re
from base64 import b64decode
from xml.etree import ElementTree as ET

import numpy as np

from layouts.drawing import Box, Cells, Disc, Figure, Line, Part, Path, Picture, Text
from tests.layouts.decode_pdf import grid_of

KINDS = frozenset({Line, Box, Disc, Path, Text, Cells, Figure, Picture, Part})
SVG = "{http://www.w3.org/2000/svg}"
HREF = "{http://www.w3.org/1999/xlink}href"
SPACE = "{http://www.w3.org/XML/1998/namespace}space"
MM_PER_PT = 25.4 / 72
_STEP = re.compile("([MLCZ])([^MLCZ]*)")
_CELL = re.compile(r"M(\d+) (\d+)h(\d+)v(\d+)h-(\d+)z")


def decode(text: str) -> list:
    """The marks of a page, in millimetres from its top left corner."""
    return _marks(parse(text))


def parse(text: str) -> ET.Element:
    return ET.fromstring(text)  # noqa: S314 - our own file


def _marks(parent):
    skipped = {"title", "desc", "defs"}
    tags = [(element.tag.removeprefix(SVG), element) for element in parent]
    return [globals()[f"_{tag}"](element) for tag, element in tags if tag not in skipped]


def _numbers(element, names):
    return [float(element.get(name)) for name in names.split()]


def _fill(element):
    fill = element.get("fill")
    return None if fill == "none" else fill


def _width(element):
    return float(element.get("stroke-width", 0))


def _dash(element):
    return tuple(float(each) for each in element.get("stroke-dasharray", "").split())


def _line(element):
    ends = _numbers(element, "x1 y1 x2 y2")
    return Line(*ends, _width(element), element.get("stroke"), _dash(element))


def _rect(element):
    numbers = _numbers(element, "x y width height")
    return Box(*numbers, _fill(element), element.get("stroke"), _width(element))


def _circle(element):
    numbers = _numbers(element, "cx cy r")
    return Disc(*numbers, _fill(element), element.get("stroke"), _width(element))


def _path(element):
    transform = element.get("transform", "translate(0 0)")
    move = re.fullmatch(r"translate\((\S+) (\S+)\)", transform)
    if move is None:
        return _cells(element)
    steps = tuple(
        (kind, *map(float, numbers.split())) for kind, numbers in _STEP.findall(element.get("d"))
    )
    ink = _fill(element), element.get("stroke"), _width(element), _dash(element)
    return Path(steps, *ink, (float(move[1]), float(move[2])))


def _cells(element):
    matrix = re.fullmatch(r"matrix\((.*)\)", element.get("transform"))[1].split()
    width, skew, lean, height, x, y = map(float, matrix)
    assert (skew, lean) == (0, 0)
    found = np.array([[int(each) for each in cell] for cell in _CELL.findall(element.get("d"))])
    assert _CELL.sub("", element.get("d")) == ""
    assert (found[:, 2] == found[:, 4]).all(), "a cell is not closed"
    return Cells(x, y, width, height, grid_of(found[:, :4]), _fill(element))


def _text(element):
    text = element.text
    assert element.get(SPACE) == "preserve" or text == " ".join(text.split(" ")).strip()
    x, y, size, width = _numbers(element, "x y font-size textLength")
    weight = "bold" if element.get("font-weight") == "bold" else "regular"
    anchor = element.get("text-anchor", "start")
    return Text(x, y, text, size / MM_PER_PT, width, weight, anchor, element.get("fill"))


def _image(element):
    assert element.get("role") == "img"
    assert element.get("preserveAspectRatio") == "none"
    data = re.fullmatch("data:image/(?:png|jpeg);base64,(.*)", element.get(HREF))[1]
    words = [element.findtext(f"{SVG}title"), element.findtext(f"{SVG}desc")]
    place = _numbers(element, "x y width height")
    return Picture(*place, b64decode(data, validate=True), *(each or "" for each in words))


def _g(element):
    marks = tuple(_marks(element))
    words = [element.findtext(f"{SVG}title"), element.findtext(f"{SVG}desc")]
    if element.get("role") == "img" and words != ["tick box", None]:
        return Figure(marks, *(each or "" for each in words))
    return Part(marks, _role(element, words[0]))


def _role(element, title):
    if title == "tick box":
        return "tick box"
    if element.get("aria-hidden"):
        return "decoration"
    if element.get("role") == "heading":
        return ["title", "heading", "subheading"][int(element.get("aria-level")) - 1]
    heads = {"columnheader": "column head", "rowheader": "row head", "listitem": "item"}
    return heads.get(element.get("role"), element.get("role"))
