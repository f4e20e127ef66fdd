"""Pages on printed sheets: cut, folded or turned over as hands do it, and then read."""

from io import BytesIO
from itertools import pairwise

import pypdfium2
import pytest
from pypdf import PdfReader

from cards.needs import Needs
from cards.project import work_out
from cards.spec import parse_paper_size, read_spec
from cards.spec.paper_models import Paper
from layouts.drawing import Disc, Drawing, Line, Page
from layouts.drawn import drawn_sheets
from layouts.folio import frame_of as frame_for_project
from layouts.imposition import Imposition, duplex, how_to_print, impose, imposition_of, page_frame
from layouts.paper import hole_marks
from layouts.pdf import pdf_bytes
from layouts.transform import enlarged_drawing
from layouts.typeface import label
from tests.commands import TOWELS
from tests.layouts.decode_pdf import MM, decode
from tests.sheets.looks import flat

BOOKLET = Imposition("booklet")
HALF = Imposition("half sheets")


def paper(**keys):
    return Paper.model_validate({"size": "A4", **keys})


def frame_of(how, size="A4", **keys):
    return page_frame(parse_paper_size(size), paper(**keys), how)


def card(name, pages, frame):
    """Return a card whose pages bear its name and their number in the middle."""
    made = []
    for number in range(1, pages + 1):
        words = label(frame.width / 2, frame.height / 2, f"{name}{number}", 20, "bold", "middle")
        marks = (*hole_marks(frame), words)
        made.append(Page(frame.width, frame.height, marks, f"{name}, page {number}"))
    return Drawing(name, name.lower(), tuple(made))


def sides_of(drawings, frame, how):
    """Return what stands on both halves of every printed side, as another library reads it."""
    data = pdf_bytes(impose(drawings, frame, how), title="x", duplex=duplex(frame, how))
    sides = []
    for page in pypdfium2.PdfDocument(data):
        width, height = page.get_size()
        text = page.get_textpage()
        if how.stacked:
            halves = [(0, height / 2, width, height), (0, 0, width, height / 2)]
        else:
            halves = [(0, 0, width / 2, height), (width / 2, 0, width, height)]
        sides.append(tuple(text.get_text_bounded(*half).strip() for half in halves))
    return sides


def folded(sides):
    """Fold a pile of sheets in the middle and return what is read, leaf by leaf.

    The sheets lie on the table with their fronts down, the first printed at the bottom, so that
    their backs are seen. A back is printed after the paper is turned about its short, upright
    edges: what was at the left is then at the right.
    """
    leaves = []
    sheets = list(zip(sides[::2], sides[1::2], strict=True))
    for height, ((front_left, front_right), (back_left, back_right)) in enumerate(sheets):
        # The half that stays lies with its back up, at the right.
        leaves.append((height, (back_right, front_left)))
        # The other half comes over onto it: what was below is above, the lowest sheet on top.
        leaves.append((2 * len(sheets) - 1 - height, (front_right, back_left)))
    return [face for _, faces in sorted(leaves, reverse=True) for face in faces]


@pytest.mark.parametrize("pages", range(1, 22))
def test_a_folded_booklet_reads_page_after_page(pages):
    frame = frame_of(BOOKLET)
    sides = sides_of([card("p", pages, frame)], frame, BOOKLET)
    read = folded(sides)
    assert read == [f"p{number}" for number in range(1, pages + 1)] + [""] * (-pages % 4)


