"""The SVG as a document: its size, its words, its safety, and the ink a renderer puts down."""

from io import BytesIO

import numpy as np
import pytest
import resvg_py
from PIL import Image

from layouts.drawing import Box, Cells, Disc, Line, Page, Path, Picture, Text
from layouts.svg import svg_text
from layouts.typeface import font_file, label
from tests.layouts import decode_svg
from tests.layouts.samples import SAMPLES, picture_file

SVG = "{http://www.w3.org/2000/svg}"
LANG = "{http://www.w3.org/XML/1998/namespace}lang"
HOSTILE = "<script>alert(1)</script> & \"quoted\" 'too' ]]> <!-- \x00\x1b\x0b\ud800 end"


def write(*marks, **words):
    return svg_text(Page(210, 297, marks, "Page"), **({"title": "Warping card"} | words))


def ink(*marks, dpi=254):
    """Darkness of each pixel, 0 to 1, ten pixels to the millimetre, drawn by resvg."""
    fonts = [str(font_file(weight)) for weight in ("regular", "bold")]
    picture = resvg_py.svg_to_bytes(
        svg_string=write(*marks),
        dpi=dpi,
        background="#ffffff",
        skip_system_fonts=True,
        font_files=fonts,
    )
    return 1 - np.asarray(Image.open(BytesIO(bytes(picture))).convert("L")) / 255


def bounds(darkness):
    """Left, top, right and bottom of the ink in mm."""
    rows, columns = np.nonzero(darkness > 0.5)
    return columns.min() / 10, rows.min() / 10, (columns.max() + 1) / 10, (rows.max() + 1) / 10


def test_document_has_its_true_size_and_its_words():
    root = decode_svg.parse(write(description="40 ends", language="en-GB"))
    assert (root.get("width"), root.get("height")) == ("210mm", "297mm")
    assert root.get("viewBox") == "0 0 210 297"
    # WAI-ARIA Graphics Module 1.0: a document is read in its order, a picture is heard as one.
    assert root.get("role") == "graphics-document document"
    assert (root.get("lang"), root.get(LANG)) == ("en-GB", "en-GB")
    assert root.get("font-family") == "Lato, 'Carlito', sans-serif"
    assert root.find(f"{SVG}title").text == "Warping card"
    assert root.find(f"{SVG}desc").text == "40 ends"


def test_sizes_in_inches_lose_nothing():
    root = decode_svg.parse(svg_text(Page(215.9, 279.4, (), "Page"), title="A"))
    assert (root.get("width"), root.get("height")) == ("215.9mm", "279.4mm")


def test_hostile_words_stay_words():
    text = write(title=HOSTILE, description=HOSTILE)
    root = decode_svg.parse(text)
    assert not [element for element in root.iter() if "script" in element.tag]
    clean = HOSTILE.translate(dict.fromkeys([0, 0x1B, 0x0B, 0xD800], "\ufffd"))
    assert root.find(f"{SVG}title").text == clean
    assert root.find(f"{SVG}desc").text == clean
    text.encode("utf-8")


def test_hostile_text_marks_stay_text():
    words = "<script>alert(1)</script> & \"quoted\" 'too' ]]> <!-- -->"
    (read,) = decode_svg.decode(write(label(10, 10, words, 12)))
    assert read.text == words


@pytest.mark.parametrize("character", ["\x00", "\x1b", "\n", "\u202e", "\ud800"])
def test_control_characters_in_a_text_mark_are_refused(character):
    with pytest.raises(ValueError, match="no glyph"):
        write(Text(10, 10, f"a{character}b", 12, 9))


def test_nothing_runs_and_nothing_is_fetched():
    root = decode_svg.parse(write(*SAMPLES.values()))
    allowed = {
        "svg",
        "title",
        "desc",
        "defs",
        "g",
        "line",
        "rect",
        "circle",
        "path",
        "text",
        "image",
    }
    assert {element.tag.removeprefix(SVG) for element in root.iter()} == allowed
    for element in root.iter():
        for name, value in element.attrib.items():
            assert not name.startswith("on")
            assert "href" not in name or value.startswith("data:image/png;base64,")
            assert "url(" not in value


