"""The pages of a binder: tabs that the cut edge shows, and a front that says where all begins."""

import pytest

from cards.binder import BinderEntry, entry_of, indexes_of
from cards.project import work_out_on_all
from cards.spec import Finding, Place, parse_paper_size, read_spec
from layouts.binder_folio import Unbound
from layouts.binder_front import Front, settled_front
from layouts.binder_page import TAB_WIDTH, binder_frame, stamps, tab_marks
from layouts.drawing import Box, Text, flat
from layouts.numbering import numbered
from layouts.paper import PaperTooSmall
from tests.sheets.looks import faults, text_box
from tests.worked_specs import SPECS

PAPERS = ["A4", "Letter", "A5", "5 x 8 in", "Legal", "A3"]


def entry(number, title="", **more):
    words = {
        "title": title or f"Project {number}",
        "maker": "Fernhollow Weaving Room",
        "date": f"20{number % 30:02}-{number % 12 + 1:02}-02",
        "about": f"FW-{number:03} · version 2",
        "fingerprint": "3f9a-1c07",
        "units": "metric",
        "structures": ("plain weave",) if number % 2 else ("2/2 twill", "tube"),
        "yarns": (f"cotton, shade {number % 5}",),
        "looms": ("table loom, 4 shafts",),
    }
    return BinderEntry(**{**words, **more})


def front(number=3, unbound=()):
    return Front("Winter", "1234-5678", tuple(map(entry, range(number))), unbound)


LONG = "A very long title of a project that nobody would print on any card, and yet it is here " * 2
MISSING = Unbound(
    "class/broken mat.yaml",
    tuple(
        Finding(
            "error", "x", "there is no yarn 'slat' 漢", "did you mean 'slate'?", Place("x", n, 1)
        )
        for n in range(1, 60)
    ),
)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("number", [1, 11, 140])
def test_nothing_overlaps_in_front_of_the_projects(paper, number):
    frame = binder_frame(parse_paper_size(paper))
    made = front(number, (MISSING, Unbound("x.yaml", (), "the paper is too small")))
    made = Front(made.title, made.fingerprint, (*made.entries[1:], entry(0, LONG)), made.unbound)
    for drawing in numbered(settled_front(made, frame, [2] * number), frame, 1, LONG[:40]):
        for page in drawing.pages:
            beyond = [each for each in faults(page, frame) if "outside the margins" not in each]
            assert beyond == []


@pytest.mark.parametrize("paper", PAPERS)
def test_what_flows_in_front_stays_within_the_margins(paper):
    frame = binder_frame(parse_paper_size(paper))
    for drawing in settled_front(front(30, (MISSING,)), frame, [1] * 30):
        for page in drawing.pages:
            assert faults(page, frame) == []


@pytest.mark.parametrize("paper", PAPERS)
def test_a_tab_reaches_to_the_edge_and_stays_clear_of_what_is_bound(paper):
    """A printer leaves about 4 mm of the edge white (common practice, no source)."""
    frame = binder_frame(parse_paper_size(paper))
    tops = set()
    for place in range(8):
        box, number = flat(tab_marks(frame, place))
        assert isinstance(box, Box)
        assert box.x + box.width == pytest.approx(frame.width)
        assert box.x == pytest.approx(frame.width - TAB_WIDTH)
        x, _, width, _ = frame.content
        assert box.x > x + width
        assert frame.binding == "left"
        assert isinstance(number, Text)
        left, top, right, bottom = text_box(number)
        assert right <= frame.width - 5.0
        assert left >= box.x + 0.5
        assert box.y < top < bottom < box.y + box.height
        assert number.text == str(place + 1)
        assert box.y > 0
        assert box.y + box.height < frame.height
        tops.add(box.y)
    assert len(tops) == 8


