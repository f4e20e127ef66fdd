"""The PDF as a document: outline, labels, language, fonts, size, and the same bytes every time."""

import ctypes
import os
import subprocess
import sys
import warnings
from io import BytesIO

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium
import pytest
from PIL import Image
from pypdf import PdfReader

from layouts.drawing import Box, Cells, Drawing, Figure, Page, Picture, unparted
from layouts.pdf import pdf_bytes
from layouts.typeface import label, measure
from tests.layouts import decode_pdf
from tests.layouts.compare import assert_same
from tests.layouts.samples import SAMPLES, picture_file

MM = 25.4 / 72


def page(*marks, name="Page", width=210, height=297):
    return Page(width, height, marks, name)


def folio():
    words = label(20, 30, "Warping card", 20, "bold")
    threading = [page(label(20, 30, f"Part {n}", 12), name=f"Ends {n}") for n in (1, 2, 3)]
    return [
        Drawing("Warping card", "warping-card", (page(words, *SAMPLES.values()),)),
        Drawing("Threading", "threading", tuple(threading)),
    ]


def write(drawings=None, **words):
    drawings = folio() if drawings is None else drawings
    return pdf_bytes(drawings, **({"title": "Estuary throw"} | words))


@pytest.fixture
def reader():
    data = write(author="Fernhollow Weaving Room", subject="Cards – a folio", language="en-GB")
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        yield PdfReader(BytesIO(data), strict=True)


def test_document_says_what_it_is(reader):
    assert reader.metadata.title == "Estuary throw"
    assert reader.metadata.author == "Fernhollow Weaving Room"
    assert reader.metadata.subject == "Cards – a folio"
    assert reader.metadata.creator == "loomfolio"
    assert reader.root_object["/Lang"] == "en-GB"
    preferences = reader.root_object["/ViewerPreferences"]
    assert preferences["/DisplayDocTitle"] == True  # noqa: E712 - pypdf's own boolean
    assert preferences["/PrintScaling"] == "/None"
    assert tuple(map(int, reader.pdf_header.removeprefix("%PDF-").split("."))) >= (1, 6)


def test_metadata_say_the_same_and_hold_no_time(reader):
    """Oracle: pypdf's reader of XMP, and that of qpdf."""
    import pikepdf

    xmp = reader.xmp_metadata
    assert xmp.dc_title == {"x-default": "Estuary throw"}
    assert xmp.dc_language == ["en-GB"]
    assert xmp.dc_creator == ["Fernhollow Weaving Room"]
    assert xmp.dc_description == {"x-default": "Cards – a folio"}
    assert (xmp.xmp_create_date, xmp.xmp_modify_date, xmp.xmp_metadata_date) == (None,) * 3
    data = write(title="Throws & <rugs>")
    with pikepdf.open(BytesIO(data)) as pdf, pdf.open_metadata() as other:
        assert other["dc:title"] == "Throws & <rugs>"
        assert other.pdfa_status == ""


def test_outline_has_an_entry_a_drawing_and_one_a_page_below(reader):
    card, threading, parts = reader.outline
    assert (card.title, threading.title) == ("Warping card", "Threading")
    assert [part.title for part in parts] == ["Ends 1", "Ends 2", "Ends 3"]
    numbers = [reader.get_destination_page_number(each) for each in (card, threading, *parts)]
    assert numbers == [0, 1, 1, 2, 3]


def test_pages_are_labelled_by_drawing(reader):
    labels = ["Warping card 1", "Threading 1", "Threading 2", "Threading 3"]
    assert reader.page_labels == labels


def test_only_lato_is_in_the_file_and_it_is_embedded(reader):
    fonts = reader.pages[0]["/Resources"]["/Font"].values()
    names = {font.get_object()["/BaseFont"].split("+")[1] for font in fonts}
    assert names == {"Lato-Regular", "Lato-Bold"}
    assert all("/FontFile2" in font.get_object()["/FontDescriptor"] for font in fonts)
    assert b"Helvetica" not in write()


