"""Large print, left-handed, grey: real variants, which say what the plain sheets say."""

import re
from io import BytesIO
from itertools import combinations

import numpy as np
import pypdf
import pypdfium2
import pypdfium2.raw as pdfium
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pypdf.generic import ContentStream
from pypdfium2 import PdfDocument

from cards.needs import NEEDS, Needs
from cards.plan_json import plan_data
from cards.project import work_out
from cards.spec import parse_paper_size, read_spec
from layouts import drawing as marks
from layouts.drawing import BLACK, WHITE, Box, Cells, Disc, Drawing, Line, Page, Path, Text, flat
from layouts.drawn import drawn_sheets
from layouts.folio import frame_of, pdf_file, svg_files
from layouts.greys import BLACKENERS, in_black
from layouts.paper import PaperTooSmall, frame_for
from layouts.patch import contrast
from layouts.sheet_list import SHEETS, sheets_of
from layouts.sheets.parts import BOX, hatch_of
from layouts.sheets.shades import shades_of
from layouts.typeface import FIGURE
from layouts.variants import finished, varied
from tests.project.worked import outcome_of, reading_of
from tests.sheets.looks import faults
from tests.sheets.test_printed import find_figures, random_specs
from tests.worked_specs import FOLDER, SPECS, worked_out

LARGE = Needs(large_print=True)
LEFT = Needs(left_handed=True)
GREY = Needs(grey=True)
ALL = Needs.of(NEEDS)
TOWELS = FOLDER / "kitchen-towels.yaml"
THROW = FOLDER / "double-width-throw.yaml"
# Paper, and the edge that is bound.
PAPERS = [("A4", "none"), ("A4", "left"), ("Letter", "left"), ("Legal", "top")]


def project_for(path, needs):
    return work_out(read_spec(path).for_reader(needs)).project


def frame(paper, binding, needs, holes="none"):
    return varied(frame_for(parse_paper_size(paper), binding=binding, holes=holes), needs)


@pytest.mark.parametrize(
    ("paper", "binding", "needs"),
    [
        # Wide pages without a binding edge are the easier ones: those are drawn at random below.
        ("A4", "left", LARGE),
        ("Letter", "left", LARGE),
        ("A4", "left", Needs(large_print=True, left_handed=True)),
    ],
)
@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_every_sheet_flows_in_large_print(path, paper, binding, needs):
    project = project_for(path, needs)
    page = frame(paper, binding, needs)
    for draw in sheets_of(project).values():
        assert [
            faults(each, page) for each in draw(project, page).pages if faults(each, page)
        ] == []


@pytest.mark.parametrize("paper", ["A4", "A5"])
@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_nothing_overlaps_for_a_left_hand_in_grey(path, paper):
    needs = Needs(left_handed=True, grey=True)
    project = project_for(path, needs)
    page = frame(paper, "none", needs)
    for draw in sheets_of(project).values():
        assert [
            faults(each, page) for each in draw(project, page).pages if faults(each, page)
        ] == []


# ---- Large print


def type_sizes(data):
    """Return every size of type in a PDF, in points, as another library reads it."""
    found = set()
    for page in PdfDocument(data):
        text = page.get_textpage()
        for index, character in enumerate(text.get_text_range()):
            if character.isspace():
                continue  # pdfium makes some of its own between the lines
            found.add(round(pdfium.FPDFText_GetFontSize(text.raw, index), 2))
    return found


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_no_type_in_large_print_is_under_18_points(path, paper):
    # 18 points: twice the 9 that nothing is under elsewhere.
    project = project_for(path, LARGE)
    page = frame(paper, "left", LARGE)
    sheets = sheets_of(project)
    drawings = {name: finished(draw(project, page), page) for name, draw in sheets.items()}
    assert min(type_sizes(pdf_file(project, list(drawings.values()), "x").data)) >= 18.0
    # The numbers of the small draft on a handout are set as large as its cells allow.
    del drawings["handout"]
    sizes = type_sizes(pdf_file(project, list(drawings.values()), "x").data)
    plain = frame(paper, "left", Needs())
    usual = [draw(project, plain) for draw in sheets.values()]
    doubled = [2 * size for size in type_sizes(pdf_file(project, usual, "x").data)]
    assert all(any(abs(size - each) < 0.02 for each in doubled) for size in sizes)


