"""The cloth sheet as it is drawn: good to look at, and the weft over and under as it is woven."""

import itertools
import re

import numpy as np
import pytest

from cards.cloth_sheet import cloth_sheet
from layouts.drawing import Cells, Disc, Figure, Path, Text, unparted
from layouts.folio import frame_of
from layouts.sheet_list import SHEETS, sheets_of
from layouts.sheets.layer_mark import SHAPES, layer_mark
from tests.commands import ROOT, run
from tests.project.layered_specs import everything
from tests.sheets.looks import faults, flat, mark_box

PROJECTS = everything()
PAPERS = ["A4", "Letter", "A5", "5 x 8 in", "A3"]
STEPS = 24


def pages_of(project, paper="A4"):
    frame = frame_of(project, paper)
    return SHEETS["cloth-sheet"](project, frame).pages, frame


def figures(pages, title):
    return [
        mark
        for page in pages
        for mark in unparted(page.marks)
        if isinstance(mark, Figure) and re.match(title, mark.title)
    ]


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", PROJECTS)
def test_nothing_overlaps_and_nothing_is_small(name, paper):
    pages, frame = pages_of(PROJECTS[name], paper)
    for page in pages:
        assert faults(page, frame) == []


def points_of(path):
    """Points along a path, a Bezier curve reckoned by its definition (de Casteljau)."""
    points = []
    for step in path.steps:
        if step[0] in "ML":
            points.append(step[1:])
            continue
        four = [points[-1], step[1:3], step[3:5], step[5:7]]
        for number in range(1, STEPS + 1):
            t = number / STEPS
            row = four
            while len(row) > 1:
                row = [
                    tuple(a + t * (b - a) for a, b in zip(one, two, strict=True))
                    for one, two in itertools.pairwise(row)
                ]
            points.append(row[0])
    return points


def centre(mark):
    left, top, right, bottom = mark_box(mark)
    return (left + right) / 2, (top + bottom) / 2


def weft_and_ends(figure):
    """Split a picture of a pick into the points of its weft and the marks of its ends."""
    inside = list(flat(figure.marks))
    lines = [mark for mark in inside if isinstance(mark, Path) and not mark.fill and not mark.dash]
    points = [point for line in lines for point in points_of(line)]
    left, right = min(x for x, _ in points), max(x for x, _ in points)
    marks = [
        mark
        for mark in inside
        if (isinstance(mark, Disc) or (isinstance(mark, Path) and mark.fill))
        and left < centre(mark)[0] < right
        and mark_box(mark)[2] - mark_box(mark)[0] < 4.0
    ]
    # The arrowhead has no outline. Above the picture the mark among the words has its letter close
    # behind it.
    letters = [mark for mark in inside if isinstance(mark, Text)]
    marks = [
        mark
        for mark in marks
        if mark.stroke
        and not any(
            0 < text.x - centre(mark)[0] < 5.0
            and mark_box(mark)[1] - 1.5 < text.y < mark_box(mark)[3] + 2.5
            for text in letters
        )
    ]
    return points, marks


@pytest.mark.parametrize("paper", ["A4", "A5"])
@pytest.mark.parametrize("name", PROJECTS)
def test_the_weft_runs_over_every_sunk_end_and_under_every_raised_one(name, paper):
    project = PROJECTS[name]
    pages, _ = pages_of(project, paper)
    pictures = figures(pages, "Pick ")
    kinds = cloth_sheet(project).kinds
    picks = [(kind, number) for kind in kinds for number in range(len(kind.section.picks))]
    assert len(pictures) == len(picks)
    for picture, (kind, number) in zip(pictures, picks, strict=True):
        points, marks = weft_and_ends(picture)
        marks.sort(key=lambda mark: centre(mark)[0])
        first = kind.spans[0][0] - 1
        raised = project.draft.drawdown[first + number]
        if project.warp.first_end == "right":
            raised = raised[::-1]
        half = len(marks) // 2
        drawn = raised if len(marks) == len(raised) else [*raised[:half], *raised[-half:]]
        assert len(drawn) == len(marks)
        for up, mark in zip(drawn, marks, strict=True):
            x, y = centre(mark)
            weft = height_at(points, x)
            # y runs down: a weft that lies over an end has the smaller y.
            assert (weft > y) == up
            left, top, right, bottom = mark_box(mark)
            across = [height_at(points, each) for each in np.linspace(left, right, 9)]
            line = 0.65
            assert min(across) - line > bottom or max(across) + line < top


def height_at(points, x):
    for (x1, y1), (x2, y2) in itertools.pairwise(points):
        if x1 <= x <= x2 and x1 < x2:
            return y1 + (y2 - y1) * (x - x1) / (x2 - x1)
    raise AssertionError(f"the weft does not pass {x}")


