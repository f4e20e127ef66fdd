"""The workings as they are printed: every line redone by its own figures, read back off the page."""

import math
import re
from fractions import Fraction

import pypdfium2
import pytest

from cards.project import work_out
from cards.spec import read_spec
from cards.workings import workings_sheet
from layouts.folio import folio_of, frame_of, pdf_file
from layouts.sheet_list import SHEETS
from tests.project.worked import project_of
from tests.worked_specs import FOLDER, SPECS

NUMBER = re.compile(r"\d+(?:\.\d+)?")


def sheet_of(path):
    return workings_sheet(work_out(read_spec(path)).project)


def redone(figures):
    """Reckon a printed line by Python: signs as signs, units left out."""
    line, _, least = figures.partition(", at least ")
    bare = re.sub(r"[^\d.()+−×÷]", "", line)
    bare = NUMBER.sub(lambda found: f"Fraction('{found[0]}')", bare)
    for sign, python in (("−", "-"), ("×", "*"), ("÷", "/")):
        bare = bare.replace(sign, python)
    result = eval(bare)  # noqa: S307 -- digits, brackets and signs alone
    if least:
        floor = NUMBER.match(least)
        result = max(result, Fraction(floor[0]) if floor else Fraction(0))
    return result


def half_a_digit(text):
    """Half a unit of the last digit printed, or of the fifth where empty ones are left out."""
    result = Fraction(text)
    if not result:
        return Fraction(1, 10**9)
    places = max(0, 4 - math.floor(math.log10(abs(result))), len(text.partition(".")[2]))
    return Fraction(1, 2 * 10**places)


def units_in(text):
    return set(re.findall(r"\b(cm|in|yd|m|oz|g)\b", text))


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_every_line_gives_its_result_to_the_last_digit(path):
    lines = [step for part in sheet_of(path).parts for step in part.steps if step.line.figures]
    assert len(lines) > 25
    for step in lines:
        result = NUMBER.search(step.line.result)[0]
        off = abs(redone(step.line.figures) - Fraction(result))
        assert off <= half_a_digit(result), step


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_a_line_has_lengths_of_one_unit_alone(path):
    for part in sheet_of(path).parts:
        for step in part.steps:
            lengths = units_in(f"{step.line.figures} {step.line.result}") - {"oz", "g"}
            assert len(lengths) <= 1, step


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_a_formula_and_its_figures_have_the_same_signs(path):
    for part in sheet_of(path).parts:
        for step in part.steps:
            if step.line.figures:
                formula = step.formula.partition(", ")[0]
                assert re.sub(r"[^()+−×÷]", "", formula) == re.sub(
                    r"[^()+−×÷]", "", step.line.figures.partition(", ")[0]
                )


@pytest.mark.parametrize("paper", ["A4", "A5", "Letter"])
@pytest.mark.parametrize("name", ["double-width-throw", "twill-scarf", "four-towels"])
def test_every_line_is_on_the_page_and_on_one(name, paper):
    """Read back from the PDF: name, figures and result of each step stand on the same page."""
    project = work_out(read_spec(FOLDER / f"{name}.yaml")).project
    drawing = SHEETS["workings"](project, frame_of(project, paper))
    document = pypdfium2.PdfDocument(pdf_file(project, [drawing], "x").data)
    pages = [_bare(page.get_textpage().get_text_range()) for page in document]
    for part in workings_sheet(project).parts:
        for step in part.steps:
            wanted = [step.name, step.formula, step.line.figures, step.line.result, step.line.used]
            assert any(all(_bare(each) in page for each in wanted) for page in pages), step
        for each in part.allowed:
            assert any(_bare(each.value) in page and _bare(each.words) in page for page in pages)


def _bare(text):
    return "".join(text.split()).replace("\x02", "")


def test_the_order_is_that_of_a_weaver():
    titles = [part.title for part in sheet_of(FOLDER / "kitchen-towels.yaml").parts]
    wanted = [
        "From the finished width to the reed", "Ends", "In the reed, and back to the finished width",
        "Lengths of one piece", "Length of the warp", "Picks", "Yarn",
    ]  # fmt: skip
    assert titles[: len(wanted)] == wanted
    assert titles[-2:] == ["Hours", "Cost"]


def test_figures_by_hand():
    """27 in of 7 % and 7 % are 29.032 in off the loom, 31.217 in the reed, 749.2 ends at 24."""
    parts = workings_sheet(project_of()).parts
    steps = {step.name: step for part in parts for step in part.steps}
    off = steps["width off the loom"].line
    assert (off.figures, off.result, off.other) == ("27 in ÷ (1 − 0.07)", "29.032 in", "73.742 cm")
    ends = steps["ends"].line
    assert (ends.result, ends.used) == ("749.22 ends", "752 ends")
    allowed = {each.name: each for part in parts for each in part.allowed}
    assert allowed["draw-in"].value == "7 %"
    assert allowed["draw-in"].words == "assumed, usual 5–10 %, from memory"


def test_it_is_printed_only_when_asked_for():
    assert "workings" not in folio_of(project_of())
    assert "workings" in SHEETS
