"""Reads the structure tree of a PDF with pypdf, and says what is wrong with it.

The rules are those of ISO 32000-1, 14.6 to 14.8, and of ISO 14289-1 (PDF/UA-1), by their clauses.
"""

from collections import Counter
from io import BytesIO

from pypdf import PdfReader
from pypdf.generic import ContentStream, IndirectObject, RectangleObject

# Standard structure types that our files may have, with what may hold them: ISO 32000-1, 14.8.4.
BLOCKS = {"/Sect", "/TD", "/TH", "/LBody"}
HOLDERS = {
    "/Document": {None},
    "/Sect": {"/Document"},
    "/H1": BLOCKS,
    "/H2": BLOCKS,
    "/H3": BLOCKS,
    "/P": BLOCKS,
    "/Figure": BLOCKS | {"/P", "/H1", "/H2", "/H3", "/Caption", "/Lbl"},
    "/Form": BLOCKS | {"/P", "/H1", "/H2", "/H3", "/Caption", "/Lbl"},
    "/Caption": {"/Table", "/L", "/Sect"},
    "/L": BLOCKS,
    "/LI": {"/L"},
    "/Lbl": {"/LI"},
    "/LBody": {"/LI"},
    "/Table": BLOCKS,
    "/TR": {"/Table"},
    "/TH": {"/TR"},
    "/TD": {"/TR"},
}
PAINTS = {b"S", b"s", b"f", b"F", b"f*", b"B", b"B*", b"b", b"b*", b"sh", b"Do", b"Tj", b"TJ"}


class Element:
    """An element of the tree: its type, what it holds in order, and how it is described."""

    def __init__(self, reference, parent, reader):
        found = reference.get_object()
        self.reference = reference
        self.parent = parent
        self.type = found["/S"]
        self.alt = found.get("/Alt")
        self.attributes = found["/A"].get_object() if "/A" in found else {}
        self.page = found["/Pg"].indirect_reference if "/Pg" in found else None
        self.title = found.get("/T")
        up = found.raw_get("/P")
        assert up == (parent.reference if parent else reader.root_object.raw_get("/StructTreeRoot"))
        kids = found.raw_get("/K")
        if isinstance(kids, IndirectObject) and isinstance(kids.get_object(), list):
            kids = kids.get_object()
        kids = kids if isinstance(kids, list) else [kids]
        self.kids = [
            Element(kid, self, reader) if isinstance(kid, IndirectObject) else int(kid)
            for kid in kids
        ]

    def walk(self):
        """Return this element and all below it, in the order in which they are read."""
        yield self
        for kid in self.kids:
            if isinstance(kid, Element):
                yield from kid.walk()

    def pieces(self):
        """Return the marked content it holds, as pages and numbers, in the order of reading."""
        for kid in self.kids:
            if isinstance(kid, Element):
                yield from kid.pieces()
            else:
                yield self.page, kid


