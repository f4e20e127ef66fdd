"""Reads a written PDF back into marks, by a small interpreter of content streams over pypdf."""

# ruff: noqa: N802 - methods are named after the operators they carry out

import math
import re
import warnings
from dataclasses import replace
from io import BytesIO

import numpy as np
from pypdf import PdfReader
from pypdf.generic import ContentStream

from layouts.drawing import Box, Cells, Disc, Figure, Line, Part, Path, Picture, Text

KINDS = frozenset({Line, Box, Disc, Path, Text, Cells, Figure, Picture, Part})
MM = 25.4 / 72
# The roles of standard structure types, as far as marked content is theirs alone.
ROLES = {
    None: "decoration",
    "/P": "paragraph",
    "/H1": "title",
    "/H2": "heading",
    "/H3": "subheading",
    "/Form": "tick box",
    "/Caption": "caption",
    "/Lbl": "item label",
    "/LBody": "item body",
    "/TH": "column head",
    "/TD": "cell",
}


def decode(data: bytes) -> list[list]:
    """The marks of every page, in millimetres from its top left corner."""
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        reader = PdfReader(BytesIO(data), strict=True)
        return [_Interpreter(page, reader).marks() for page in reader.pages]


class _Interpreter:
    def __init__(self, page, reader):
        self.height = float(page.mediabox.height)
        self.page = page
        self.operations = ContentStream(page.get_contents(), reader).operations
        self.fonts = {
            name: _Font(font.get_object()) for name, font in page["/Resources"]["/Font"].items()
        }
        self.state = {
            "rg": "#000000",
            "RG": "#000000",
            "w": 1.0,
            "d": (),
            "cm": None,
            "move": (0, 0),
        }
        self.saved, self.path, self.stack = [], [], [[]]
        parents = reader.root_object["/StructTreeRoot"]["/ParentTree"]["/Nums"]
        at = parents.index(page["/StructParents"])
        self.owners = parents[at + 1]

    def marks(self):
        for operands, operator in self.operations:
            getattr(self, f"_{operator.decode()}")(*operands)
        assert len(self.stack) == 1, "marked content left open"
        return self.stack[0]

    def _add(self, mark):
        self.stack[-1].append(mark)

    def _point(self, x, y):
        return float(x) * MM, (self.height - float(y)) * MM

    def _colour(self, *parts):
        return "#" + "".join(f"{round(float(part) * 255):02x}" for part in parts)

    def _rg(self, *parts):
        self.state["rg"] = self._colour(*parts)

    def _RG(self, *parts):
        self.state["RG"] = self._colour(*parts)

    def _w(self, width):
        self.state["w"] = float(width) * MM

    def _d(self, dash, _phase):
        self.state["d"] = tuple(float(each) * MM for each in dash)

    def _q(self):
        self.saved.append(dict(self.state))

    def _Q(self):
        self.state = self.saved.pop()

    def _cm(self, *matrix):
        numbers = [float(each) for each in matrix]
        if numbers[:4] == [1, 0, 0, 1]:
            assert self.state["move"] == (0, 0), "nested transformations are not in our files"
            self.state["move"] = numbers[4] * MM, -numbers[5] * MM
        else:
            assert self.state["cm"] is None, "nested transformations are not in our files"
            assert numbers[1:3] == [0, 0]
            self.state["cm"] = numbers

    def _m(self, x, y):
        self.path.append(("M", *self._point(x, y)))

    def _l(self, x, y):
        self.path.append(("L", *self._point(x, y)))

    def _c(self, *n):
        self.path.append(("C", *self._point(*n[:2]), *self._point(*n[2:4]), *self._point(*n[4:])))

    def _h(self):
        self.path.append(("Z",))

    def _re(self, x, y, width, height):
        self.path.append(("re", float(x), float(y), float(width), float(height)))

    def _f(self):
        self._paint(self.state["rg"], None)

    def _S(self):
        self._paint(None, self.state["RG"])

    def _B(self):
        self._paint(self.state["rg"], self.state["RG"])

    def _paint(self, fill, stroke):
        path, self.path = self.path, []
        width, dash, move = self.state["w"], self.state["d"], self.state["move"]
        kinds = "".join(step[0] for step in path)
        if self.state["cm"]:
            self._add(self._cells(path))
        elif move != (0, 0):
            self._add(Path(tuple(path), fill, stroke, width, dash, move))
        elif kinds == "re":
            x, y, across, along = path[0][1:]
            self._add(Box(*self._point(x, y + along), across * MM, along * MM, fill, stroke, width))
        elif kinds == "MCCCCZ" and (circle := _circle(path)):
            self._add(Disc(*circle, fill, stroke, width))
        elif kinds == "ML" and fill is None:
            self._add(Line(*path[0][1:], *path[1][1:], width, stroke, dash))
        else:
            self._add(Path(tuple(path), fill, stroke, width, dash, move))

    def _cells(self, path):
        a, _, _, d, e, f = self.state["cm"]
        assert d < 0, "rows are counted downwards"
        boxes = np.array([step[1:] for step in path])
        return Cells(
            *self._point(e, f), a * MM, -d * MM, grid_of(boxes.astype(int)), self.state["rg"]
        )

    def _BMC(self, tag):
        self._BDC(tag, None)

    def _BDC(self, tag, properties):
        assert len(self.stack) == 1, "marked content is nested"
        self.stack.append([])
        self.element = None if tag == "/Artifact" else self.owners[properties["/MCID"]].get_object()
        assert self.element is None or self.element["/S"] == tag

    def _EMC(self):
        marks = tuple(self.stack.pop())
        kind = self.element["/S"] if self.element else None
        if kind != "/Figure":
            self._add(Part(marks, ROLES[kind]))
        elif [type(mark) for mark in marks] == [Picture]:
            self._add(replace(marks[0], title=self.element["/Alt"]))
        else:
            self._add(Figure(marks, self.element["/Alt"]))

    def _Do(self, name):
        a, b, c, d, e, f = self.state["cm"]
        assert (b, c) == (0, 0)
        x, y = self._point(e, f)
        found = self.page["/Resources"]["/XObject"][name].get_object()
        if found["/Filter"] == ["/DCTDecode"]:
            data = found._data  # pypdf itself would encode it anew
        else:
            seen = BytesIO()
            self.page.images[name].image.save(seen, "png")
            data = seen.getvalue()
        self._add(Picture(x, y - d * MM, a * MM, d * MM, data, ""))

    def _BT(self):
        self.text, self.advance = "", 0.0

    def _Tf(self, name, size):
        self.font, self.size = self.fonts[name], float(size)

    def _TL(self, _leading):
        pass

    def _Tm(self, *matrix):
        assert [float(each) for each in matrix[:4]] == [1, 0, 0, 1]
        self.origin = self._point(*matrix[4:])

    def _Tj(self, shown):
        for code in shown if isinstance(shown, bytes) else shown.original_bytes:
            self.text += self.font.characters[code]
            self.advance += self.font.widths[code] / 1000 * self.size * MM
            self.weight = self.font.weight

    def _ET(self):
        if self.text and self.text != " ":  # which only parts two texts that are read together
            colour = self.state["rg"]
            width, weight = self.advance, self.weight
            self._add(Text(*self.origin, self.text, self.size, width, weight, "start", colour))