@pytest.mark.parametrize("text", ["  two before", "two  between", "one after ", " ", "plain words"])
def test_spaces_are_kept(text):
    (read,) = decode_svg.decode(write(label(10, 10, text, 12)))
    assert read.text == text


def test_text_carries_its_length():
    mark = label(100, 50, "384 ends", 18, "bold", "end")
    element = decode_svg.parse(write(mark)).find(f"{SVG}text")
    assert float(element.get("textLength")) == pytest.approx(mark.width, abs=1e-4)
    assert element.get("lengthAdjust") == "spacingAndGlyphs"
    assert element.get("text-anchor") == "end"


def test_same_page_gives_the_same_text():
    assert write(*SAMPLES.values()) == write(*SAMPLES.values())


@pytest.mark.parametrize(
    ("mark", "box"),
    [
        (Box(20, 30, 40, 10, "#000000", None), (20, 30, 60, 40)),
        (Box(20, 30, 40, 10, None, "#000000", 1), (19.5, 29.5, 60.5, 40.5)),
        (Disc(50, 60, 5, "#000000", None), (45, 55, 55, 65)),
        (Line(10, 100, 110, 100, 1), (10, 99.5, 110, 100.5)),
        (
            Path((("M", 10, 10), ("L", 30, 10), ("L", 30, 20), ("Z",)), "#000000", None),
            (10, 10, 30, 20),
        ),
        (Cells(10, 20, 2, 3, np.ones((4, 5), dtype=bool)), (10, 20, 20, 32)),
    ],
)
def test_ink_lies_where_it_was_drawn(mark, box):
    assert bounds(ink(mark)) == pytest.approx(box, abs=0.11)


@pytest.mark.parametrize("kind", ["png", "jpeg"])
def test_a_picture_fills_its_place(kind):
    """Oracle: resvg."""
    black = BytesIO()
    Image.new("L", (3, 2)).save(black, kind)
    mark = Picture(20, 30, 60, 10, black.getvalue(), "The sample")
    assert bounds(ink(mark)) == pytest.approx((20, 30, 80, 40), abs=0.11)


def test_a_picture_that_is_neither_jpeg_nor_png_is_refused():
    with pytest.raises(ValueError, match="JPEG or a PNG"):
        write(Picture(20, 30, 60, 10, picture_file("gif"), "The sample"))


@pytest.mark.parametrize("anchor", ["start", "middle", "end"])
def test_text_is_drawn_with_its_own_font_at_its_own_width(anchor):
    mark = label(100, 60, "HHHHHHHH", 30, "regular", anchor)
    x1, y1, x2, y2 = bounds(ink(mark))
    assert y2 == pytest.approx(60, abs=0.11)
    assert y2 - y1 == pytest.approx(30 * 25.4 / 72 * 0.7165, abs=0.2)  # OS/2 cap height of Lato
    side = (mark.width - (x2 - x1)) / 2
    assert 0 < side < 2
    assert x1 - side == pytest.approx(mark.left, abs=0.11)


def test_pairs_are_not_drawn_together():
    """Oracle: resvg, which kerns unless told not to, against the bare widths of the font file."""
    pairs = Text(10, 60, "HAVATAVoTeVAH", 30, 0)  # no length that would set it right
    bare = label(10, 60, pairs.text, 30).width
    one, _, other, _ = bounds(ink(pairs))
    left, _, right, _ = bounds(ink(Text(10, 60, "H", 30, 0)))
    bearings = label(10, 60, "H", 30).width - (right - left)
    assert other - one == pytest.approx(bare - bearings, abs=0.25)


def test_letters_are_not_joined_in_one():
    style = decode_svg.parse(write()).get("style")
    assert "font-variant-ligatures: none" in style


def test_empty_grid_and_empty_text_leave_no_ink():
    empty = np.zeros((3, 3), dtype=bool)
    assert ink(Cells(1, 1, 1, 1, empty), Text(10, 10, "", 12, 0)).max() == 0