@pytest.mark.parametrize("units", ["metric", "imperial"])
@pytest.mark.parametrize("holes", [True, False])
def test_what_is_measured_has_its_true_size_in_large_print(units, holes):
    """ISO 838: holes of 6 mm, 80 mm apart, 12 mm from the edge, about the middle of it."""
    reading = read_spec(TOWELS)
    reading = reading.for_reader(LARGE)
    project = outcome_of(units=units).project
    page = frame("A4", "left", LARGE, "iso-838" if holes else "none")
    for draw in sheets_of(project).values():
        for each in finished(draw(project, page), page).pages:
            assert (each.width, each.height) == (210.0, 297.0)
            check_ruler(each, units)
            rings = [mark for mark in flat(each.marks) if isinstance(mark, Disc) and mark.x < 22]
            assert len(rings) == (2 if holes else 0)
            for ring, y in zip(rings, (148.5 - 40.0, 148.5 + 40.0), strict=False):
                assert (ring.x, ring.radius) == pytest.approx((12.0, 3.0))
                assert ring.y == pytest.approx(y)


def check_ruler(page, units):
    """Find the test rule at the foot: a level line with its marks, ending at the right margin."""
    length, steps = (50.0, 5) if units == "metric" else (2 * 25.4, 8)
    foot = [
        mark for mark in flat(page.marks) if isinstance(mark, Line) and mark.y1 > page.height - 30.0
    ]
    rulers = [
        mark for mark in foot if mark.y1 == mark.y2 and abs(mark.x2 - mark.x1 - length) < 1e-6
    ]
    assert len(rulers) == 1
    (ruler,) = rulers
    ticks = sorted(
        mark.x1 for mark in foot if mark.x1 == mark.x2 and abs(mark.y1 - ruler.y1) < 1e-6
    )
    wanted = [ruler.x1 + length * step / steps for step in range(steps + 1)]
    assert ticks == pytest.approx(wanted)


def test_the_margins_keep_their_size_in_large_print():
    page = frame("A4", "left", LARGE)
    x, y, width, height = page.content
    assert (2 * x, 2 * y, 2 * width, 2 * height) == (22.0, 10.0, 178.0, 277.0)


def test_paper_too_small_for_large_print_is_refused_with_what_would_do():
    project = project_for(TOWELS, LARGE)
    for paper in ("A5", "5 x 8 in"):
        with pytest.raises(PaperTooSmall, match="large print needs 176 × 220 mm: use A4, Letter"):
            frame_of(project, paper, LARGE)
    for paper in ("A4", "Letter", "Legal", "A3"):
        assert frame_of(project, paper, LARGE).magnify == 2.0


