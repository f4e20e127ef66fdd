"""The structure of a PDF: what every mark is to those who hear the file read aloud.

A tree of elements stands beside the pages: the document, a section a sheet, and in it headings,
paragraphs, lists, tables and figures in the order of the marks. What belongs to no element is an
artifact. ISO 32000-1, 14.7 and 14.8, and ISO 14289-1, which asks that nothing be neither.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, Final

from layouts.drawing import Drawing, Figure, Mark, Page, Part, Picture, Role, Text
from layouts.extent import extent
from layouts.typeface import MM_PER_PT
from layouts.values import compact

if TYPE_CHECKING:
    from reportlab.pdfbase.pdfdoc import PDFDocument
    from reportlab.pdfgen.canvas import Canvas

# The standard structure type of each role: ISO 32000-1, 14.8.4.
_TYPES: Final = MappingProxyType(
    {
        "title": "H1",
        "heading": "H2",
        "subheading": "H3",
        "paragraph": "P",
        "caption": "Caption",
        "list": "L",
        "item": "LI",
        "item label": "Lbl",
        "item body": "LBody",
        "table": "Table",
        "row": "TR",
        "column head": "TH",
        "row head": "TH",
        "cell": "TD",
        "tick box": "Form",
    }
)
# Marks of these are one artifact, with all that they hold: ISO 32000-1, 14.8.2.2.
_ARTIFACTS: Final = MappingProxyType(
    {
        "decoration": "/Artifact BMC",
        "page head": "/Artifact <</Type/Pagination/Subtype/Header/Attached[/Top]>> BDC",
        "page foot": "/Artifact <</Type/Pagination/Subtype/Footer/Attached[/Bottom]>> BDC",
    }
)
# What these may hold, and what anything else in them is put into: ISO 32000-1, 14.8.4.3.
_HOLDS: Final = MappingProxyType(
    {
        "L": ({"LI", "Caption"}, "LI"),
        "LI": ({"Lbl", "LBody"}, "LBody"),
        "Table": ({"TR", "Caption"}, "TR"),
        "TR": ({"TH", "TD"}, "TD"),
    }
)
# In these a paragraph is no more than its words.
_WORDS: Final = frozenset({"title", "heading", "subheading", "paragraph", "caption", "item label"})
# What stands below another of its kind is one list or table with it.
_RUNS: Final[Mapping[Role, Role]] = MappingProxyType({"item": "list", "row": "table"})
# A box to tick on paper is a field of a form that is not interactive: ISO 32000-1, 14.8.5.6.
_TICK_BOX = "<</O/PrintField/Role/cb/checked/off/Desc({})>>"
_ATTRIBUTES: Final = MappingProxyType(
    {"column head": "/A<</O/Table/Scope/Column>>", "row head": "/A<</O/Table/Scope/Row>>"}
)


class Structure:
    """The structure tree of one document, which grows with the pages that are drawn."""

    def __init__(self, canvas: Canvas) -> None:
        from reportlab.pdfbase.pdfdoc import (  # noqa: PLC0415 - a cold start need not wait for it
            PDFArray,
            PDFDictionary,
            PDFName,
            PDFObject,
        )

        class _Object(PDFObject):
            """An object of the file that an element writes."""

            __RefOnly__ = 1

            def __init__(self, element: Element) -> None:
                self.element = element

            def format(self, document: PDFDocument) -> bytes:
                return self.element.written(document)

        self._object: Any = _Object
        self._array, self._dictionary, self._name = PDFArray, PDFDictionary, PDFName
        self._canvas = canvas
        self.file: Any = canvas._doc  # type: ignore[attr-defined]  # noqa: SLF001
        self._parents: list[Any] = []
        self._root = PDFDictionary({"Type": PDFName("StructTreeRoot")})
        self._root_number = self.number(self._root)
        self.document = Element(self, "Document", None)
        self.section = self.document

    def number(self, written: Any) -> int:  # noqa: ANN401
        """Register an object and return its number in the file."""
        self.file.Reference(written)
        return int(self.file.objectcounter)

    def register(self, element: Element) -> int:
        """Register an element of the tree and return its number in the file."""
        return self.number(self._object(element))

    def begin(self, drawing: Drawing) -> None:
        """Begin the section of a sheet."""
        self.section = Element(self, "Sect", self.document, title=drawing.title)

    def finish_page(self, tags: Tags) -> None:
        """Say of the page that was shown last where its marked content stands in the tree."""
        number = len(self._parents) // 2
        page = self.file.idToObject[tags.page]
        page.__NoDefault__ = [*page.__NoDefault__, "StructParents", "Tabs"]
        page.StructParents = number
        page.Tabs = self._name("S")
        written = " ".join(f"{element.number} 0 R" for element in tags.owners)
        self._parents += [number, f"[{written}]"]

    def finish(self) -> None:
        """Enter the finished tree in the catalogue. Nothing can be added afterwards."""
        self._root["K"] = f"{self.document.number} 0 R"
        self._root["ParentTree"] = self._dictionary({"Nums": self._array(self._parents)})
        self._root["ParentTreeNextKey"] = len(self._parents) // 2
        catalogue = self.file.Catalog
        catalogue.StructTreeRoot = self._root
        catalogue.MarkInfo = self._dictionary({"Marked": "true"})

    @property
    def root(self) -> int:
        """Number of the root of the tree in the file."""
        return self._root_number


class Element:
    """One element of the structure tree: its type, its place, and what it holds in order."""

    __slots__ = (
        "attributes",
        "body",
        "kids",
        "number",
        "page",
        "parent",
        "structure",
        "title",
        "type",
    )

    def __init__(
        self,
        structure: Structure,
        standard_type: str,
        parent: Element | None,
        page: str = "",
        attributes: str = "",
        title: str = "",
    ) -> None:
        self.structure = structure
        self.type = standard_type
        self.parent = parent
        self.page = page
        self.attributes = attributes
        self.title = title
        self.kids: list[str] = []
        self.body: Element | None = None
        self.number = structure.register(self)
        if parent is not None:
            parent.kids.append(f"{self.number} 0 R")

    def written(self, document: PDFDocument) -> bytes:
        """Return the element as the file has it."""
        parent = self.structure.root if self.parent is None else self.parent.number
        kids = self.kids[0] if len(self.kids) == 1 else f"[{' '.join(self.kids)}]"
        words = f"<</S/{self.type}/P {parent} 0 R/K {kids}"
        if self.page:
            words += f"/Pg {document.idToObjectNumberAndVersion[self.page][0]} 0 R"
        if self.title:
            words += f"/T{_string(self.title)}"
        return f"{words}{self.attributes}>>".encode("latin-1")


@dataclass(slots=True, eq=False)
class _Open:
    """A part that is being drawn, with its element once it holds something that is heard."""

    role: Role
    element: Element | None = None


class Tags:
    """Marked content of one page: says between its operators which element they belong to."""

    def __init__(self, structure: Structure, page: Page, operators: list[str]) -> None:
        self.page: str = structure.file.thisPageName()
        self.owners: list[Element] = []
        # Whether the text that is drawn next goes on from the one before it, as a line does.
        self.goes_on = False
        self._structure = structure
        self._height = page.height
        self._operators = operators
        self._open: list[_Open] = []
        self._paragraph: Element | None = None
        self._current: Element | str | None = None
        self._whole = False
        self._boxes: Element | str | None = None
        self._ticks = 0
        # The list or table that ended last: its role, what held it, and after how much content.
        self._run: tuple[Role, _Open | None, int, _Open] | None = None

    def before(self, mark: Mark) -> None:
        """Say what the mark is that is drawn next, where it is not one with those around it."""
        self.goes_on = False
        kind = type(mark)
        if self._whole or kind is Part or kind is Figure or kind is Picture:
            return
        if kind is Text:
            if mark.text:  # type: ignore[union-attr]
                element = self._text_element()
                self.goes_on = element is self._current
                self._mark(element)
        else:
            self._paragraph = None
            self._decorate("decoration")

    @contextmanager
    def part(self, role: Role) -> Iterator[None]:
        """Put what is drawn within into a part of its own."""
        if self._whole:
            yield
            return
        self._paragraph = None
        if role == "tick box":
            with self._tick():
                yield
        elif role in _ARTIFACTS:
            self._decorate(role)
            self._whole = True
            yield
            self._whole = False
        elif role == "paragraph" and self._open and self._open[-1].role in _WORDS:
            yield
        elif role in _RUNS and not (self._open and self._open[-1].role == _RUNS[role]):
            with self.part(_RUNS[role]), self.part(role):
                yield
        else:
            self._boxes = None
            with self._opened(role):
                yield
        self._paragraph = None

    @contextmanager
    def _opened(self, role: Role) -> Iterator[None]:
        """Open a part; a list or table goes on from one that ended just before it."""
        holder = self._open[-1] if self._open else None
        last = self._run
        if last is not None and last[:3] == (role, holder, len(self.owners)):
            part = last[3]
        else:
            part = _Open(role)
        self._open.append(part)
        if role == "cell":
            self._holder()  # a cell is one of its row, though it be empty
        yield
        self._open.pop()
        if role in _RUNS.values():
            self._run = role, holder, len(self.owners), part

    @contextmanager
    def figure(self, mark: Figure | Picture) -> Iterator[None]:
        """Make one figure of all that is drawn within, with the words that stand for it."""
        if self._whole:
            yield
            return
        words = ". ".join(filter(None, (mark.title, mark.description)))
        box = f"/A<</O/Layout/Placement/Block/BBox[{self._box(mark)}]>>"
        with self._one("Figure", _alternative(words) + box):
            yield

    @contextmanager
    def _one(self, standard_type: str, attributes: str) -> Iterator[None]:
        """Make one element of all that is drawn within, which is heard as one."""
        self._paragraph = None
        self._mark(self._new(standard_type, self._holder(), attributes))
        self._whole = True
        yield
        self._whole = False

    @contextmanager
    def _tick(self) -> Iterator[None]:
        """Draw a box to tick; boxes with nothing between them are heard as so many at once."""
        if self._current is None or self._current is not self._boxes:
            with self._one("Form", ""):
                self._boxes, self._ticks = self._current, 1
                yield
        else:
            self._ticks += 1
            self._whole = True
            yield
            self._whole = False
        if isinstance(self._boxes, Element):
            words = "tick box" if self._ticks == 1 else f"{self._ticks} boxes to tick"
            self._boxes.attributes = f"/Alt({words})/A{_TICK_BOX.format(words)}"

    def close(self) -> None:
        """End what is open, at the end of the page."""
        if self._current is not None:
            self._operators.append("EMC")
            self._current = None

    def _mark(self, element: Element) -> None:
        if self._current is element:
            return
        self.close()
        number = len(self.owners)
        self.owners.append(element)
        element.kids.append(str(number))
        self._operators.append(f"/{element.type} <</MCID {number}>> BDC")
        self._current = element

    def _decorate(self, role: str) -> None:
        if self._current == role:
            return
        self.close()
        self._operators.append(_ARTIFACTS[role])
        self._current = role

    def _holder(self) -> Element:
        """Return the element of the innermost open part."""
        element = self._structure.section
        for part in self._open:
            if part.element is None:
                kind, attributes = _TYPES[part.role], _ATTRIBUTES.get(part.role, "")
                part.element = self._new(kind, element, attributes)
            element = part.element
        return element

    def _new(self, kind: str, parent: Element, attributes: str = "") -> Element:
        """Return a new element in `parent`, or in what such a parent must hold it in."""
        while parent.type in _HOLDS and kind not in _HOLDS[parent.type][0]:
            between = _HOLDS[parent.type][1]
            if parent.body is None or between != "LBody":
                parent.body = Element(self._structure, between, parent, self.page)
            parent = parent.body
        return Element(self._structure, kind, parent, self.page, attributes)

    def _text_element(self) -> Element:
        """Return what a text belongs to: the open part, or a paragraph in it."""
        if self._paragraph is not None:
            return self._paragraph
        element = self._holder()
        if element.type == "TR":  # every text of a row is a cell
            return self._new("TD", element)
        if element.type == "Sect" or element.type in _HOLDS:
            element = self._new("P", element)
        self._paragraph = element
        return element

    def _box(self, mark: Figure | Picture) -> str:
        """Return the box of a figure in points from the bottom left."""
        marks = mark.marks if isinstance(mark, Figure) else (mark,)
        left, top, right, bottom = extent(marks) or (0.0, 0.0, 0.0, 0.0)
        corners = (left, self._height - bottom, right, self._height - top)
        return " ".join(compact(each / MM_PER_PT, 2) for each in corners)


def _alternative(words: str) -> str:
    return f"/Alt{_string(words)}"


def _string(words: str) -> str:
    """Return a text string: ISO 32000-1, 7.9.2.2."""
    if words.isascii() and words.isprintable():
        plain = words.replace("\\", "\\\\").replace("(", "\\(").replace(")", "\\)")
        return f"({plain})"
    return f"<FEFF{words.encode('utf-16-be').hex().upper()}>"