@pytest.mark.parametrize("name", ["double width", "triple", "pairs", "two to one"])
def test_every_turn_is_drawn_and_named(name):
    project = PROJECTS[name]
    pages, _ = pages_of(project)
    (kind,) = cloth_sheet(project).kinds
    texts = [m.text for page in pages for m in flat(page.marks) if isinstance(m, Text)]
    names = {
        word: sum(turn.kind == word for turn in kind.section.turns) for word in ("fold", "turn")
    }
    edges = sum(len(piece.folds) for piece in kind.pieces)
    assert texts.count("fold") == names["fold"] + edges
    assert texts.count("turn") == names["turn"]
    dashed = [m for page in pages for m in flat(page.marks) if isinstance(m, Path) and m.dash]
    stubs = [text.split()[0] for text in texts if re.fullmatch(r"(from|to) \d+", text)]
    whole = len(dashed) - len(stubs)
    assert whole + stubs.count("to") == len(kind.section.turns)


@pytest.mark.parametrize("name", ["double width", "paired", "two to one", "twill"])
def test_the_drawdown_of_a_layer_is_the_corner_at_first_end_and_pick(name):
    """Filled cells, side and direction as the conventions say."""
    project = PROJECTS[name]
    pages, _ = pages_of(project)
    conventions = project.conventions
    for place, layer in enumerate(project.cloth.main.layers):
        picture = figures(pages, f"Layer {'AB'[place]}, .*face")[0]
        (cells,) = [mark for mark in picture.marks if isinstance(mark, Cells)]
        rows, columns = cells.filled.shape
        wanted = project.draft.drawdown[np.ix_(layer.picks[:rows], layer.ends[:columns])]
        if conventions.filled == "weft":
            wanted = ~wanted
        if conventions.first_end == "right":
            wanted = wanted[:, ::-1]
        if conventions.treadling == "up":
            wanted = wanted[::-1]
        assert (cells.filled == wanted).all()


def test_the_yarn_on_top_is_seen_in_every_cell():
    project = PROJECTS["runners"]
    pages, _ = pages_of(project)
    for letter, key, place in (("A", "slate", 0), ("B", "sand", 1)):
        grid, woven = figures(pages, f"Layer {letter}, .*face")
        (cells,) = [mark for mark in grid.marks if isinstance(mark, Cells)]
        colour = project.yarn(key).colour
        (bars,) = [m for m in woven.marks if isinstance(m, Path) and m.fill == colour]
        box = mark_box(woven.marks[0])
        corners = [bars.steps[at : at + 3] for at in range(0, len(bars.steps), 5)]
        over = cells.filled if project.conventions.filled == "warp" else ~cells.filled
        assert project.cloth.main.lanes[place] == place
        for row, column in np.ndindex(*over.shape):
            x = box[0] + (column + 0.5) * cells.cell_width
            y = box[1] + (row + 0.5) * cells.cell_height
            covering = [
                (three[2][1] - three[0][1], three[2][2] - three[0][2])
                for three in corners
                if three[0][1] < x < three[2][1] and three[0][2] < y < three[2][2]
            ]
            ((wide, tall),) = covering
            assert (tall > wide) == over[row, column]


def test_every_layer_has_a_shape_of_its_own():
    shapes = set()
    for lane in range(SHAPES):
        (mark,) = layer_mark(lane, 0.0, 0.0, 2.0)
        kind = "disc" if isinstance(mark, Disc) else (len(mark.steps), mark.steps[0])
        shapes.add((kind, mark.fill))
        left, top, right, bottom = mark_box(mark)
        assert max(right - left, bottom - top) < 1.35 * 2.0
    assert len(shapes) == SHAPES == 8


def test_only_layered_projects_have_the_sheet(tmp_path):
    towels, sampler = (
        ROOT / "specs" / f"{n}.yaml" for n in ("kitchen-towels", "two-layer-sampler")
    )
    result = run("print", towels, "--sheet", "cloth-sheet", "-o", tmp_path)
    assert result.exit_code == 2
    assert "there is nothing to draw on 'cloth-sheet'" in result.stderr
    assert list(tmp_path.iterdir()) == []
    result = run("print", towels, sampler, "-o", tmp_path, "--format", "svg")
    assert result.exit_code == 0
    drawn = {path.name for path in tmp_path.iterdir() if "cloth-sheet" in path.name}
    assert drawn
    assert all(name.startswith("two-layer-sampler-cloth-sheet-") for name in drawn)


def test_a_whole_folio_is_named_after_its_spec(tmp_path):
    towels = ROOT / "specs" / "kitchen-towels.yaml"
    run("print", towels, "-o", tmp_path, "--format", "pdf")
    assert [path.name for path in tmp_path.iterdir()] == ["kitchen-towels.pdf"]
    assert "cloth-sheet" in sheets_of(PROJECTS["double width"])