def test_streams_are_packed_once_and_not_spelt_out_again():
    assert b"/FlateDecode" in write()
    assert b"ASCII85" not in write()


def test_text_is_found_by_two_readers(reader):
    for text in ("Warping card", "4 1/2 in <&> é"):
        assert text in reader.pages[0].extract_text()
        document = pypdfium2.PdfDocument(write())
        assert text in document[0].get_textpage().get_text_range()


@pytest.mark.parametrize(
    ("width", "height", "points"),
    [
        # ISO 216 A4, and ISO 32000: 72 units of user space to the inch (from memory).
        (210, 297, (595.28, 841.89)),
        (215.9, 279.4, (612, 792)),
        (127, 203.2, (360, 576)),
    ],
)
def test_page_has_its_true_size(width, height, points):
    drawing = Drawing("A", "a", (page(width=width, height=height),))
    box = PdfReader(BytesIO(write([drawing]))).pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx(points, abs=0.005)


@pytest.mark.parametrize("anchor", ["start", "middle", "end"])
@pytest.mark.parametrize("weight", ["regular", "bold"])
def test_characters_stand_where_they_were_measured(anchor, weight):
    """pdfium places every character by the file's own widths, cut to whole thousandths of an em."""
    mark = label(100, 70, "24 slate, AVATAR ½", 18, weight, anchor)
    document = pypdfium2.PdfDocument(write([Drawing("A", "a", (page(mark),))]))
    text = document[0].get_textpage()
    for index in range(text.count_chars()):
        x, y = ctypes.c_double(), ctypes.c_double()
        pdfium.FPDFText_GetCharOrigin(text, index, ctypes.byref(x), ctypes.byref(y))
        want = mark.left + measure(mark.text[:index], 18, weight)
        assert -0.01 < want - x.value * MM < 0.01 + index * 18 * MM / 1000
        assert 297 - y.value * MM == pytest.approx(70, abs=0.01)
        assert pdfium.FPDFText_GetFontSize(text, index) == 18
    assert text.get_text_range() == mark.text


def test_boxes_lie_where_pdfium_finds_them():
    boxes = [Box(10.123, 20.456, 33.3, 7.7, "#ff0000", None), Box(0, 290, 210, 7, "#00ff00", None)]
    document = pypdfium2.PdfDocument(write([Drawing("A", "a", (page(*boxes),))]))
    found = [each.get_bounds() for each in document[0].get_objects()]
    for box, (left, bottom, right, top) in zip(boxes, found, strict=True):
        got = (left * MM, 297 - top * MM, (right - left) * MM, (top - bottom) * MM)
        assert got == pytest.approx((box.x, box.y, box.width, box.height), abs=0.01)


def test_more_characters_than_one_subset_holds_keep_their_text():
    from layouts.typeface import missing_glyphs

    every = [chr(code) for code in range(0x20, 0x500) if not missing_glyphs(chr(code))]
    every.remove("\u00a0")  # written as a space, which it is measured as
    assert len(every) > 600
    rows = ["".join(every[start : start + 40]) for start in range(0, len(every), 40)]
    marks = [label(5, 10 + 7 * row, text, 9) for row, text in enumerate(rows)]
    assert_same(marks, decode_pdf.decode(write([Drawing("A", "a", (page(*marks),))]))[0])


def test_no_break_space_is_measured_as_it_is_written():
    mark = label(20, 30, "12\u00a0mm", 12)
    (read,) = unparted(decode_pdf.decode(write([Drawing("A", "a", (page(mark),))]))[0])
    assert read.width == pytest.approx(mark.width, abs=0.001)


def test_figure_carries_its_words():
    figure = Figure((Box(1, 1, 9, 9),), "Drawdown", "A 2/2 twill → right")
    (read,) = decode_pdf.decode(write([Drawing("A", "a", (page(figure),))]))[0]
    assert read.title == "Drawdown. A 2/2 twill → right"


def pictures_of(*marks):
    reader = PdfReader(BytesIO(write([Drawing("A", "a", (page(*marks),))])), strict=True)
    return reader.pages[0].images