@settings(
    max_examples=25,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
@given(random_specs(), st.sampled_from(PAPERS), st.booleans())
def test_odd_projects_in_large_print_are_good_to_look_at(spec, paper, left):
    result = work_out(reading_of(**spec).for_reader(Needs(large_print=True, left_handed=left)))
    if result.project is None:
        return
    needs = Needs(large_print=True, left_handed=left)
    page = frame(*paper, needs)
    for draw in sheets_of(result.project).values():
        try:
            drawing = draw(result.project, page)
        except PaperTooSmall:
            continue
        for each in drawing.pages:
            assert faults(each, page) == []


# ---- The figures of a variant are those of the plan


@pytest.mark.parametrize("needs", [LARGE, LEFT, GREY, ALL], ids=str)
@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_the_figures_of_a_variant_are_those_of_the_plan_as_written(path, needs):
    plan = plan_data(worked_out(path))
    project = project_for(path, needs)
    page = frame_of(project, "A4", needs)
    text = {}
    for name in ("warping-card", "threading-chart", "pick-tally"):
        drawing = finished(SHEETS[name](project, page), page)
        reader = pypdf.PdfReader(BytesIO(pdf_file(project, [drawing], "x").data))
        text[name] = " ".join(" ".join(each.extract_text().split()) for each in reader.pages)
        text[name] = re.sub(r"continues on page.*?continued", "", text[name])
    find_figures(plan, text)


# ---- Left-handed


SIDES = {"left": "right", "right": "left"}


def mirrored(value):
    """Return the data of a plan with every side turned round, as a value and as a name."""
    if isinstance(value, dict):
        return {SIDES.get(key, key): mirrored(each) for key, each in value.items()}
    if isinstance(value, list):
        return [mirrored(each) for each in value]
    return SIDES.get(value, value) if isinstance(value, str) else value


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_the_plan_for_a_left_hand_is_the_mirror_image_and_nothing_else(path):
    reading = read_spec(path)
    assert reading.spec.conventions.first_end == "right"
    own = plan_data(work_out(reading))
    left = plan_data(work_out(reading.for_reader(LEFT)))
    assert left["warp"]["first_end"] == "left"
    assert left["draft"]["drawdown"] == own["draft"]["drawdown"]
    for plan in (own, left):
        # The loom stays as it is, and words are compared by what they are about.
        assert plan["loom"].pop("treadle_1") == "left"
        plan["findings"] = [each["code"] for each in plan["findings"]]
        plan["cloth"]["chosen"] = len(plan["cloth"]["chosen"])
        # An odd spare heddle has no side that is its own.
        spare = plan["loom"].pop("heddles_spare", None) or []
        plan["spare"] = [sum(each.values()) for each in spare]
    assert mirrored(own) == left


def test_a_spec_whose_first_end_is_at_the_left_stays_as_it_is():
    reading = read_spec(TOWELS)
    left = reading.for_reader(LEFT)
    assert left.mirrored
    again = left.for_reader(LEFT)
    assert not again.mirrored
    assert again.spec == left.spec


def test_joins_and_selvedges_change_sides_too():
    spec = read_spec(THROW).spec
    mirrored = read_spec(THROW).for_reader(LEFT).spec
    assert (spec.draft.double_weave.join.name, mirrored.draft.double_weave.join.name) == (
        "left",
        "right",
    )
    scarf = read_spec(FOLDER / "twill-scarf.yaml")
    assert scarf.for_reader(LEFT).spec.selvedges.left == scarf.spec.selvedges.right


def test_the_reading_of_the_threading_is_mirrored():
    """The figures of a group stand from left to right in the order in which they are threaded."""
    for needs, step in ((Needs(), -1), (LEFT, 1)):
        project = project_for(TOWELS, needs)
        page = frame_of(project, "A4", needs)
        sheet = SHEETS["threading-chart"](project, page).pages[0]
        figures = [
            mark
            for mark in flat(sheet.marks)
            if isinstance(mark, Text) and mark.size == FIGURE and mark.text in "1234"
        ]
        in_order = sorted(figures, key=lambda mark: step * mark.x)
        assert [mark.text for mark in in_order] == ["1", "2", "3", "4"]


def test_the_drawdown_of_the_draft_sheet_is_the_mirror_image():
    found = []
    for needs in (Needs(), LEFT):
        project = project_for(FOLDER / "twill-scarf.yaml", needs)
        page = frame_of(project, "A4", needs)
        sheet = SHEETS["draft-sheet"](project, page).pages[0]
        cells = [mark.filled for mark in flat(sheet.marks) if isinstance(mark, Cells)]
        found.append(max(cells, key=lambda each: each.size))
    assert np.array_equal(found[0], found[1][:, ::-1])
    assert not np.array_equal(*found)


BOXED = ("yarn-list", "warping-card", "heddle-count", "threading-chart", "tie-up-card")


@pytest.mark.parametrize("needs", [LEFT, Needs(left_handed=True, large_print=True)], ids=str)
@pytest.mark.parametrize("sheet", BOXED)
@pytest.mark.parametrize("path", [TOWELS, THROW, FOLDER / "class-mat.yaml"], ids=lambda p: p.stem)
def test_no_figure_to_work_from_lies_under_a_left_hand(path, sheet, needs):
    """At the left of a box to tick stands no large figure in its line but how often, `×`."""
    project = project_for(path, needs)
    page = frame_of(project, "A4", needs)
    for each in SHEETS[sheet](project, page).pages:
        texts = [mark for mark in flat(each.marks) if isinstance(mark, Text)]
        boxes = [
            mark
            for mark in flat(each.marks)
            if isinstance(mark, Box) and mark.width == mark.height == BOX
        ]
        for box in boxes:
            beside = [
                text.text
                for text in texts
                if text.size >= FIGURE
                and box.y - 1.0 < text.y < box.y + BOX + 2.0
                and text.left + text.width <= box.x
            ]
            assert [words for words in beside if not words.startswith("×")] == []


@pytest.mark.parametrize("needs", [LEFT, ALL], ids=str)
def test_every_first_page_says_that_the_cloth_is_mirrored(needs):
    project = project_for(THROW, needs)
    page = frame_of(project, "A4", needs)
    for drawing in drawn_sheets(project, page):
        words = " ".join(
            mark.text for mark in flat(drawing.pages[0].marks) if isinstance(mark, Text)
        )
        assert "mirror image of the cloth as written" in words.replace("left- handed", "")


# ---- Grey


def colours_of(mark):
    names = ("colour", "fill", "stroke")
    return {getattr(mark, name, None) for name in names} - {None}


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_grey_is_black_and_white_in_pdf_and_svg(path):
    project = project_for(path, GREY)
    page = frame("A4", "left", GREY, "iso-838")
    drawings = [finished(draw(project, page), page) for draw in sheets_of(project).values()]
    for drawing in drawings:
        for each in drawing.pages:
            assert set().union(*map(colours_of, flat(each.marks))) <= {BLACK, WHITE}
        for file in svg_files(project, drawing, "x", with_spec=False):
            text = file.data.decode()
            assert set(re.findall(r"#[0-9a-fA-F]{3,6}\b", text)) <= {"#000000", "#ffffff"}
            assert not re.search(r"(fill|stroke)-opacity|rgb\(", text)
    reader = pypdf.PdfReader(BytesIO(pdf_file(project, drawings, "x", with_spec=False).data))
    painted = set()
    for each in reader.pages:
        for operands, operator in ContentStream(each.get_contents(), reader).operations:
            assert operator not in {b"g", b"G", b"k", b"K", b"sc", b"SC", b"scn", b"SCN", b"sh"}
            if operator in {b"rg", b"RG"}:
                painted.add(tuple(map(float, operands)))
    assert painted <= {(0.0, 0.0, 0.0), (1.0, 1.0, 1.0)}


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_two_yarns_are_always_told_apart_in_grey(path):
    project = project_for(path, GREY)
    for one, other in combinations(project.yarns, 2):
        assert one.letter != other.letter
        assert hatch_of(one) != hatch_of(other)
    shades = shades_of(project.yarns)
    assert len(set(shades.values())) == len(project.yarns)


def test_the_shades_of_a_picture_go_from_light_to_dark():
    project = project_for(TOWELS, GREY)
    shades = shades_of(project.yarns)
    by_shade = sorted(project.yarns, key=lambda yarn: contrast(yarn.shade, WHITE))
    assert shades[by_shade[0].key].fill == WHITE
    assert shades[by_shade[-1].key].fill == BLACK
    assert shades[by_shade[1].key].hatch == hatch_of(by_shade[1])
    plain = project_for(TOWELS, Needs())
    assert [shades_of(plain.yarns)[yarn.key].fill for yarn in plain.yarns] == [
        yarn.colour for yarn in plain.yarns
    ]


def test_the_cloth_in_grey_shows_the_yarn_on_top():
    """Each cell of the picture is as the drawdown and the orders of the yarns have it."""
    yarns = {
        "ink": {"fibre": "cotton", "size": "Ne 8/2", "colour": "#203040"},
        "chalk": {"fibre": "cotton", "size": "Ne 8/2", "colour": "#f0f0e0"},
    }
    reading = reading_of(
        yarns=yarns,
        given={"ends": "16"},
        cloth={"width": "0.7 in", "length": "10 in"},
        warp_order="(2 ink, 2 chalk) to fill",
        weft_order="3 chalk, 1 ink",
    )
    outcome = work_out(reading.for_reader(GREY))
    project = outcome.project
    plan = plan_data(outcome)
    page = frame_of(project, "A4", GREY)
    sheet = SHEETS["draft-sheet"](project, page).pages[0]
    figures = [mark for mark in figures_in(sheet.marks) if mark.title == "The cloth in its colours"]
    (figure,) = figures
    cells = {mark.colour: mark.filled for mark in flat(figure.marks) if isinstance(mark, Cells)}
    warp = [each["yarn"] for each in plan["warp"]["order"] for _ in range(each["ends"])]
    drawn = cells[BLACK][:, ::-1]
    rows, columns = drawn.shape
    assert columns == 16
    assert rows >= 4
    for row in range(rows):
        for end in range(columns):
            over = plan["draft"]["drawdown"][row][end] == "1"
            top = warp[end] if over else plan["draft"]["weft"][row]
            assert drawn[row, end] == (top == "ink")
    assert np.array_equal(cells[WHITE], ~cells[BLACK])


def figures_in(every):
    for mark in every:
        if isinstance(mark, marks.Figure):
            yield mark
        if isinstance(mark, marks.Figure | marks.Part):
            yield from figures_in(mark.marks)


def test_every_kind_of_mark_can_be_drawn_in_black():
    assert set(BLACKENERS) == set(marks.Mark.__args__)


def test_a_tint_becomes_a_white_shape_with_an_outline():
    page = Page(
        100, 100, (Box(0, 0, 9, 9, "#dedede", None), Path((("M", 0, 0),), "#444444", None)), "x"
    )
    box, path = in_black(Drawing("x", "x", (page,))).pages[0].marks
    assert (box.fill, box.stroke) == (WHITE, BLACK)
    assert (path.fill, path.stroke) == (BLACK, None)


def test_a_photograph_loses_its_colours():
    from PIL import Image

    data = BytesIO()
    Image.new("RGB", (4, 4), (200, 30, 30)).save(data, "PNG")
    picture = marks.Picture(0, 0, 10, 10, data.getvalue(), "x")
    page = Page(100, 100, (picture,), "x")
    (grey,) = in_black(Drawing("x", "x", (page,))).pages[0].marks
    with Image.open(BytesIO(grey.data)) as image:
        assert image.mode == "L"
        assert image.size == (4, 4)


def test_all_needs_together(tmp_path):
    from tests.commands import run

    result = run("print", TOWELS, "-o", tmp_path, "--large-print", "--left-handed", "--grey")
    assert result.exit_code == 0, result.stderr
    names = {path.name for path in tmp_path.iterdir()}
    assert "kitchen-towels.large-print.left-handed.grey.pdf" in names
    assert all(name.startswith("kitchen-towels.large-print.left-handed.grey") for name in names)
    assert len(pypdfium2.PdfDocument(next(tmp_path.glob("*.pdf")))) == len(names) - 1


def test_a_variant_never_replaces_the_plain_folio(tmp_path):
    from tests.commands import contents, run

    run("print", TOWELS, "-o", tmp_path, "--format", "pdf")
    before = contents(tmp_path)
    for option in ("--large-print", "--left-handed", "--grey"):
        run("print", TOWELS, "-o", tmp_path, option, "--format", "pdf")
    after = contents(tmp_path)
    assert {name: after[name] for name in before} == before
    assert len(after) == 4


def test_large_print_on_small_paper_prints_nothing(tmp_path):
    from tests.commands import run

    result = run("print", TOWELS, "-o", tmp_path / "x", "--large-print", "--paper", "A5")
    assert result.exit_code == 1
    assert "use A4, Letter or larger" in result.stderr
    assert not (tmp_path / "x").exists()