class Tagged:
    """A tagged PDF: its tree, and the texts that stand in each piece of marked content."""

    def __init__(self, data):
        self.reader = PdfReader(BytesIO(data), strict=True)
        catalogue = self.reader.root_object
        self.root = catalogue["/StructTreeRoot"]
        self.document = Element(self.root.raw_get("/K"), None, self.reader)
        self.faults = []
        self.texts = {}
        if not catalogue["/MarkInfo"]["/Marked"]:
            self.faults.append("not marked as tagged")
        self._read_pages()
        self._check_pieces()
        self._check_elements()

    def text_of(self, element):
        return "".join(self.texts[piece] for piece in element.pieces())

    def elements(self, *types):
        return [each for each in self.document.walk() if each.type in types]

    def _read_pages(self):
        for page in self.reader.pages:
            reader = _Content(page, self.reader)
            self.faults += reader.faults
            self.texts |= reader.texts

    def _check_pieces(self):
        reached = Counter(self.document.pieces())
        written = set(self.texts)
        self.faults += [f"in the tree and not on a page: {each}" for each in set(reached) - written]
        self.faults += [f"on a page and not in the tree: {each}" for each in written - set(reached)]
        self.faults += [f"twice in the tree: {each}" for each, n in reached.items() if n > 1]
        owners = {
            (element.page, kid): element.reference
            for element in self.document.walk()
            for kid in element.kids
            if isinstance(kid, int)
        }
        numbers = self.root["/ParentTree"]["/Nums"]
        keys = [int(each) for each in numbers[::2]]
        if keys != sorted(set(keys)) or int(self.root["/ParentTreeNextKey"]) <= max(keys):
            self.faults.append("the keys of the parent tree do not rise")
        parents = dict(zip(keys, numbers[1::2], strict=True))
        for page in self.reader.pages:
            if page["/Tabs"] != "/S":
                self.faults.append("a page whose order of tabs is not that of the structure")
            listed = parents[int(page["/StructParents"])].get_object()
            for number, owner in enumerate(listed):
                if owners.get((page.indirect_reference, number)) != owner:
                    self.faults.append(f"the parent tree is wrong for {number}")

    def _check_elements(self):
        level = 0
        for element in self.document.walk():
            holder = element.parent.type if element.parent else None
            if holder not in HOLDERS[element.type]:
                self.faults.append(f"{element.type} in {holder}")
            if not element.kids and element.type != "/TD":
                self.faults.append(f"{element.type} that holds nothing")
            if element.type in {"/Figure", "/Form"} and not (element.alt or "").strip():
                self.faults.append(f"{element.type} without words that stand for it")
            if element.type == "/Figure":
                self._check_box(element)
            if element.type in {"/H1", "/H2", "/H3"}:
                deep = int(element.type[2:])
                if deep > level + 1:
                    self.faults.append(f"a heading {deep} below {level}: {self.text_of(element)}")
                if not self.text_of(element).strip():
                    self.faults.append("a heading without words")
                level = deep
            if element.type == "/Table":
                self._check_table(element)

    def _check_box(self, element):
        box = element.attributes.get("/BBox")
        page = RectangleObject(element.page.get_object()["/MediaBox"])
        if element.attributes.get("/O") != "/Layout" or box is None:
            self.faults.append(f"a figure without a box: {element.alt}")
            return
        left, bottom, right, top = map(float, box)
        if not (
            page.left - 0.01 <= left <= right <= page.right + 0.01
            and page.bottom - 0.01 <= bottom <= top <= page.top + 0.01
        ):
            self.faults.append(f"a figure whose box is not on its page: {element.alt}, {box}")

    def _check_table(self, element):
        rows = [each for each in element.kids if each.type == "/TR"]
        if len({len(row.kids) for row in rows}) > 1:
            self.faults.append(f"a table of unequal rows: {self.text_of(element)[:80]}")
        heads = [each for each in element.walk() if each.type == "/TH"]
        if not heads or any("/Scope" not in each.attributes for each in heads):
            self.faults.append(f"a table without heads: {self.text_of(element)[:80]}")


class _Content:
    """The marked content of one page."""

    def __init__(self, page, reader):
        self.faults = []
        self.texts = {}
        self._page = page.indirect_reference
        self._fonts = {}
        for name, font in page["/Resources"]["/Font"].items():
            self._fonts[name] = _characters(font.get_object())
        self._open, self._depth = None, []
        for operands, operator in ContentStream(page.get_contents(), reader).operations:
            if operator in {b"BDC", b"BMC"}:
                self._begin(operands)
            elif operator in {b"EMC", b"q", b"Q"}:
                self._nest(operator)
            elif operator == b"Tf":
                self._font = self._fonts[operands[0]]
            elif operator in PAINTS:
                self._paint(operands, operator)
        if self._depth:
            self.faults.append("marked content left open")

    def _nest(self, operator):
        if operator == b"q":
            self._depth.append("q")
            return
        want = {b"EMC": "BDC", b"Q": "q"}[operator]
        if not self._depth or self._depth.pop() != want:
            self.faults.append("marked content and graphics overlap")
        if operator == b"EMC":
            self._open = None

    def _begin(self, operands):
        self._depth.append("BDC")
        if self._open is not None:
            self.faults.append("marked content within marked content")
        if operands[0] == "/Artifact":
            self._open = "artifact"
            return
        self._open = (self._page, int(operands[1]["/MCID"]))
        if self._open in self.texts:
            self.faults.append(f"number used twice: {self._open}")
        self.texts[self._open] = ""

    def _paint(self, operands, operator):
        if self._open is None:
            self.faults.append("ink that is neither tagged nor an artifact")
        elif operator == b"Tj" and self._open != "artifact":
            shown = operands[0]
            codes = shown if isinstance(shown, bytes) else shown.original_bytes
            self.texts[self._open] += "".join(self._font[code] for code in codes)


def _characters(font):
    import re

    cmap = font["/ToUnicode"].get_data().decode("latin-1")
    pairs = re.findall(r"^<([0-9A-F]{2})> <([0-9A-F]{4})>$", cmap, re.MULTILINE)
    return {int(code, 16): chr(int(value, 16)) for code, value in pairs}
