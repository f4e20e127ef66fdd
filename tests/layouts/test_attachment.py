"""The spec inside PDF and SVG, read back by two readers of PDF and by an XML parser."""

import base64
import hashlib
import string
from io import BytesIO
from xml.etree import ElementTree as ET

import pypdf
import pypdfium2
import pytest

from cards.project.source import Source
from cards.spec import KeptSource
from layouts.attachment import Attachment, attachments_of, attachments_of_all
from layouts.drawing import Drawing, Page
from layouts.pdf import pdf_bytes
from layouts.svg import svg_text
from layouts.typeface import label

PAGE = Page(210, 297, (label(20, 30, "Card", 12),), "Card")
EVERY_BYTE = bytes(range(256)) * 3
AWKWARD = [
    b"\xef\xbb\xbfa: 1\r\nb: 2\r\n",
    b"<![CDATA[ ]]> & < > \" ' -->",
    b"endstream\nendobj\n%%EOF\n",
    EVERY_BYTE,
]


def pdf_with(*attachments):
    drawing = Drawing("Card", "card", (PAGE,))
    return pdf_bytes([drawing], title="Towels", attachments=attachments)


def named(name, data, relationship="Source"):
    return Attachment(name, data, relationship)


@pytest.mark.parametrize("data", AWKWARD)
def test_two_readers_of_pdf_give_every_byte_back(data):
    written = pdf_with(named("towels.yaml", data))
    reader = pypdf.PdfReader(BytesIO(written), strict=True)
    assert dict(reader.attachments) == {"towels.yaml": [data]}
    document = pypdfium2.PdfDocument(written)
    assert document.count_attachments() == 1
    found = document.get_attachment(0)
    assert found.get_name() == "towels.yaml"
    assert bytes(found.get_data()) == data


def test_the_files_are_associated_with_the_document():
    """ISO 32000-2, 7.11.4 and 14.13: /AF of the catalog, /AFRelationship, /Params of the file."""
    data = b"loomfolio: 1\n"
    written = pdf_with(named("towels.yaml", data), named("kept/looms.yaml", b"looms: []", "Data"))
    root = pypdf.PdfReader(BytesIO(written), strict=True).root_object
    spec, kept = (each.get_object() for each in root["/AF"])
    assert (spec["/AFRelationship"], kept["/AFRelationship"]) == ("/Source", "/Data")
    assert (spec["/Type"], spec["/F"], spec["/UF"]) == ("/Filespec", "towels.yaml", "towels.yaml")
    assert kept["/UF"] == "kept/looms.yaml"
    stream = spec["/EF"]["/F"].get_object()
    assert (stream["/Type"], stream["/Subtype"]) == ("/EmbeddedFile", "/application/yaml")
    assert stream["/Params"]["/Size"] == len(data)
    assert (
        stream["/Params"]["/CheckSum"].original_bytes
        == hashlib.md5(data, usedforsecurity=False).digest()
    )
    assert stream["/Filter"] == ["/FlateDecode"]
    assert not any("Date" in key for key in stream["/Params"])
    names = root["/Names"]["/EmbeddedFiles"]["/Names"]
    assert names[1].get_object() == kept
    assert list(names[::2]) == sorted(names[::2])


def test_names_of_other_alphabets_come_back():
    names = ["наволочка.yaml", "türkis.yaml", "𝄞.yaml", "plain.yaml", "(a) \\b.yaml"]
    written = pdf_with(*(named(name, name.encode()) for name in names))
    reader = pypdf.PdfReader(BytesIO(written), strict=True)
    assert dict(reader.attachments) == {name: [name.encode()] for name in names}
    document = pypdfium2.PdfDocument(written)
    found = [document.get_attachment(at).get_name() for at in range(len(names))]
    assert sorted(found) == sorted(names)


def test_a_name_with_half_a_pair_can_be_written():
    written = pdf_with(named("a\udcff.yaml", b"x"))
    assert dict(pypdf.PdfReader(BytesIO(written)).attachments) == {"a?.yaml": [b"x"]}
    svg = svg_text(PAGE, title="x", attachments=[named("a\udcff.yaml", b"x")])
    assert 'name="a?.yaml"' in svg


def test_the_same_spec_gives_the_same_bytes():
    one, two = (pdf_with(named("a.yaml", b"1"), named("b.yaml", b"2")) for _ in range(2))
    assert one == two
    assert pdf_with() == pdf_with()
    assert len(pdf_with(named("a.yaml", b"ends: 240\n" * 3000))) - len(pdf_with()) < 1500


@pytest.mark.parametrize("data", AWKWARD)
def test_an_xml_parser_gives_every_byte_back(data):
    text = svg_text(PAGE, title="x", attachments=[named("towels.yaml", data)])
    root = ET.fromstring(text.encode("utf-8"))  # noqa: S314 -- our own file
    svg, ours = "{http://www.w3.org/2000/svg}", "{urn:x-loomfolio:source}"
    assert [each.tag for each in root][:2] == [f"{svg}title", f"{svg}metadata"]
    (file,) = root.iterfind(f"{svg}metadata/{ours}source/{ours}file")
    assert file.attrib["name"] == "towels.yaml"
    assert base64.b64decode(file.text or "", validate=True) == data


def test_an_svg_is_as_before_without_an_attachment():
    plain = svg_text(PAGE, title="x")
    assert "metadata" not in plain
    assert plain == svg_text(PAGE, title="x", attachments=())


def test_nothing_in_the_metadata_looks_like_an_address():
    """RFC 3986, 1.1.3: a URN names, and does not locate."""
    plain = svg_text(PAGE, title="x")
    more = svg_text(PAGE, title="x", attachments=[named("a.yaml", b"http://example.org")])
    assert more.count("://") == plain.count("://")


def test_a_spec_stands_before_its_kept_files_and_below_its_folder():
    source = Source("a.yaml", b"1", (KeptSource("looms.yaml", b"2"),))
    assert attachments_of(source, "class") == (
        Attachment("class/a.yaml", b"1", "Source"),
        Attachment("class/looms.yaml", b"2", "Data"),
    )


def test_files_that_several_specs_share_travel_once():
    kept = (KeptSource("looms.yaml", b"2"),)
    one, two = Source("a.yaml", b"1", kept), Source("b.yaml", b"3", kept)
    assert [each.name for each in attachments_of_all([one, two, one])] == [
        "a.yaml",
        "looms.yaml",
        "b.yaml",
    ]


def test_specs_that_share_a_name_only_have_folders_of_their_own():
    one = Source("a.yaml", b"1", (KeptSource("looms.yaml", b"2"),))
    two = Source("b.yaml", b"3", (KeptSource("looms.yaml", b"4"),))
    names = [each.name for each in attachments_of_all([one, two])]
    assert names == ["1/a.yaml", "1/looms.yaml", "2/b.yaml", "2/looms.yaml"]
    assert set("".join(names)) <= set(string.printable)
