"""The spec inside the files that are printed from it: attached to a PDF, in the metadata of an SVG.

In a PDF the files are embedded and associated with the whole document, as ISO 32000-2 (7.11.4 and
14.13) and PDF/A-3 have it, so that any reader lists them: the spec as the `Source` of what is
drawn, the files that it refers to as its `Data`. They bear no dates, so that the same spec gives
the same bytes.
"""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal

from cards.project.source import Source

if TYPE_CHECKING:
    from xml.etree import ElementTree as ET

    from reportlab.pdfgen.canvas import Canvas

# RFC 9512, 2.1.
MEDIA_TYPE = "application/yaml"
# Names of the metadata in an SVG. It is a name, and no address: nothing is fetched from it.
NAMESPACE = "urn:x-loomfolio:source"

Relationship = Literal["Source", "Data"]
_DESCRIPTIONS: dict[Relationship, str] = {
    "Source": "The spec from which these pages were printed",
    "Data": "A file to which the spec refers",
}


@dataclass(frozen=True, slots=True)
class Attachment:
    """A file that travels inside another; `name` may lead through folders, with `/`."""

    name: str
    data: bytes
    relationship: Relationship


def attachments_of(source: Source, folder: str = "") -> tuple[Attachment, ...]:
    """Return the spec and the kept files that it uses, below `folder` if one is named."""
    before = f"{folder}/" if folder else ""
    spec = Attachment(before + source.name, source.data, "Source")
    return (spec, *(Attachment(before + each.name, each.data, "Data") for each in source.kept))


def attachments_of_all(sources: Iterable[Source]) -> tuple[Attachment, ...]:
    """Return all that several projects were worked out from, each file once.

    Where two files of one name are not alike, every spec has a numbered folder of its own.
    """
    each_once = list(dict.fromkeys(sources))
    found = [each for source in each_once for each in attachments_of(source)]
    if len({each.name for each in found}) < len({(each.name, each.data) for each in found}):
        numbered = enumerate(each_once, start=1)
        found = [each for place, source in numbered for each in attachments_of(source, str(place))]
    return tuple(dict.fromkeys(found))


def attach(canvas: Canvas, attachments: Iterable[Attachment]) -> None:
    """Embed files in the document of a canvas, each name once; before it is saved."""
    from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary  # noqa: PLC0415 - as pdf.py has it

    once = {_encoded(each.name): each for each in attachments}
    if not once:
        return
    document: Any = vars(canvas)["_doc"]  # reportlab has no other way to its objects
    specs = {key: document.Reference(_file_spec(document, each)) for key, each in once.items()}
    # ISO 32000-1, 7.9.6: the keys of a name tree stand in the order of their bytes.
    names: list[object] = []
    for key in sorted(specs):
        names += [_string(key), specs[key]]
    tree = PDFDictionary({"Names": PDFArray(names)})
    catalog = document.Catalog
    catalog.Names = PDFDictionary({"EmbeddedFiles": tree})
    catalog.AF = PDFArray(list(specs.values()))
    catalog.__NoDefault__ = [*catalog.__NoDefault__, "AF"]  # or it is silently left out


def _file_spec(document: Any, attachment: Attachment) -> object:  # noqa: ANN401 - reportlab's own
    """Return the file specification of a file (ISO 32000-2, tables 43 and 44)."""
    from reportlab.pdfbase.pdfdoc import PDFDictionary  # noqa: PLC0415

    name = _string(_encoded(attachment.name))
    stream = document.Reference(_stream(attachment.data))
    return PDFDictionary(
        {
            "Type": "/Filespec",
            "F": name,
            "UF": name,
            "EF": PDFDictionary({"F": stream, "UF": stream}),
            "AFRelationship": f"/{attachment.relationship}",
            "Desc": _string(_encoded(_DESCRIPTIONS[attachment.relationship])),
        }
    )


def _stream(data: bytes) -> object:
    """Return an embedded file, compressed, with its length and the MD5 that the standard wants."""
    from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFStream, PDFZCompress  # noqa: PLC0415

    checksum = hashlib.md5(data, usedforsecurity=False).hexdigest()
    parameters = PDFDictionary({"Size": len(data), "CheckSum": f"<{checksum}>"})
    subtype = "/" + MEDIA_TYPE.replace("/", "#2F")
    head = {"Type": "/EmbeddedFile", "Subtype": subtype, "Params": parameters}
    return PDFStream(PDFDictionary(head), data, [PDFZCompress])


def _encoded(text: str) -> bytes:
    """Return a text string of PDF: ASCII as it is, all else in UTF-16; half pairs become `?`."""
    if text.isascii():
        return text.encode("ascii")
    return b"\xfe\xff" + text.encode("utf-16-be", "replace")


def _string(encoded: bytes) -> str:
    return f"<{encoded.hex()}>"


def metadata_of(attachments: Sequence[Attachment]) -> ET.Element:
    """Return files as an element of an SVG's metadata; base64, since XML changes line ends."""
    from xml.etree import ElementTree as ET  # noqa: PLC0415 - a print of the PDF alone goes without

    source = ET.Element("source", {"xmlns": NAMESPACE})
    for each in attachments:
        name = each.name.encode("utf-8", "replace").decode("utf-8")
        about = {"name": name, "relationship": each.relationship, "type": MEDIA_TYPE}
        about["sha256"] = hashlib.sha256(each.data).hexdigest()
        file = ET.SubElement(source, "file", {**about, "encoding": "base64"})
        file.text = base64.b64encode(each.data).decode("ascii")
    return source
