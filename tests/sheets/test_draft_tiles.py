"""A draft that no page holds: all of it is on its tiles, or the sheet says what is left out."""

import re

import numpy as np
import pytest

from layouts.drawing import Cells, Figure, Text, unparted
from layouts.folio import frame_of, pdf_file, print_folio
from layouts.output import Told
from layouts.paper import PaperTooSmall
from layouts.sheet_list import SHEETS
from layouts.sheets.draft_chart import LARGEST_CELL, SMALLEST_CELL
from layouts.sheets.draft_part import OVERLAP
from tests.project.worked import project_of
from tests.sheets.draft_read import (
    SHEET,
    figures,
    filled_places,
    large_project,
    small_project,
    tie_middles,
    unlike,
    words_of,
)
from tests.sheets.looks import faults, flat


@pytest.mark.parametrize("ways", ["american", "german"])
def test_tiles_together_have_every_crossing_and_overlap(ways):
    project = large_project(conventions=ways)
    frame = frame_of(project, "A4")
    cloth = project.draft.drawdown
    seen = np.zeros(cloth.shape, dtype=int)
    for page in SHEETS[SHEET](project, frame).pages:
        assert faults(page, frame) == []
        words = " ".join(mark.text for mark in flat(page.marks) if isinstance(mark, Text))
        spans = re.findall(r"ends (\d+) to (\d+), picks (\d+) to (\d+)\.", words)
        drawn_here = [
            mark
            for figure in unparted(page.marks)
            if isinstance(figure, Figure) and figure.title == "Drawdown"
            for mark in figure.marks
            if isinstance(mark, Cells)
        ]
        assert len(spans) == len(drawn_here)
        for span, mark in zip(spans, drawn_here, strict=True):
            first, last, low, high = (int(each) for each in span)
            across = -1 if project.conventions.first_end == "right" else 1
            along = -1 if project.conventions.treadling == "up" else 1
            part = cloth[low - 1 : high, first - 1 : last]
            assert (mark.filled[::along, ::across] == part).all()
            assert SMALLEST_CELL <= mark.cell_width <= LARGEST_CELL
            seen[low - 1 : high, first - 1 : last] += 1
    assert seen.min() == 1
    across_tiles = [place for place in range(cloth.shape[1]) if seen[0, place] == 2]
    assert len(across_tiles) % OVERLAP == 0
    assert len(across_tiles) >= OVERLAP


@pytest.mark.parametrize("paper", ["A4", "Letter", "A5", "5 x 8 in", "Legal"])
@pytest.mark.parametrize(("ends", "picks", "most"), [(200, 130, 8), (90, 60, 24), (60, 44, 24)])
@pytest.mark.parametrize("action", ["rising", "dobby"])
def test_large_drafts_are_good_to_look_at(paper, ends, picks, most, action):
    project = large_project(ends, picks, most)
    if action == "dobby":
        lifts = [sorted(lift) for lift in project.draft.lifts]
        project = project_of(
            loom={"action": "dobby", "shafts": str(most)},
            draft={
                "threading": " ".join(map(str, unlike(ends, most))),
                "lifts": "; ".join(" ".join(map(str, lift)) for lift in lifts),
            },
        )
    frame = frame_of(project, paper)
    for page in SHEETS[SHEET](project, frame).pages:
        assert faults(page, frame) == []


def test_a_draft_of_hundreds_of_tiles_shows_its_first_corner_and_says_what_to_do():
    project = large_project(1100, 900)
    frame = frame_of(project, "A5")
    found = figures(project, "A5")
    assert len(found["Drawdown"]) == 1
    words = words_of(project, "A5")
    assert "All 1100 ends" not in words
    assert re.search(r"Only the first corner is drawn: .* would take \d{3,} tiles of this", words)
    larger, tiles = re.search(r"print on larger paper: (.+?) takes (\d+) tiles", words).groups()
    pages = SHEETS[SHEET](project, frame_of(project, larger)).pages
    assert abs(len(pages) - int(tiles)) <= 1 + int(tiles) // 10
    assert all(faults(page, frame) == [] for page in SHEETS[SHEET](project, frame).pages)


