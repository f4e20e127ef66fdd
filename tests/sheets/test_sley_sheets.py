"""The sley card and the table of setts on paper: sound pages, and the figures of the card."""

import re
from io import BytesIO
from pathlib import Path

import pypdf
import pytest

from cards.calculation.sley import pattern_text
from cards.plan_json import plan_data
from cards.project import work_out
from cards.sett_table import sett_table
from cards.sley_card import sley_card
from cards.spec import read_spec
from layouts.drawing import Box, Disc, unparted
from layouts.drawing import Path as Shape
from layouts.folio import frame_of, pdf_file
from layouts.sheet_list import SHEETS, folio_of, sheets_of
from tests.commands import TOWELS, run
from tests.project.layered_specs import in_inches
from tests.project.worked import outcome_of
from tests.sheets.looks import faults, flat, text_box
from tests.worked_specs import SPECS

PAPERS = ["A4", "Letter", "A5", "5 x 8 in", "114 x 131 mm"]
SHEETS_HERE = ["sley-card", "sett-table"]
LONG = "hand-dyed singles from the second flock, walnut over madder, lot nine"
LOOM = {"action": "rising", "shafts": "8", "treadles": "10"}
TWO = {"threading": "(1 2) to fill", "tie_up": {"1": "1", "2": "2"}, "treadling": "1 2"}
FOLD = {"double_weave": {"layers": "2", "join": "left", "warps": "natural", "wefts": "natural"}}
WIDE = {"width": "40 in", "length": "40 in"}
REEDS = ["8 per in", "10 per in", "12 per in", "15 per in"]
CASES = {
    "30 ends": {"loom": LOOM | {"reed": "10 per in"}, "sett": "10 per in", "draft": TWO,
                "given": {"ends": "30"}},
    "an end": {"loom": LOOM | {"reed": "10 per in"}, "sett": "15 per in", "given": {"ends": "2"},
               "draft": TWO},
    "first end left": {
        "loom": LOOM | {"reed": "12 per in"}, "sett": "15 per in", "given": {"ends": "30"},
        "draft": TWO, "conventions": {"first_end": "left"}, "sley": {"doubled": "4"},
        "selvedges": {"floating": "yes"},
    },
    "1200 ends": {
        "units": "metric", "sett": "13 per cm", "given": {"ends": "1200"},
        "loom": LOOM | {"reeds": ["40 per 10 cm", "50 per 10 cm", "60 per 10 cm", "12 per in"],
                        "width": "120 cm", "name": LONG},
        "project": {"title": LONG, "code": "FERNHOLLOW-2026-0417-B", "maker": LONG},
        "sley": {"doubled": "4"}, "selvedges": {"floating": "yes"},
    },
    "long pattern": {"loom": LOOM | {"reed": "10 per in"}, "sett": "15.7 per in"},
    "own pattern": {"loom": LOOM | {"reed": "10 per in"}, "sett": "15 per in",
                    "sley": {"pattern": " ".join(["1", "2"] * 19 + ["2", "2"])}},
    "crowded": {"loom": LOOM | {"reed": "5 per in"}, "sett": "60 per in"},
    "sparse": {"loom": LOOM | {"reed": "10 per in"}, "sett": "5 per in", "sley": {"doubled": "4"}},
    "many reeds": {"loom": LOOM | {"reeds": [f"{n} per in" for n in range(4, 30)]}},
    "fold": {"loom": LOOM | {"reeds": REEDS, "width": "40 in"}, "sett": "12 per in", "draft": FOLD,
             "cloth": WIDE, "sley": {"fold_line": "yes", "doubled": "4"}},
    "skipped": {"loom": LOOM | {"reed": "24 per in"}, "sett": "12 per in", "draft": FOLD,
                "cloth": WIDE, "sley": {"fold_line": "yes"},
                "conventions": {"first_end": "left"}},
}  # fmt: skip


@pytest.fixture(scope="module", params=CASES, ids=lambda name: name)
def project(request):
    return outcome_of(**CASES[request.param]).project


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("sheet", SHEETS_HERE)
def test_pages_are_good_to_look_at(project, sheet, paper):
    frame = frame_of(project, paper)
    for page in SHEETS[sheet](project, frame).pages:
        assert faults(page, frame) == []


def words_of(project, sheet, paper="A4"):
    drawing = SHEETS[sheet](project, frame_of(project, paper))
    reader = pypdf.PdfReader(BytesIO(pdf_file(project, [drawing], "x").data))
    return " ".join(" ".join(page.extract_text().split()) for page in reader.pages)


@pytest.mark.parametrize("paper", ["A4", "A5"])
def test_the_card_says_the_figures_of_the_plan(project, paper):
    text = words_of(project, "sley-card", paper)
    card = sley_card(project)
    first = card.first
    for figure in (
        f"{card.ends}",
        f"{card.dents} dent",
        pattern_text(card.pattern[:8]),
        f"middle: a {first.middle}",
    ):
        assert figure in text
    if card.dents > 1:
        found = re.search(r"[Cc]ount (\d+)(?: dents?)?(?: from it)? to the (left|right)", text)
        assert (int(found[1]), found[2]) == (first.count, card.first_end)
    for check in card.checks:
        assert f"{check.ends} end" in text
        assert f"in {check.dents} dent" in text


def test_the_running_counts_on_paper_are_ends_in_dents(project):
    """Read the boxes back: so many ends, so many dents, each pair as the dents hold them."""
    text = words_of(project, "sley-card", "A5")
    per_dent = sley_card(project).per_dent
    pairs = re.findall(r"(\d+) ends? (\d+) dents?\b", text.split("and tick", 1)[1])
    assert pairs
    for ends, dents in pairs:
        assert sum(per_dent[: int(dents)]) == int(ends)


