"""The sheet of candidates: good to look at on every paper, drawn to scale, the plan's figures."""

import json
import re
from dataclasses import replace
from io import BytesIO

import pypdf
import pytest

from cards.compare_sheet import compare_sheet
from cards.compared import compared_of
from cards.project import work_out
from cards.project.candidates import work_out_candidates
from cards.spec import parse_paper_size, read_source, read_spec
from layouts.compare import gather, print_comparison
from layouts.drawing import Figure, Line, Text, unparted
from layouts.folio import frame_of
from layouts.paper import PaperTooSmall
from layouts.sheets.compare_sheet import draw_compare_sheet
from layouts.sheets.finished_sizes import scale_for
from layouts.typeface import measure
from tests.commands import run
from tests.project.worked import outcome_of, spec_text
from tests.sheets.looks import faults, flat, mark_box
from tests.worked_specs import FOLDER, SPECS

THROW = FOLDER / "throw-three-ways.yaml"
PAPERS = ["A4", "Letter", "A5", "5 x 8 in", "Legal", "A3"]
LONG = ["Wool", "a candidate with a very long name indeed", "Zwischenergebniszusammenstellungsversuch",
        "d", "e", "f", "g"]  # fmt: skip


def throw():
    return gather([str(THROW)], None).compared


def many(number):
    """Candidates of all sorts: long names, one that does not fit, one that says nothing."""
    loom = {"action": "rising", "shafts": "4", "treadles": "6", "width": "35 in"}
    changes = [{}, {"cloth": {"width": "60 in", "length": "72 in", "pieces": "3"}}, {"sett": None},
               {"units": "metric"}, {"cloth": {"width": "5 in", "length": "9 in"}},
               {"cloth": {"width": "30 in", "length": "200 in", "pieces": "12"}}, {}]  # fmt: skip
    return [
        compared_of(name, outcome_of(**({"loom": loom} | change)), 100.0 if name in "dg" else 0.0)
        for name, change in zip(LONG[:number], changes, strict=False)
    ]


@pytest.mark.parametrize("orientation", ["portrait", "landscape"])
@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("number", [2, 3, 7, 0])
def test_nothing_overlaps_and_nothing_is_small(number, paper, orientation):
    compared = many(number) if number else throw()
    project = compared[0].project
    turned = project.paper.model_copy(update={"orientation": orientation})
    try:
        frame = frame_of(replace(project, paper=turned), paper)
    except PaperTooSmall:
        assert (paper, orientation) == ("5 x 8 in", "landscape")
        return
    drawing = draw_compare_sheet(compare_sheet(compared), frame)
    for page in drawing.pages:
        assert faults(page, frame) == []
    words = " ".join(
        mark.text for page in drawing.pages for mark in flat(page.marks) if isinstance(mark, Text)
    )
    for each in compared:
        assert "".join(each.name.split()) in "".join(words.split())


@pytest.mark.parametrize("paper", ["A4", "A5"])
def test_all_worked_specs_side_by_side(paper):
    compared = [compared_of(path.stem, work_out(read_spec(path))) for path in SPECS]
    frame = frame_of(compared[0].project, paper)
    for page in draw_compare_sheet(compare_sheet(compared), frame).pages:
        assert faults(page, frame) == []


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_four_throws_stand_on_one_page(paper, tmp_path):
    run("compare", THROW, "-o", tmp_path, "--paper", paper, "--format", "pdf")
    assert len(pypdf.PdfReader(tmp_path / "compare.pdf").pages) == 1


def test_the_paper_is_turned_where_that_saves_pages(tmp_path):
    compared = throw()
    paper = parse_paper_size("A5")
    print_comparison(compared, tmp_path, paper, "pdf")
    pages = pypdf.PdfReader(tmp_path / "compare.pdf").pages
    upright = draw_compare_sheet(compare_sheet(compared), frame_of(compared[0].project, paper))
    assert len(pages) < len(upright.pages)
    assert pages[0].mediabox.width > pages[0].mediabox.height
    # Turned by a quarter, this one is too low for any sheet.
    print_comparison(compared, tmp_path, parse_paper_size("5 x 8 in"), "pdf")
    box = pypdf.PdfReader(tmp_path / "compare.pdf").pages[0].mediabox
    assert box.width < box.height


