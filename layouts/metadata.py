"""What a PDF says of itself in XMP: title, language, author and subject, and no time.

The packet is ISO 16684-1; which names stand for what in it, ISO 32000-1, 14.3. It makes no claim
to any standard.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

_PACKET = """\
<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/">
<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/"\
 xmlns:xmp="http://ns.adobe.com/xap/1.0/">
<dc:format>application/pdf</dc:format>
{entries}
<xmp:CreatorTool>{creator}</xmp:CreatorTool>
</rdf:Description>
</rdf:RDF>
</x:xmpmeta>
<?xpacket end="r"?>"""
_WORDS = '<rdf:Alt><rdf:li xml:lang="x-default">{}</rdf:li></rdf:Alt>'


def describe(
    canvas: Canvas, *, title: str, author: str, subject: str, language: str, creator: str
) -> None:
    """Write what a file is into its own properties, and into its metadata."""
    canvas.setTitle(title)
    canvas.setAuthor(author)
    canvas.setSubject(subject)
    canvas.setCreator(creator)
    from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFName, PDFStream  # noqa: PLC0415

    packet = _packet(title, author, subject, language, creator).encode("utf-8")
    kind = PDFDictionary({"Type": PDFName("Metadata"), "Subtype": PDFName("XML")})
    document: Any = canvas._doc  # type: ignore[attr-defined]  # noqa: SLF001
    document.Catalog.Metadata = PDFStream(kind, packet)


def _escaped(text: str) -> str:
    # That of the standard library loads all of its network to do the same.
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def _packet(title: str, author: str, subject: str, language: str, creator: str) -> str:
    entries = [
        f"<dc:title>{_WORDS.format(_escaped(title))}</dc:title>",
        f"<dc:language><rdf:Bag><rdf:li>{_escaped(language)}</rdf:li></rdf:Bag></dc:language>",
    ]
    if author:
        people = f"<rdf:Seq><rdf:li>{_escaped(author)}</rdf:li></rdf:Seq>"
        entries.append(f"<dc:creator>{people}</dc:creator>")
    if subject:
        entries.append(f"<dc:description>{_WORDS.format(_escaped(subject))}</dc:description>")
    return _PACKET.format(entries="\n".join(entries), creator=_escaped(creator))