def discs_in(project):
    """Return the ends drawn in the picture: the marks over each figure under a dent."""
    (page, *_) = SHEETS["sley-card"](project, frame_of(project, "A4")).pages
    (figure,) = [
        mark for mark in unparted(page.marks) if getattr(mark, "title", "").startswith("The reed")
    ]
    marks = list(flat(figure.marks))
    counts = [mark for mark in marks if getattr(mark, "text", "x").isdigit()]
    discs = [mark for mark in marks if isinstance(mark, Disc)]
    return [
        (mark.x, int(mark.text), sum(1 for disc in discs if abs(disc.x - mark.x) < 0.1))
        for mark in counts
    ]


def test_the_picture_shows_the_ends_of_each_dent():
    project = outcome_of(**CASES["first end left"]).project
    seen = discs_in(project)
    assert all(count == drawn for _, count, drawn in seen)
    # First end left: the first dent is the leftmost.
    assert [count for _, count, _ in sorted(seen)] == list(sley_card(project).per_dent)


def test_the_picture_is_mirrored_where_the_first_end_is_at_the_right():
    case = CASES["first end left"] | {"conventions": {"first_end": "right"}}
    project = outcome_of(**case).project
    seen = [count for _, count, _ in sorted(discs_in(project))]
    assert seen == list(sley_card(project).per_dent)[::-1]


def test_layers_are_told_by_shape_in_the_picture():
    project = outcome_of(**CASES["fold"]).project
    (page, *_) = SHEETS["sley-card"](project, frame_of(project, "A4")).pages
    (figure,) = [
        mark for mark in unparted(page.marks) if getattr(mark, "title", "").startswith("The reed")
    ]
    discs = [mark for mark in flat(figure.marks) if isinstance(mark, Disc)]
    # A is a filled disc, B a ring.
    assert {mark.fill for mark in discs} == {"#111111", "#ffffff"}


def test_a_floating_selvedge_is_a_cross_beyond_the_outermost_dents():
    project = outcome_of(**CASES["first end left"]).project
    (page, *_) = SHEETS["sley-card"](project, frame_of(project, "A4")).pages
    (figure,) = [
        mark for mark in unparted(page.marks) if getattr(mark, "title", "").startswith("The reed")
    ]
    crosses = [
        (mark.steps[0][1] + mark.steps[1][1]) / 2
        for mark in flat(figure.marks)
        if isinstance(mark, Shape) and mark.fill is None
    ]
    seen = sorted(x for x, _, _ in discs_in(project))
    pitch = seen[1] - seen[0]
    assert sorted(crosses) == pytest.approx([seen[0] - pitch, seen[-1] + pitch])


def test_the_table_says_every_sett(project):
    card = sett_table(project)
    text = words_of(project, "sett-table")
    inch = project.units == "imperial"
    for row in card.rows:
        for sett in row.setts:
            figure = float(sett) * (25.4 if inch else 10)
            assert f"{figure:.2f}".rstrip("0").rstrip(".") in text


def test_the_nearest_setts_are_framed():
    project = outcome_of(**CASES["fold"]).project
    card = sett_table(project)
    pages = SHEETS["sett-table"](project, frame_of(project, "A4")).pages
    marks = [mark for page in pages for mark in flat(page.marks)]
    frames = [mark for mark in marks if isinstance(mark, Box) and mark.line_width == 0.6]
    assert len(frames) == sum(len(rows) for rows in card.nearest)
    texts = [mark for mark in marks if getattr(mark, "weight", "") == "bold"]
    for frame in frames:
        inside = {
            text.text for text in texts
            if frame.x < text_box(text)[0] and text_box(text)[2] < frame.x + frame.width
            and frame.y < text.y < frame.y + frame.height
        }  # fmt: skip
        # 24 ends an inch in every reed, 12 of each layer.
        assert inside == {"24", "12"}


def test_the_table_is_in_the_folio_of_who_has_reeds():
    names = list(folio_of(outcome_of(**CASES["fold"]).project))
    assert names.index("threading-chart") + 1 == names.index("sley-card")
    assert names.index("sley-card") + 1 == names.index("tie-up-card")
    assert names[-2:] == ["sett-table", "record"]
    bare = outcome_of(**CASES["sparse"]).project
    assert "sett-table" not in folio_of(bare)
    assert "sett-table" in sheets_of(bare)
    without = in_inches({"join": "left"}, loom=LOOM)
    assert not {"sett-table", "sley-card"} & set(sheets_of(without))


def test_the_table_is_printed_on_request(tmp_path):
    result = run("print", TOWELS, "-o", tmp_path, "--sheet", "sett-table", "--format", "pdf")
    assert [Path(line).name for line in result.stdout.split()] == ["kitchen-towels.sett-table.pdf"]


def test_a_loom_without_a_reed_has_no_sley_card(tmp_path):
    spec = tmp_path / "no-reed.yaml"
    text = TOWELS.read_text("utf-8")
    spec.write_text(text.replace("reed: 40 per 10 cm, ", ""), "utf-8")
    result = run("print", spec, "-o", tmp_path, "--sheet", "sley-card")
    assert result.exit_code == 2
    assert "whose loom has no reed" in " ".join(result.stderr.split())


def test_the_worked_specs_say_the_same_on_card_and_in_the_plan():
    for path in SPECS:
        outcome = work_out(read_spec(path))
        sley = plan_data(outcome, drawdown=False)["sley"]
        text = words_of(outcome.project, "sley-card")
        assert f"{sley['dents']} dents" in text
        assert f"ount {sley['first_dent']['count']} " in text
