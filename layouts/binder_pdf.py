"""Finished PDFs bound into one: their pages, what is stamped on each, outline, labels, structure.

Nothing is drawn here. The pages of a project are taken as they are; a page of stamps is laid over
each as an artifact, since it belongs to the binder and not to what is read on the page.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import Any

from pypdf import PageObject, PdfReader, PdfWriter
from pypdf.constants import PageLabelStyle
from pypdf.generic import (
    ArrayObject,
    DecodedStreamObject,
    DictionaryObject,
    IndirectObject,
    NameObject,
    NumberObject,
    TextStringObject,
)

_STAMP = "/BinderStamp"


@dataclass(frozen=True, slots=True)
class Bound:
    """A PDF to be bound: its title in the outline, and below it sheets with their pages."""

    title: str
    pdf: bytes
    sheets: tuple[tuple[str, int], ...]


def bind_pdfs(front: bytes, sheets: Sequence[tuple[str, int]], stamps: bytes,
              bound: Sequence[Bound]) -> bytes:  # fmt: skip
    """Return one PDF: the `front` as it is, then all that is bound, a page of `stamps` over each.

    The document is that of the front: its title, language and attachments. `sheets` are those of
    the front, with their pages. Raises pypdf's own errors for what is no PDF.
    """
    writer = PdfWriter(clone_from=BytesIO(front))
    before = len(writer.pages)
    tree = _Tree(writer)
    stamped = iter(PdfReader(BytesIO(stamps)).pages)
    binder = _Stamper(writer)
    for each in bound:
        reader = PdfReader(BytesIO(each.pdf))
        added = [writer.add_page(page) for page in reader.pages]
        tree.graft(reader, added, each.title)
        for page in added:
            binder.stamp(page, next(stamped))
    tree.finish()
    _outline(writer, sheets, before, bound)
    root = writer.root_object
    root.pop("/PageLabels", None)
    writer.set_page_label(0, len(writer.pages) - 1, style=PageLabelStyle.DECIMAL, start=1)
    file = BytesIO()
    writer.write(file)
    return file.getvalue()


class _Stamper:
    """Lays pages over others, each as a form of its own, so that no names of fonts meet."""

    def __init__(self, writer: PdfWriter) -> None:
        self._writer = writer
        self._before = self._operators(b"q\n")
        self._after = self._operators(f"\nQ\n/Artifact BMC q {_STAMP} Do Q EMC\n".encode())

    def _operators(self, content: bytes) -> IndirectObject:
        stream = DecodedStreamObject()
        stream.set_data(content)
        return self._writer._add_object(stream)  # noqa: SLF001 - pypdf has no other way

    def stamp(self, page: PageObject, over: PageObject) -> None:
        """Lay one page over another."""
        contents, fonts = over.raw_get("/Contents"), over.raw_get("/Resources")
        form: Any = contents.get_object().clone(self._writer)
        form.update(
            {
                NameObject("/Type"): NameObject("/XObject"),
                NameObject("/Subtype"): NameObject("/Form"),
                NameObject("/BBox"): ArrayObject(over.mediabox),
                NameObject("/Resources"): fonts.get_object().clone(self._writer),
            }
        )
        resources: Any = page["/Resources"].get_object()
        named = DictionaryObject(resources)
        objects = DictionaryObject(resources.get("/XObject", DictionaryObject()).get_object())
        objects[NameObject(_STAMP)] = form.indirect_reference
        named[NameObject("/XObject")] = objects
        page[NameObject("/Resources")] = named
        own = page.raw_get("/Contents")
        parts = own if isinstance(own, ArrayObject) else [own]
        page[NameObject("/Contents")] = ArrayObject([self._before, *parts, self._after])


class _Tree:
    """The structure tree of the binder, into which those of its projects are grafted."""

    def __init__(self, writer: PdfWriter) -> None:
        self._writer = writer
        root: Any = writer.root_object.get("/StructTreeRoot")
        self._root: Any = root.get_object() if root is not None else None
        self._parents: list[Any] = []
        self._next = 0
        self._sections: list[Any] = []
        if self._root is None:
            return
        self._parents = list(_numbered(self._root.get("/ParentTree")))
        self._next = max((int(each) for each in self._parents[::2]), default=-1) + 1

    def graft(self, reader: PdfReader, pages: Sequence[PageObject], title: str) -> None:
        """Put the tree of a document below a section with its title."""
        theirs: Any = reader.root_object.get("/StructTreeRoot")
        if self._root is None or theirs is None:
            return
        section = DictionaryObject(
            {
                NameObject("/S"): NameObject("/Sect"),
                NameObject("/T"): TextStringObject(title),
            }
        )
        reference = self._writer._add_object(section)  # noqa: SLF001
        section[NameObject("/K")] = ArrayObject(self._moved(theirs.get_object(), reference))
        self._sections.append(reference)
        theirs = theirs.get_object()
        rows = list(_numbered(theirs.get("/ParentTree")))
        owners = {int(number): row for number, row in zip(rows[::2], rows[1::2], strict=True)}
        for page, before in zip(pages, reader.pages, strict=True):
            number: Any = before.get("/StructParents")  # which pypdf leaves out of a clone
            if number is None or int(number) not in owners:
                continue
            row = owners[int(number)].get_object().clone(self._writer)
            self._parents += [NumberObject(self._next), row]
            page[NameObject("/StructParents")] = NumberObject(self._next)
            self._next += 1

    def _moved(self, theirs: Any, section: IndirectObject) -> Iterator[Any]:  # noqa: ANN401
        """Yield the parts of another tree's document, cloned, with another parent."""
        document: Any = theirs["/K"]
        document = document[0] if isinstance(document, ArrayObject) else document
        document = document.get_object()
        kids = document.raw_get("/K")
        if isinstance(kids, IndirectObject) and isinstance(kids.get_object(), ArrayObject):
            kids = kids.get_object()
        for kid in kids if isinstance(kids, ArrayObject) else [kids]:
            # Or the whole of the other tree would be cloned on the way up.
            kid.get_object().pop("/P", None)
            clone = kid.clone(self._writer)
            clone.get_object()[NameObject("/P")] = section
            yield getattr(clone, "indirect_reference", clone)

    def finish(self) -> None:
        """Hang what was grafted on the tree."""
        if self._root is None:
            return
        document: Any = self._root.raw_get("/K")
        document = document[0] if isinstance(document, ArrayObject) else document
        document = document.get_object()
        kids = document.raw_get("/K")
        kids = kids if isinstance(kids, ArrayObject) else [kids]
        document[NameObject("/K")] = ArrayObject([*kids, *self._sections])
        for section in self._sections:
            section.get_object()[NameObject("/P")] = document.indirect_reference
        tree = DictionaryObject({NameObject("/Nums"): ArrayObject(self._parents)})
        self._root[NameObject("/ParentTree")] = self._writer._add_object(tree)  # noqa: SLF001
        self._root[NameObject("/ParentTreeNextKey")] = NumberObject(self._next)


def _numbered(tree: Any) -> Iterator[Any]:  # noqa: ANN401 - as pypdf has it
    """Yield keys and values of a number tree by turns: ISO 32000-1, 7.9.7."""
    if tree is None:
        return
    tree = tree.get_object()
    yield from tree.get("/Nums", ArrayObject()).get_object()
    for kid in tree.get("/Kids", ArrayObject()).get_object():
        yield from _numbered(kid)


def _outline(
    writer: PdfWriter, sheets: Sequence[tuple[str, int]], before: int, bound: Sequence[Bound]
) -> None:
    """Write the outline: the sheets of the front, then every project with its sheets below it."""
    root = writer.root_object
    root.pop("/Outlines", None)
    root[NameObject("/PageMode")] = NameObject("/UseOutlines")
    page = 0
    for title, pages in sheets:
        writer.add_outline_item(title=title, page_number=page)
        page += pages
    page = before
    for each in bound:
        project = writer.add_outline_item(title=each.title, page_number=page, is_open=False)
        for title, pages in each.sheets:
            writer.add_outline_item(title=title, page_number=page, parent=project)
            page += pages
