"""The heddle count: its figures against the plan and the threading, and its pages to look at."""

import re
from io import BytesIO

import pypdf
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cards.heddle_count import heddle_count
from cards.plan_json import plan_data
from cards.plan_table import plan_table
from cards.project import work_out
from cards.spec import read_spec
from layouts.drawing import Box, Text
from layouts.folio import frame_of, pdf_file
from layouts.paper import PaperTooSmall
from layouts.sheet_list import HEDDLE_COUNT, SHEETS, folio_of, sheets_of
from tests.commands import TOWELS, run
from tests.project.worked import outcome_of, spec_text
from tests.sheets.looks import faults, flat
from tests.worked_specs import SPECS

PAPERS = ["A4", "Letter", "A5", "5 x 8 in"]


def straight(shafts):
    return " ".join(map(str, range(1, shafts + 1)))


def loom_of(shafts, heddles=None, **more):
    loom = {"action": "table", "shafts": str(shafts)} | more
    return loom if heddles is None else loom | {"heddles": " ".join(map(str, heddles))}


def drafted(shafts, ends, heddles=None, odd="", **more):
    """A warp of so many ends straight on some shafts, with a few odd ones behind."""
    lifts = "; ".join(f"{shaft} {shaft % shafts + 1}" for shaft in range(1, shafts + 1))
    lifts = lifts if shafts > 2 else "1; 2"
    return outcome_of(
        loom=loom_of(shafts, heddles, **more.pop("loom", {})),
        cloth={"width": f"{ends / 10:.1f} cm", "length": "60 cm"},
        sett="9 per cm",
        draft={"threading": f"({straight(shafts)}) to fill, {odd}", "lifts": lifts},
        **more,
    )


SMALL = {"width": "4 cm", "length": "20 cm"}


def pages_of(project, paper="A4"):
    return SHEETS[HEDDLE_COUNT](project, frame_of(project, paper)).pages


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_the_count_is_that_of_the_threading_and_of_the_plan(path):
    outcome = work_out(read_spec(path))
    plan = plan_data(outcome)
    threading, loom = plan["draft"]["threading"], plan["loom"]
    half = len(threading) // 2
    first, last = threading[:half], threading[-half:]
    left, right = (last, first) if plan["warp"]["first_end"] == "right" else (first, last)
    card = heddle_count(outcome.project)
    assert len(card.shafts) == len(loom["heddles"]) == loom["shafts"]
    for each in card.shafts:
        at = each.shaft - 1
        sides = loom["heddle_sides"][at]
        assert each.left == sides["left"] == left.count(each.shaft)
        assert each.right == sides["right"] == right.count(each.shaft)
        assert each.needed == loom["heddles"][at] == threading.count(each.shaft)
        assert each.there == (loom["heddles_there"] or [None] * loom["shafts"])[at]
        if each.edges is not None:
            assert loom["heddles_spare"][at] == {"left": each.edges[0], "right": each.edges[1]}


@pytest.mark.parametrize("paper", PAPERS)
def test_the_figures_on_paper_are_those_of_the_plan(paper):
    """The PDF is read back by another library, line by line."""
    outcome = drafted(8, 300, [40, 60, 30, 33, 40, 40, 40, 50], odd="1 2 3")
    project, loom = outcome.project, plan_data(outcome)["loom"]
    assert loom["heddle_moves"]
    drawing = SHEETS[HEDDLE_COUNT](project, frame_of(project, paper))
    reader = pypdf.PdfReader(BytesIO(pdf_file(project, [drawing], "x").data))
    text = " ".join(" ".join(page.extract_text().split()) for page in reader.pages)
    for move in loom["heddle_moves"]:
        assert f"{move['heddles']} from shaft {move['from']} to {move['to']}" in text
    for at in range(8):
        there, need = loom["heddles_there"][at], loom["heddles"][at]
        over = f"spare {there - need}" if there >= need else f"short {need - there}"
        given = sum(move["heddles"] for move in loom["heddle_moves"] if move["from"] == at + 1)
        over = f"gives {given}" if given else over
        sides, spare = loom["heddle_sides"][at], loom["heddles_spare"][at]
        middle = [1] if sides["middle"] else []
        bar = [spare["left"], sides["left"], *middle, sides["right"], spare["right"]]
        row = r"\s*".join(map(str, [at + 1, need, there, over, *bar]))
        short = r"\s*".join(map(str, [at + 1, f"needs {need}", f"has {there}", *bar]))
        assert re.search(f"{row}|{short}", text)
    table = plan_table(project)
    for move in loom["heddle_moves"]:
        assert f"{move['heddles']} from shaft {move['from']} to {move['to']}" in table


def test_heddles_to_add_stand_on_the_card_and_in_the_plan():
    outcome = drafted(4, 100, [10, 20, 30, 25])
    loom = plan_data(outcome)["loom"]
    text = [
        mark.text for mark in flat(pages_of(outcome.project)[0].marks) if isinstance(mark, Text)
    ]
    assert sum(loom["heddles_to_add"]) == sum(loom["heddles"]) - 85
    for shaft, added in enumerate(loom["heddles_to_add"], 1):
        if added:
            at = text.index(f"more on shaft {shaft}")
            assert text[at - 1] == str(added)
            assert f"{added} on shaft {shaft}" in plan_table(outcome.project)


