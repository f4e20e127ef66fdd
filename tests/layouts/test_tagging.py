"""The structure of a PDF and of an SVG, mark by mark, and that the reader of the tests can fail."""

from contextlib import contextmanager
from xml.etree import ElementTree as ET

import numpy as np
import pytest

from layouts import tagging
from layouts.drawing import Box, Cells, Disc, Drawing, Figure, Line, Page, Part, Text
from layouts.extent import extent
from layouts.pdf import pdf_bytes
from layouts.svg import svg_text
from layouts.typeface import label
from tests.layouts.structure import Tagged

MM = 25.4 / 72
SVG = "{http://www.w3.org/2000/svg}"


def tagged(*marks, pages=1):
    page = Page(210, 297, marks, "Page")
    return Tagged(pdf_bytes([Drawing("Card", "card", (page,) * pages)], title="Folio"))


def text(words, y=50.0):
    return label(20, y, words, 12)


def part(role, *marks):
    return Part(marks, role)


def tick(x=20.0):
    return part("tick box", Box(x, 60, 5, 5))


def tree(element):
    """Return an element as its type and what it holds, marked content left out."""
    inner = [tree(kid) for kid in element.kids if not isinstance(kid, int)]
    return (element.type[1:], *inner)


def section(*marks):
    read = tagged(*marks)
    assert read.faults == []
    return [tree(each) for each in read.document.kids[0].kids]


@pytest.mark.parametrize(
    ("role", "kind"),
    # ISO 32000-1, tables 333 to 339.
    [("title", "H1"), ("paragraph", "P"), ("caption", "Caption")],
)
def test_a_part_is_an_element_of_its_standard_type(role, kind):
    assert section(part(role, text("one"), text("two", 56))) == [(kind,)]


def test_texts_in_a_row_are_one_paragraph_with_a_space_between():
    read = tagged(text("436"), text("ends", 56), Line(0, 58, 9, 58), text("reed", 64))
    assert [read.text_of(each) for each in read.elements("/P")] == ["436 ends", "reed"]


def test_lines_below_one_another_are_one_list():
    item = part("item", part("item label", text("1")), text("slate"), tick())
    marks = (part("list", item), Line(0, 62, 9, 62), part("list", item), text("in all"), item)
    one = ("LI", ("Lbl",), ("LBody", ("P",), ("Form",)))
    assert section(*marks) == [("L", one, one), ("P",), ("L", one)]


def test_rows_are_a_table_and_an_empty_cell_is_one_of_them():
    head = part("row", part("column head", text("bout")), part("column head", text("ends")))
    row = part("row", text("1"), part("cell"))
    rows = (("TR", ("TH",), ("TH",)), ("TR", ("TD",), ("TD",)))
    assert section(head, row) == [("Table", *rows)]


def test_a_paragraph_in_a_heading_is_no_more_than_its_words():
    assert section(part("title", part("paragraph", text("Warping card")))) == [("H1",)]


def test_boxes_with_nothing_between_are_so_many_and_a_field_of_a_printed_form():
    """ISO 32000-1, 14.8.5.6: the attributes PrintField of a form that is not interactive."""
    read = tagged(tick(20), tick(30), tick(40), text("so far"), tick(20))
    boxes = read.elements("/Form")
    assert [each.alt for each in boxes] == ["3 boxes to tick", "tick box"]
    attributes = boxes[0].attributes
    found = [attributes[name] for name in ("/O", "/Role", "/checked", "/Desc")]
    assert found == ["/PrintField", "/cb", "/off", "3 boxes to tick"]


def test_a_figure_has_its_words_and_the_box_of_its_marks():
    picture = Figure((Box(20, 30, 60, 10), Disc(90, 35, 5)), "The reed", "436 ends → 218 dents")
    (figure,) = tagged(picture).elements("/Figure")
    assert figure.alt == "The reed. 436 ends → 218 dents"
    box = [float(each) * MM for each in figure.attributes["/BBox"]]
    assert box == pytest.approx([20, 297 - 40, 95, 297 - 30], abs=0.01)