def test_tabs_of_three_figures_fit_and_places_begin_again_at_the_top():
    frame = binder_frame(parse_paper_size("A4"))
    tops = [next(iter(flat(tab_marks(frame, place)))).y for place in range(200)]
    places = tops.index(tops[0], 1)
    assert places == len(set(tops))
    box, number = flat(tab_marks(frame, 199))
    assert number.text == "200"
    assert box.x < text_box(number)[0]
    assert text_box(number)[2] <= frame.width - 4.0


def test_paper_on_which_nothing_could_be_bound_is_refused():
    with pytest.raises(PaperTooSmall, match="bound, the paper leaves"):
        binder_frame(parse_paper_size("100 x 180 mm"))


def test_stamps_name_the_project_of_every_page():
    frame = binder_frame(parse_paper_size("A4"))
    drawing = stamps(frame, [0, 0, 4])
    numbers = [[t.text for t in flat(page.marks) if isinstance(t, Text)] for page in drawing.pages]
    assert numbers == [["1"], ["1"], ["5"]]


def test_every_number_in_front_is_a_page_on_which_a_project_begins():
    frame = binder_frame(parse_paper_size("A4"))
    pages = [3, 1, 20] * 30
    drawings = settled_front(front(90), frame, pages)
    before = sum(len(drawing.pages) for drawing in drawings)
    begin = [str(before + 1 + sum(pages[:place])) for place in range(90)]
    contents, index = drawings[1], drawings[-1]

    def right(drawing):
        x, _, width, _ = frame.content
        ends = [t for page in drawing.pages for t in flat(page.marks) if isinstance(t, Text)]
        return [
            t.text for t in ends if t.anchor == "end" and t.text.isdigit() and t.x > x + width - 0.1
        ]

    assert right(contents) == begin
    assert set(right(index)) == set(begin)
    assert len(right(index)) == 30 * 3 * 4 + 45


def test_the_indexes_are_of_structure_yarn_loom_and_date():
    entries = [
        entry(
            0, structures=("twill",), yarns=("wool", "Alpaca"), looms=("jack",), date="2026-03-02"
        ),
        entry(1, structures=("tube", "plain"), yarns=("wool",), looms=("dobby",), date=""),
        entry(2, structures=("plain",), yarns=("linen",), looms=("jack",), date="2026-03-30"),
        entry(3, structures=("plain",), yarns=("linen",), looms=("jack",), date="2025-12-01"),
    ]
    structure, yarn, loom, date = indexes_of(entries)
    assert structure.terms == (("plain", (1, 2, 3)), ("tube", (1,)), ("twill", (0,)))
    assert yarn.terms == (("Alpaca", (0,)), ("linen", (2, 3)), ("wool", (0, 1)))
    assert loom.terms == (("dobby", (1,)), ("jack", (0, 2, 3)))
    assert date.terms == (
        ("March 2026", (2, 0)),
        ("December 2025", (3,)),
        ("without a date", (1,)),
    )


# What each worked spec is, as its own summary says.
STRUCTURES = {
    "kitchen-towels": ("plain weave",),
    "throw-three-ways": ("2/2 twill",),
    "double-width-throw": ("double width", "plain weave in layers"),
    "triple-width-banner": ("triple width", "plain weave in layers"),
    "cushion-cover": ("tube", "plain weave in layers"),
    "two-runners": ("two layers, separate cloths", "plain weave in layers"),
    "two-layer-sampler": ("two layers, separate cloths", "plain weave in layers"),
    "class-mat": ("double width", "plain weave in layers"),
    "four-towels": ("2/2 twill", "2/2 twill, turned"),
    "twill-scarf": ("2/2 twill, turned",),
}


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_structures_are_those_that_the_summary_of_a_spec_names(path):
    outcome = work_out_on_all(read_spec(path))
    made = entry_of(outcome.project, outcome.others)
    if path.stem in STRUCTURES:
        assert made.structures == STRUCTURES[path.stem]
    assert len(made.looms) == len({each.loom.name for each in (outcome.project, *outcome.others)})
    assert made.fingerprint == outcome.project.source.fingerprint
    assert all(made.yarns)