@pytest.mark.parametrize("shaft_1", ["front", "back"])
def test_shafts_stand_as_they_hang(shaft_1):
    """From the back of the loom, at the top of the page, to the front (trade: shaft 1 varies)."""
    project = drafted(4, 60, loom={"shaft_1": shaft_1}).project
    order = [each.shaft for each in heddle_count(project).shafts]
    assert order == ([4, 3, 2, 1] if shaft_1 == "front" else [1, 2, 3, 4])
    marks = [mark for mark in flat(pages_of(project)[0].marks) if isinstance(mark, Text)]
    words = [mark.text for mark in sorted(marks, key=lambda mark: mark.y)]
    figures = [word for word in words if word in {"1", "2", "3", "4"}]
    assert figures == [str(shaft) for shaft in order]
    assert words.index("Back of the loom") < words.index("Front of the loom, where the weaver sits")


def test_counted_figures_are_large_and_every_shaft_has_a_box():
    project = drafted(4, 120, [40] * 4, odd="1").project
    marks = list(flat(pages_of(project)[0].marks))
    wanted = {
        str(n) for row in heddle_count(project).shafts for n in (row.left, row.right, *row.edges)
    }
    large = {mark.text for mark in marks if isinstance(mark, Text) and mark.size >= 18}
    assert wanted <= large
    boxes = [mark for mark in marks if isinstance(mark, Box) and mark.width == mark.height == 5.0]
    assert len(boxes) == 4


def test_a_folio_has_it_only_where_the_heddles_are_counted_and_anybody_may_ask(tmp_path):
    counted, unknown = drafted(4, 60, [30] * 4).project, drafted(4, 60).project
    assert HEDDLE_COUNT in folio_of(counted)
    assert HEDDLE_COUNT not in folio_of(unknown)
    assert HEDDLE_COUNT in sheets_of(unknown)
    spec = tmp_path / "plain.yaml"
    spec.write_text(spec_text())
    result = run("print", spec, "-o", tmp_path, "--sheet", HEDDLE_COUNT, "--format", "pdf")
    assert result.stdout.split() == [str(tmp_path / "plain.heddle-count.pdf")]
    result = run("print", spec, "-o", tmp_path, "--format", "svg")
    assert "heddle-count" not in result.stdout
    assert "warping-card" in result.stdout
    result = run("print", TOWELS, "-o", tmp_path, "--format", "svg")
    assert "kitchen-towels-heddle-count-1.svg" in result.stdout


def test_without_a_count_there_are_no_columns_of_what_is_there():
    words = [
        mark.text
        for mark in flat(pages_of(drafted(4, 61).project)[0].marks)
        if isinstance(mark, Text)
    ]
    assert {"needed", "left", "right"} <= set(words)
    assert not {"there", "spare", "to move", "to add"} & set(words)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.sampled_from([2, 4, 8, 24]), st.integers(30, 1200), st.data(), st.sampled_from(PAPERS))
def test_odd_looms_are_good_to_look_at(shafts, ends, data, paper):
    heddles = None
    if data.draw(st.booleans()):
        most = 2 * ends // shafts + 2
        heddles = data.draw(st.lists(st.integers(1, most), min_size=shafts, max_size=shafts))
    name = data.draw(
        st.sampled_from([None, "dobby loom by the northern window, upper weaving room"])
    )
    more = {"width": "2 m"} if data.draw(st.booleans()) else {}
    more |= {"name": name} if name else {}
    units = data.draw(st.sampled_from(["metric", "imperial"]))
    odd = data.draw(st.sampled_from(["", "1"]))
    project = drafted(shafts, ends, heddles, odd=odd, loom=more, units=units).project
    frame = frame_of(project, paper)
    pages = SHEETS[HEDDLE_COUNT](project, frame).pages
    for page in pages:
        assert faults(page, frame) == []
    # A page holds at least six shafts, or as many moves in two columns.
    assert len(pages) <= 1 + -(-2 * shafts // 6)


def test_heddles_by_the_thousand_need_wider_paper():
    project = drafted(2, 4400, [5000, 5000], paper={"binding": "left"}).project
    with pytest.raises(PaperTooSmall, match="the heddle count needs"):
        pages_of(project, "5 x 8 in")
    assert faults(pages_of(project)[0], frame_of(project, "A4")) == []


def test_shafts_without_ends_share_a_row_and_are_cleared():
    draft = {"threading": "(1 2 3 4) to fill", "lifts": "1 3; 2 4"}
    project = outcome_of(loom=loom_of(8, [60] * 8), cloth=SMALL, draft=draft).project
    (page,) = pages_of(project)
    said = [mark.text for mark in flat(page.marks) if isinstance(mark, Text)]
    assert "Shafts 5 to 8: no end. Push all heddles to the edges, out of the warp." in said


def test_a_draft_that_falls_apart_has_its_heddles_counted_all_the_same():
    # Two shafts that always rise: no weft goes over their ends, and each is a layer of its own.
    outcome = outcome_of(
        loom=loom_of(4, [60, 5, 5, 60]),
        cloth={"width": "20 cm", "length": "20 cm"},
        sett="5 per cm",
        draft={"threading": "(1 4 1 1 4 4) to fill", "lifts": "3 4"},
    )
    assert outcome.project.cloth.lanes > 8
    page = pages_of(outcome.project, "A5")[0]
    assert faults(page, frame_of(outcome.project, "A5")) == []