class _Font:
    def __init__(self, font):
        cmap = font["/ToUnicode"].get_data().decode("latin-1")
        pairs = re.findall(r"^<([0-9A-F]{2})> <([0-9A-F]{4})>$", cmap, re.MULTILINE)
        self.characters = {int(code, 16): chr(int(value, 16)) for code, value in pairs}
        self.widths = [float(width) for width in font["/Widths"]]
        self.weight = "bold" if "Bold" in font["/BaseFont"] else "regular"
        assert "/FontFile2" in font["/FontDescriptor"], "the font must be embedded"


def _circle(path):
    """Centre and radius, if the four curves lie on one circle to a thousandth of its radius."""
    ends = [step[-2:] for step in path[:5]]
    x, y = (ends[0][0] + ends[2][0]) / 2, (ends[0][1] + ends[2][1]) / 2
    radius = math.dist(ends[0], (x, y))
    points = [*ends]
    for start, step in zip(ends, path[1:5], strict=False):
        curve = (start, step[1:3], step[3:5], step[5:7])
        points.append(
            tuple(
                sum(w * p[k] for w, p in zip((1, 3, 3, 1), curve, strict=True)) / 8 for k in (0, 1)
            )
        )
    if all(abs(math.dist(p, (x, y)) - radius) <= 1e-3 * radius + 1e-5 for p in points):
        return x, y, radius
    return None


def grid_of(boxes):
    """Fill a grid from boxes of x, y, width, height in cells; refuse any overlap."""
    across, along = (boxes[:, :2] + boxes[:, 2:]).max(axis=0)
    count = np.zeros((along, across), dtype=int)
    for x, y, width, height in boxes:
        count[y : y + height, x : x + width] += 1
    assert count.max() == 1, "rectangles overlap"
    return count.astype(bool)
