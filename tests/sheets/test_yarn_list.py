"""The pages of the yarn list, on every paper, with one yarn and with many."""

import pytest

from layouts.folio import frame_of
from layouts.sheet_list import SHEETS
from tests.project.worked import project_of
from tests.sheets.looks import faults, flat

PAPERS = ["A4", "Letter", "A5", "5 x 8 in"]
LONG = "hand-dyed singles from the second flock, walnut over madder, lot nine"

MANY = {
    "a": {"name": LONG, "size": "Nm 12/2", "put_up": "100 g", "price": "EUR 9.80", "on_hand": "30 g",
          "lot": "4711"},
    "b": {"fibre": "cotton", "size": "Ne 8/2", "put_up": "8 oz", "price": "USD 9.80"},
    "c": {"fibre": "cotton", "size": "Ne 8/2", "put_up": "560 yd", "price": "USD 9", "on_hand": "400 yd"},
    "d": {"size": "Ne 8/2"},
    "e": {"size": "Ne 8/2", "put_up": "250 g"},
    "f": {"size": "Ne 20/2", "on_hand": "4 g"},
    "g": {"fibre": "linen", "size": "lea 16/2", "put_up": "8 oz", "price": "EUR 24"},
    "h": {"fibre": "silk", "size": "Nm 60/2", "put_up": "50 g", "price": "EUR 1240.00", "on_hand": "1 kg"},
}  # fmt: skip
MANY_YARNS = {
    "yarns": MANY,
    "warp_order": "(a, b, c, d) to fill",
    "weft_order": "e, f, g, h",
    "costs": {"hour": "EUR 12.50", "budget": "EUR 500"},
}
ONE_YARN = {"yarns": {"natural": {"name": LONG, "size": "Ne 8/2"}}}


def printed(project, paper):
    frame = frame_of(project, paper)
    return SHEETS["yarn-list"](project, frame), frame


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("spec", [ONE_YARN, MANY_YARNS], ids=["one", "many"])
def test_nothing_overlaps_and_nothing_is_small(spec, paper):
    drawing, frame = printed(project_of(**spec), paper)
    for page in drawing.pages:
        assert faults(page, frame) == []


@pytest.mark.parametrize("paper", PAPERS)
def test_few_yarns_take_one_page(paper):
    assert len(printed(project_of(**ONE_YARN), paper)[0].pages) == 1


def test_many_yarns_take_no_more_pages_than_they_must():
    project = project_of(**MANY_YARNS)
    assert len(printed(project, "A4")[0].pages) == 2
    assert len(printed(project, "A5")[0].pages) <= 5


def test_a_box_to_tick_for_every_yarn_that_is_bought():
    project = project_of(**MANY_YARNS)
    drawing, _ = printed(project, "Letter")
    boxes = [
        mark
        for page in drawing.pages
        for mark in flat(page.marks)
        if getattr(mark, "height", None) == getattr(mark, "width", None) == 5.0
    ]
    assert len(boxes) == sum(1 for total in project.totals if total.need.buy)