@pytest.mark.parametrize("words", ["a (b", "a\\b)", "½ in", "漢字", "Ωλ (ж)"])
def test_words_are_read_back_to_the_letter(words):
    (figure,) = tagged(Figure((Box(20, 30, 60, 10),), words)).elements("/Figure")
    assert figure.alt == words


def test_what_is_decoration_or_said_before_is_not_heard():
    marks = [part(role, text("x")) for role in ("decoration", "page head", "page foot")]
    read = tagged(text("heard"), *marks, Box(1, 1, 9, 9))
    assert [read.text_of(each) for each in read.document.walk()] == ["heard"] * 3
    content = read.reader.pages[0].get_contents().get_data()
    assert content.count(b"/Type/Pagination") == 2


def test_a_part_with_nothing_in_it_leaves_nothing_in_the_tree():
    assert section(part("paragraph"), part("list", part("item")), text("one")) == [("P",)]


def test_pages_have_their_own_pieces():
    read = tagged(part("title", text("Warping card")), text("one"), pages=3)
    assert read.faults == []
    assert len(read.elements("/P")) == 3


@pytest.mark.parametrize(
    ("name", "broken", "fault"),
    [
        ("before", lambda self, mark: None, "neither tagged nor an artifact"),
        ("close", lambda self: None, "marked content within marked content"),
        ("_box", lambda self, mark: "0 0 9999 9", "box is not on its page"),
    ],
)
def test_the_reader_finds_what_is_wrong(monkeypatch, name, broken, fault):
    monkeypatch.setattr(tagging.Tags, name, broken)
    read = tagged(text("one"), Line(0, 0, 9, 9), Figure((Box(1, 1, 2, 2),), "A reed"))
    assert any(fault in each for each in read.faults)


def test_the_reader_finds_a_wrong_parent_and_a_skipped_heading(monkeypatch):
    def reversed_owners(self, tags):
        tags.owners.reverse()
        finish(self, tags)

    finish = tagging.Structure.finish_page
    monkeypatch.setattr(tagging.Structure, "finish_page", reversed_owners)
    read = tagged(part("subheading", text("Bouts")), text("one"))
    assert any("parent tree" in each for each in read.faults)
    assert any("a heading 3 below 0" in each for each in read.faults)


def test_how_far_marks_reach():
    cells = Cells(10, 20, 2, 3, np.ones((4, 5), dtype=bool))
    assert extent([cells, Line(5, 25, 40, 22)]) == (5, 20, 40, 32)
    left, top, right, bottom = extent([text("sett")])
    assert left == 20
    assert right == 20 + text("sett").width
    assert top < 50 < bottom
    assert extent([]) is None


@contextmanager
def svg_of(*marks):
    yield ET.fromstring(svg_text(Page(210, 297, marks, "Page"), title="Card"))  # noqa: S314


def test_an_svg_says_what_its_parts_are():
    """WAI-ARIA 1.2, 5.4; what is hidden is passed over, what is a picture has a title."""
    figure = Figure((Box(1, 1, 2, 2),), "The reed", "218 dents")
    marks = (part("heading", text("Bouts")), part("page foot", text("x")), tick(), figure)
    with svg_of(*marks) as root:
        assert root.get("role") == "graphics-document document"
        heading, foot, box, picture = root.findall(f"{SVG}g")
        assert (heading.get("role"), heading.get("aria-level")) == ("heading", "2")
        assert foot.get("aria-hidden") == "true"
        assert (box.get("role"), box.findtext(f"{SVG}title")) == ("img", "tick box")
        words = picture.findtext(f"{SVG}title"), picture.findtext(f"{SVG}desc")
        assert (picture.get("role"), *words) == ("img", "The reed", "218 dents")
        texts = [each.text for each in root.iter(f"{SVG}text")]
        assert texts == ["Bouts", "x"]


def test_text_marks_without_text_leave_nothing():
    assert section(Text(10, 10, "", 12, 0), text("one")) == [("P",)]