def test_a_jpeg_goes_in_as_it_is():
    data = picture_file("jpeg")
    (read,) = pictures_of(Picture(20, 30, 60, 10, data, "The sample"))
    assert read.indirect_reference.get_object()._data == data
    assert read.indirect_reference.get_object()["/Filter"] == ["/DCTDecode"]


@pytest.mark.parametrize("mode", ["L", "LA", "RGB", "RGBA"])
def test_what_is_seen_through_a_picture_is_white(mode):
    """Oracle: Pillow's own laying of a picture over a ground."""
    data = picture_file("png", mode=mode)
    (read,) = pictures_of(Picture(20, 30, 60, 10, data, "The sample"))
    want = Image.open(BytesIO(data)).convert("RGBA")
    ground = Image.new("RGBA", want.size, "white")
    ground.paste(want, mask=want)
    got, want = (np.asarray(each.convert("RGB")).astype(int) for each in (read.image, ground))
    assert np.abs(got - want).max() <= 1


def test_a_picture_drawn_twice_is_once_in_the_file():
    one, other = picture_file("jpeg"), picture_file("jpeg", size=(9, 9))
    marks = [Picture(20, 30 * n, 60, 10, data, "A") for n, data in enumerate((one, other, one))]
    data = write([Drawing("A", "a", (page(*marks), page(*marks)))])
    assert (data.count(one), data.count(other)) == (1, 1)


def test_a_picture_lies_where_pdfium_finds_it():
    mark = Picture(20, 30, 60, 10, picture_file(), "A")
    document = pypdfium2.PdfDocument(write([Drawing("A", "a", (page(mark),))]))
    (found,) = document[0].get_objects()
    assert found.type == pdfium.FPDF_PAGEOBJ_IMAGE
    left, bottom, right, top = (each * MM for each in found.get_bounds())
    assert (left, 297 - top, right, 297 - bottom) == pytest.approx((20, 30, 80, 40), abs=0.01)


@pytest.mark.parametrize("data", [picture_file("gif"), picture_file("jpeg")[:60], b""])
def test_a_picture_that_no_reader_could_show_is_refused(data):
    with pytest.raises(ValueError, match="JPEG"):
        pictures_of(Picture(20, 30, 60, 10, data, "A"))


def test_cells_are_one_fill_however_many():
    rows, columns = np.indices((40, 40))
    twill = (rows + columns) % 4 < 2
    data = write([Drawing("A", "a", (page(Cells(10, 10, 1.5, 1.5, twill)),))])
    (paths,) = [list(pypdfium2.PdfDocument(data)[0].get_objects())]
    assert len(paths) == 1
    left, bottom, right, top = paths[0].get_bounds()
    assert (right - left, top - bottom) == pytest.approx((60 / MM, 60 / MM), abs=0.01)


def test_nothing_to_print_is_refused():
    for drawings in ([], [Drawing("A", "a", ())]):
        with pytest.raises(ValueError, match="no page"):
            write(drawings)


PROGRAM = """
import hashlib
from tests.layouts.test_pdf import write
print(hashlib.sha256(write()).hexdigest())
"""


def test_same_drawings_give_the_same_bytes_in_every_process():
    surroundings = [
        {"PYTHONHASHSEED": "0"},
        {"PYTHONHASHSEED": "1", "TZ": "Pacific/Auckland"},
        {"PYTHONHASHSEED": "2", "SOURCE_DATE_EPOCH": "1700000000"},
        {"PYTHONHASHSEED": "3", "SOURCE_DATE_EPOCH": "next Tuesday"},
    ]
    digests = set()
    for each in surroundings:
        clean = {name: value for name, value in os.environ.items() if name != "SOURCE_DATE_EPOCH"}
        run = [sys.executable, "-c", PROGRAM]
        done = subprocess.run(run, env=clean | each, capture_output=True, text=True, check=True)
        digests.add(done.stdout)
    assert len(digests) == 1


def test_surroundings_are_left_as_they_were(monkeypatch):
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1700000000")
    write()
    assert os.environ["SOURCE_DATE_EPOCH"] == "1700000000"