@pytest.mark.parametrize("ways", ["american", "scandinavian", "german"])
@pytest.mark.parametrize("paper", ["5 x 8 in", "A5"])
@pytest.mark.parametrize("action", ["rising", "dobby"])
def test_forty_shafts_on_small_paper_are_parted_too(paper, ways, action):
    """Every end and every tie is on some tile, in the row that the tile's words and order say."""
    draft = {"threading": " ".join(map(str, unlike(60, 40))), "tie_up": {}, "treadling": ""}
    draft["tie_up"] = {str(n): f"{n} {n % 40 + 1}" for n in range(1, 41)}
    draft["treadling"] = " ".join(map(str, unlike(50, 40, seed=8)))
    if action == "dobby":
        lifts = [draft["tie_up"][pressed] for pressed in draft["treadling"].split()]
        draft = {"threading": draft["threading"], "lifts": "; ".join(lifts)}
    weave = [{"section": "all", "picks": "50"}]
    loom = {"action": action, "shafts": "40"}
    project = project_of(loom=loom, draft=draft, weave=weave, conventions=ways)
    frame = frame_of(project, paper)
    for page in SHEETS[SHEET](project, frame).pages:
        assert faults(page, frame) == []
    found = figures(project, paper)
    entered = sum(
        int(filled_places(each)[1].filled.sum()) for each in with_cells(found, "Threading")
    )
    assert entered >= 60
    plan = "Treadling" if action == "rising" else "Lift plan"
    pressed = sum(int(filled_places(each)[1].filled.sum()) for each in with_cells(found, plan))
    assert pressed >= (50 if action == "rising" else 100)
    if action == "rising":
        ties = [mark for each in found["Tie-up"] for mark in tie_middles(each)]
        assert sum(map(len, ties)) == (80 if ways != "scandinavian" else 40 * 38)


def with_cells(found, title):
    return [each for each in found[title] if any(isinstance(mark, Cells) for mark in each.marks)]


def cramped(**changes):
    """A project whose draft sheet is too large for the smallest paper of the other sheets."""
    return large_project(90, 60, 12, **changes)


def test_paper_that_a_draft_sheet_needs_is_told_truly():
    project = cramped()
    with pytest.raises(PaperTooSmall, match="would do") as refused:
        SHEETS[SHEET](project, frame_of(project, "114 x 131 mm"))
    paper = re.search(r"; (.+ mm) would do", str(refused.value))[1]
    frame = frame_of(project, paper)
    for page in SHEETS[SHEET](project, frame).pages:
        assert faults(page, frame) == []


def test_a_whole_folio_goes_without_a_draft_sheet_that_does_not_fit(tmp_path):
    project, told = cramped(), []
    frame = frame_of(project, "114 x 131 mm")
    written = print_folio(project, frame, "x", tmp_path / "all", told=Told(note=told.append))
    assert "x.pdf" in {path.name for path in written}
    assert not any(SHEET in path.name for path in written)
    assert any("warping-card" in path.name for path in written)
    (note,) = told
    assert note.startswith("the draft-sheet is left out: ")
    with pytest.raises(PaperTooSmall):
        print_folio(project, frame, "x", tmp_path / "one", names=[SHEET])
    assert not (tmp_path / "one").exists()


def test_a_large_drawdown_stays_small():
    """Cells are merged: even one that looks like noise takes less than a byte a cell."""
    project = large_project(300, 400, 8)
    drawing = SHEETS[SHEET](project, frame_of(project, "A3"))
    pages = len(drawing.pages)
    assert pages > 10
    small = small_project()
    without = len(pdf_file(small, [SHEETS[SHEET](small, frame_of(small))], "x").data)
    data = pdf_file(project, [drawing], "x").data
    assert len(data) < without + 300 * 400 + 6_000 * pages