@pytest.mark.parametrize("paper", ["A4", "A5"])
def test_cloths_are_drawn_to_the_scale_that_is_said(paper):
    compared = throw()
    frame = frame_of(compared[0].project, paper)
    drawing = draw_compare_sheet(compare_sheet(compared), frame)
    marks = [mark for page in drawing.pages for mark in flat(page.marks)]
    said = next(re.search(r"1 : (\d+)", mark.text) for mark in marks if isinstance(mark, Text)
                and "1 : " in mark.text)  # fmt: skip
    times = int(said[1])
    figures = [
        mark for page in drawing.pages for mark in unparted(page.marks) if isinstance(mark, Figure)
    ]
    drawn = [figure for figure in figures if figure.title.startswith("Finished size")]
    assert len(drawn) == 4
    for figure, each in zip(drawn, compared, strict=True):
        boxes = [mark_box(mark) for mark in flat(figure.marks) if not isinstance(mark, Text)]
        left, top, right, bottom = (min(b[0] for b in boxes), min(b[1] for b in boxes),
                                    max(b[2] for b in boxes), max(b[3] for b in boxes))  # fmt: skip
        warp = each.project.warp.finished_width
        length = sum(section.finished for section in each.project.weft.sections)
        hem = 2 * 30 if each.name == "cotton" else 0
        assert right - left == pytest.approx(warp / times, abs=0.05)
        assert bottom - top == pytest.approx((length - hem + 2 * each.fringe) / times, abs=0.05)
    # The bar beside them has the length that stands over it.
    bar = next(
        mark for mark in marks if isinstance(mark, Text) and re.fullmatch(r"\d+ cm", mark.text)
    )
    lines = [mark for mark in marks if isinstance(mark, Line) and mark.y1 == mark.y2
             and mark.x1 == bar.x and 0 < mark.y1 - bar.y < 3]  # fmt: skip
    assert [line.x2 - line.x1 for line in lines] == pytest.approx([int(bar.text[:-3]) * 10 / times])


@pytest.mark.parametrize(("width", "height"), [(34, 50), (34, 30), (400, 2000), (17, 50), (9, 9)])
def test_the_scale_is_the_largest_that_fits(width, height):
    card = compare_sheet(throw())
    sizes = [each[0] for each in card.sizes]
    scale = scale_for(sizes, width, height, card.figures)

    def fits(times):
        # Beside each cloth its length stands in two lines, the wider of them a figure.
        beside = measure("170.2", 9.0) + 1.6
        return all(
            size.width / times <= width - beside
            and (size.length + 2 * size.fringe) / times <= height
            for size in sizes
        )

    assert fits(scale.times) or width < 10
    # The next larger scales that a ruler has do not fit; no step between two of them is larger.
    assert not fits(scale.times * 0.6)


def test_the_figures_on_paper_are_those_of_each_plan(tmp_path):
    """Read the PDF back with another library; the plan is asked of another command."""
    run("compare", THROW, "-o", tmp_path, "--format", "pdf")
    reader = pypdf.PdfReader(BytesIO((tmp_path / "compare.pdf").read_bytes()))
    text = " ".join(" ".join(page.extract_text().split()) for page in reader.pages)
    for each in throw():
        plan = json.loads(
            run("plan", "--json", "--no-drawdown", THROW, "--candidate", each.name).stdout
        )
        warp, yarn = plan["warp"], plan["yarns"][0]
        for figure in (
            f"{warp['ends']}",
            f"{warp['width_in_reed_mm'] / 10:.1f}",
            f"{warp['length_mm'] / 1000:.2f}",
            f"{warp['finished_width_mm'] / 10:.1f} ×",
            f"{round(warp['by_yarn'][0]['length_mm'] / 1000)}",
            f"{plan['cost']:.2f}",
            f"{yarn['packages']} ×",
            f"{-(-yarn['buy_g'] // 5) * 5:.0f}",
        ):
            assert figure in text, (each.name, figure)


def test_the_marks_are_words_and_not_colours():
    """A grey copy says the same: `least` and `most` are printed, in ink that all text has."""
    frame = frame_of(throw()[0].project)
    page = draw_compare_sheet(compare_sheet(throw()), frame).pages[0]
    marks = [
        mark
        for mark in flat(page.marks)
        if isinstance(mark, Text) and mark.text in ("least", "most")
    ]
    assert {mark.text for mark in marks} == {"least", "most"}
    assert {mark.colour for mark in marks} == {"#404040"}


def test_hatch_and_letter_tell_the_yarns_apart():
    compared = throw()
    letters = [each.project.totals[0].yarn.letter for each in compared]
    assert letters == ["W", "C", "A", "A"]


def test_a_missing_price_is_named():
    yarn = {"fibre": "cotton", "size": "Ne 8/2", "put_up": "8 oz", "price": "EUR 9"}
    plain = {key: value for key, value in yarn.items() if key != "price"}
    text = spec_text(yarns={"natural": yarn},
                     candidates=[{"candidate": "b", "yarns": {"natural": plain}}])  # fmt: skip
    tried = work_out_candidates(read_source(text.encode(), "a.yaml"))
    card = compare_sheet([compared_of(each.name, each.outcome) for each in tried])
    rows = {row.name: row for part in card.parts for row in part.rows}
    assert [cell.lines for cell in rows["no price for"].cells] == [("–",), ("natural",)]