@pytest.mark.parametrize(("pages", "signature"), [(17, 8), (32, 16), (33, 16), (40, 12), (8, 16)])
def test_signatures_are_folded_one_by_one_and_laid_on_each_other(pages, signature):
    how = Imposition("booklet", signature=signature)
    frame = frame_of(how)
    sides = sides_of([card("p", pages, frame)], frame, how)
    read = []
    for start in range(0, len(sides), signature // 2):
        read += folded(sides[start : start + signature // 2])
    assert read == [f"p{number}" for number in range(1, pages + 1)] + [""] * (-pages % 4)


def test_a_booklet_says_how_it_is_printed():
    frame = frame_of(BOOKLET, binding="left", holes="iso-838")
    data = pdf_bytes(
        impose([card("p", 9, frame)], frame, BOOKLET), title="x", duplex=duplex(frame, BOOKLET)
    )
    reader = PdfReader(BytesIO(data), strict=True)
    # ISO 32000-1, table 150 (from memory): the name for paper turned about its short edge.
    assert reader.trailer["/Root"]["/ViewerPreferences"]["/Duplex"] == "/DuplexFlipShortEdge"
    assert {
        tuple(round(float(side) * MM, 3) for side in page.mediabox[2:]) for page in reader.pages
    } == {(297, 210)}
    assert reader.page_labels[:3] == ["Sheet 1, front", "Sheet 1, back", "Sheet 2, front"]
    assert "flip on the short edge" in how_to_print(frame, BOOKLET)
    assert (frame.binding, frame.left, frame.right) == ("none", 10, 10)


def test_the_outline_of_a_booklet_is_in_the_order_of_reading():
    frame = frame_of(BOOKLET)
    cards = [card("Warping", 2, frame), card("Sley", 1, frame), card("Tally", 3, frame)]
    sides = impose(cards, frame, BOOKLET)
    reader = PdfReader(BytesIO(pdf_bytes(sides, title="x")), strict=True)
    found = []
    for entry in reader.outline:
        for each in entry if isinstance(entry, list) else [entry]:
            text = reader.pages[reader.get_destination_page_number(each)].extract_text()
            name, _, number = each.title.partition(", page ")
            assert f"{name}{number or 1}" in text
            found.append(each.title)
    assert found == [
        "Warping", "Warping, page 1", "Warping, page 2", "Sley",
        "Tally", "Tally, page 1", "Tally, page 2", "Tally, page 3",
    ]  # fmt: skip


def test_half_sheets_keep_the_order_and_are_found_by_label_and_outline():
    frame = frame_of(HALF)
    cards = [card("Warping", 3, frame), card("Sley", 1, frame), card("Tally", 1, frame)]
    assert sides_of(cards, frame, HALF) == [
        ("Warping1", "Warping2"),
        ("Warping3", "Sley1"),
        ("Tally1", ""),
    ]
    data = pdf_bytes(impose(cards, frame, HALF), title="x")
    reader = PdfReader(BytesIO(data), strict=True)
    assert reader.page_labels == ["Warping 1 + Warping 2", "Warping 3 + Sley", "Tally"]
    top = [each for each in reader.outline if not isinstance(each, list)]
    pages = {each.title: reader.get_destination_page_number(each) for each in top}
    assert pages == {"Warping": 0, "Sley": 1, "Tally": 2}
    assert "/Duplex" not in reader.trailer["/Root"]["/ViewerPreferences"]


@pytest.mark.parametrize(
    ("size", "orientation", "page", "sheet"),
    [
        ("A4", "portrait", (148.5, 210), (297, 210)),
        ("A4", "landscape", (210, 148.5), (210, 297)),
        ("Letter", "portrait", (139.7, 215.9), (279.4, 215.9)),
        ("Legal", "portrait", (177.8, 215.9), (355.6, 215.9)),
    ],
)
def test_two_halves_are_the_sheet_and_the_cut_runs_down_its_middle(size, orientation, page, sheet):
    how = imposition_of(paper(orientation=orientation, half_sheet="yes"))
    frame = frame_of(how, size)
    assert (frame.width, frame.height) == pytest.approx(page)
    (drawing,) = impose([card("a", 2, frame)], frame, how)
    side = drawing.pages[0]
    assert (side.width, side.height) == pytest.approx(sheet)
    (marks,) = decode(pdf_bytes([drawing], title="x"))
    cut = [mark for mark in flat(marks) if isinstance(mark, Line)]
    along = min(sheet[0], sheet[1])
    middle = max(sheet) / 2
    ends = []
    for line in cut:
        across = (line.y1, line.y2) if orientation == "landscape" else (line.x1, line.x2)
        assert across == pytest.approx((middle, middle), abs=1e-3)
        length = (line.x1, line.x2) if orientation == "landscape" else (line.y1, line.y2)
        ends.append(tuple(sorted(length)))
    ends.sort()
    assert ends[0][0] == pytest.approx(0, abs=1e-3)
    assert ends[-1][1] == pytest.approx(along, abs=1e-3)
    assert all(one[1] == pytest.approx(two[0]) for one, two in pairwise(ends))
    assert [
        bool(line.dash)
        for line in sorted(cut, key=lambda line: min(line.y1, line.y2) + min(line.x1, line.x2))
    ] == [False, True, False]


def test_nothing_but_the_cut_comes_near_the_edge_of_a_half_sheet():
    """10 mm is more than printers leave free at an edge (common practice, no source)."""
    frame = frame_of(HALF)
    x, y, width, height = frame.content
    assert min(x, y, frame.width - x - width, frame.height - y - height) >= 10


def discs(page):
    return [mark for mark in flat(page) if isinstance(mark, Disc)]


@pytest.mark.parametrize("magnify", [1.0, 2.0])
@pytest.mark.parametrize("binding", ["left", "right", "top"])
@pytest.mark.parametrize("size", ["A4", "Letter", "A5"])
def test_holes_meet_when_a_leaf_is_held_against_the_light(size, binding, magnify):
    """ISO 838 (from memory): 6 mm holes, 80 mm apart, 12 mm from the edge, about its middle."""
    how = Imposition(double=True)
    frame = frame_of(how, size, binding=binding, holes="iso-838")
    drawing = card("a", 4, frame)
    if magnify != 1.0:
        drawing = enlarged_drawing(enlarged_drawing(drawing, 1 / magnify), magnify)
    sides = impose([drawing], frame, how)
    pages = decode(pdf_bytes(sides, title="x"))
    for front, back in ((pages[0], pages[1]), (pages[2], pages[3])):
        holes = [(hole.x, hole.y) for hole in discs(front)]
        assert len(holes) == 2
        edges = {
            "left": lambda x, y: x,
            "right": lambda x, y: frame.width - x,
            "top": lambda x, y: y,
        }
        assert [edges[binding](*hole) for hole in holes] == pytest.approx([12, 12], abs=1e-3)
        (x1, y1), (x2, y2) = holes
        assert abs(x1 - x2) + abs(y1 - y2) == pytest.approx(80, abs=1e-3)
        # Through the paper left is right; a leaf bound at the top is turned up, and down is up.
        turned = [
            (hole.x, frame.height - hole.y) if binding == "top" else (frame.width - hole.x, hole.y)
            for hole in discs(back)
        ]
        for hole in holes:
            assert any(hole == pytest.approx(other, abs=1e-3) for other in turned)
        ticks = [[m for m in flat(page) if isinstance(m, Line)] for page in (front, back)]
        assert [len(each) for each in ticks] == [1, 1]


def test_what_is_printed_keeps_clear_of_the_edge_that_is_bound_on_both_sides():
    how = Imposition(double=True)
    frame = frame_of(how, binding="left", holes="iso-838")
    (drawing,) = impose([card("a", 2, frame)], frame, how)
    front, back = (
        next(mark for mark in page.marks if getattr(mark, "text", "") == f"a{number}")
        for number, page in enumerate(drawing.pages, start=1)
    )
    # The middle of a page lies so much nearer the outer edge on the back as the margins differ.
    assert front.x == pytest.approx(105)
    assert back.x == pytest.approx(105 - 12)


def test_every_card_has_leaves_of_its_own_and_white_backs_say_nothing():
    how = Imposition(double=True)
    frame = frame_of(how, binding="left", holes="iso-838")
    cards = [card("Warping", 3, frame), card("Sley", 2, frame), card("Tally", 1, frame)]
    data = pdf_bytes(impose(cards, frame, how), title="x", duplex=duplex(frame, how))
    document = pypdfium2.PdfDocument(data)
    texts = [page.get_textpage().get_text_range() for page in document]
    assert texts == ["Warping1", "Warping2", "Warping3", "", "Sley1", "Sley2", "Tally1"]
    assert decode(data)[3] == []
    reader = PdfReader(BytesIO(data), strict=True)
    assert reader.trailer["/Root"]["/ViewerPreferences"]["/Duplex"] == "/DuplexFlipLongEdge"
    top = [each for each in reader.outline if not isinstance(each, list)]
    pages = [reader.get_destination_page_number(each) for each in top]
    assert pages == [0, 4, 6]
    assert [page % 2 for page in pages] == [0, 0, 0]
    below = [each.title for part in reader.outline if isinstance(part, list) for each in part]
    assert below == [
        "Warping, page 1",
        "Warping, page 2",
        "Warping, page 3",
        "Sley, page 1",
        "Sley, page 2",
    ]


@pytest.mark.parametrize("binding", ["left", "right", "top", "none"])
@pytest.mark.parametrize("orientation", ["portrait", "landscape"])
def test_half_sheets_on_both_sides_have_the_back_of_a_leaf_behind_its_front(orientation, binding):
    """Turn the sheet as the printer is asked to, cut it, and look at both sides of each half."""
    keys = {"orientation": orientation, "binding": binding, "half_sheet": "yes", "sides": "double"}
    how = imposition_of(paper(**keys))
    frame = frame_of(how, **keys)
    cards = [card("w", 3, frame), card("s", 2, frame), card("t", 1, frame)]
    sides = sides_of(cards, frame, how)
    wide, high = (frame.width, 2 * frame.height) if how.stacked else (2 * frame.width, frame.height)
    long_edge_upright = high > wide
    upright_axis = (duplex(frame, how) == "DuplexFlipLongEdge") == long_edge_upright
    assert upright_axis == (binding != "top")
    leaves = []
    for place in range(0, len(sides), 2):
        front = sides[place]
        back = sides[place + 1] if place + 1 < len(sides) else ("", "")
        swaps = upright_axis != how.stacked
        behind = back[::-1] if swaps else back
        leaves += zip(front, behind, strict=True)
    assert leaves == [("w1", "w2"), ("w3", ""), ("s1", "s2"), ("t1", "")]


def test_pages_of_another_size_are_no_half_sheets():
    frame = frame_of(HALF)
    other = frame_of(Imposition())
    with pytest.raises(ValueError, match="a, page 1 is not of the size"):
        impose([card("a", 1, other)], frame, HALF)


@pytest.mark.parametrize(
    ("keys", "asked", "way"),
    [
        ({}, {}, "pages"),
        ({"half_sheet": "yes"}, {}, "half sheets"),
        ({"booklet": "yes"}, {}, "booklet"),
        ({"half_sheet": "yes"}, {"booklet": True}, "booklet"),
        ({"booklet": "yes"}, {"half_sheet": True}, "half sheets"),
    ],
)
def test_what_is_asked_for_goes_before_what_the_spec_says(keys, asked, way):
    assert imposition_of(paper(**keys), **asked).way == way


def test_pages_as_they_are_stay_as_they_are():
    frame = frame_of(Imposition())
    drawings = [card("a", 3, frame)]
    assert impose(drawings, frame, Imposition()) == drawings
    assert duplex(frame, Imposition()) == how_to_print(frame, Imposition()) == ""


@pytest.mark.parametrize(
    "needs",
    [Needs(), Needs(grey=True), Needs(large_print=True), Needs(left_handed=True, grey=True)],
)
def test_the_holes_of_a_real_card_meet_through_the_paper(needs):
    """The same for a card as it is drawn, whoever it is drawn for."""
    towels = work_out(read_spec(TOWELS)).project
    how = imposition_of(towels.paper, double=True)
    frame = frame_for_project(towels, "A4", needs, how)
    sides = impose(drawn_sheets(towels, frame, ["pick-tally"]), frame, how)
    front, back, *_ = decode(pdf_bytes(sides, title="x"))
    holes, behind = (
        [(each.x, each.y) for each in discs(page) if each.radius == pytest.approx(3, abs=1e-4)]
        for page in (front, back)
    )
    assert len(holes) == len(behind) == 2
    for x, y in holes:
        assert min(x, 210 - x) == pytest.approx(12, abs=1e-3)
        assert any((210 - x, y) == pytest.approx(other, abs=1e-3) for other in behind)


def test_pages_that_run_on_have_no_white_backs_and_change_sides_throughout():
    how = Imposition(double=True, run_on=True)
    frame = frame_of(how, binding="left", holes="iso-838")
    cards = [card("a", 3, frame), card("b", 2, frame), card("c", 1, frame)]
    sides = impose(cards, frame, how)
    pages = decode(pdf_bytes(sides, title="x"))
    assert len(pages) == 6
    edges = [min(hole.x for hole in discs(page)) for page in pages]
    assert edges == pytest.approx([12, 198] * 3, abs=1e-3)
    half = Imposition("half sheets", double=True, run_on=True)
    frame = frame_of(half)
    cards = [card("a", 3, frame), card("b", 2, frame)]
    assert sides_of(cards, frame, half) == [("a1", "a3"), ("b1", "a2"), ("b2", ""), ]  # fmt: skip
