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


def steps_of(project):
    return {step.name: step for part in workings_sheet(project).parts for step in part.steps}


def test_the_bill_is_in_it_by_hand():
    """Hours are paid by whole quarters; 752 ends at 100 an hour are 7.52, that is 7 ½ hours."""
    project = project_of(
        yarns={
            "red": {"size": "Ne 8/2", "put_up": "8 oz", "price": "$9.50"},
            "blue": {"size": "Ne 8/2", "put_up": "8 oz", "price": "$8.25"},
        },
        warp_order="red",
        weft_order="blue",
        loom={"action": "table", "shafts": "4", "pace": {"winding": "100"}},
        draft={"threading": "(1 2 3 4) to fill", "lifts": "1 3; 2 4"},
        given={"ends": "752"},
        costs={"hour": "$10", "budget": "$900"},
    )
    steps = steps_of(project)
    winding = steps["winding: hours"].line
    assert (winding.figures, winding.result) == ("752 ÷ 100 per hour", "7.52 hours")
    assert winding.used == "7.5 hours"
    packages = [total.need.packages for total in project.totals]
    red, blue = packages[0] * 9.5, packages[1] * 8.25
    yarn = steps["cost of all yarn"]
    assert (yarn.formula, yarn.line.figures) == ("cost of R + cost of B", f"{red:.2f} + {blue:.2f}")
    hours = sum(
        float(steps[f"{name}: hours"].line.used.split()[0])
        for name in ("winding", "dressing the loom", "weaving")
    )
    assert steps["hours in all"].line.result == f"{hours:g} hours"
    total = red + blue + hours * 10
    assert steps["cost of yarn and hours"].line.result == f"${total:.2f}"
    assert steps["left of the budget"].line.result == f"${900 - total:.2f}"


def test_sums_of_several_currencies_stand_apart_and_tell_what_has_no_price():
    priced = {"red": "EUR 4", "blue": "EUR 5", "green": "$6", "grey": "$7", "white": None}
    yarns = {
        key: {"size": "Ne 8/2", "put_up": "8 oz"} | ({"price": price} if price else {})
        for key, price in priced.items()
    }
    steps = steps_of(project_of(yarns=yarns, warp_order="red", weft_order=", ".join(yarns)))
    euros, dollars = steps["cost of all yarn in EUR"], steps["cost of all yarn in $"]
    assert euros.line.result.startswith("EUR ")
    assert dollars.line.result.startswith("$")
    assert euros.note == dollars.note == "without white: no price"


def test_yarn_of_all_kinds_of_pieces_comes_behind_the_weft_of_each():
    parts = sheet_of(FOLDER / "four-towels.yaml").parts
    titles = [part.title for part in parts]
    first = titles.index("Yarn in all")
    assert max(place for place, title in enumerate(titles) if title.startswith("Yarn, ")) < first
    assert titles[first + 1 : first + 3] == ["cotton, natural", "linen, flax"]
    length = next(step for step in parts[first + 1].steps if step.name == "length")
    assert length.note == "weft 1 is that of straight twill, weft 2 is that of point twill"
    picks = next(step for part in parts for step in part.steps if step.name == "picks to weave")
    assert (picks.line.figures, picks.line.result) == ("1328 + 666 + 602 + 240", "2836 picks")


def test_kinds_of_pieces_are_summed_from_figures_on_the_sheet():
    """The length of a yarn, and the picks of the hours, add up what other lines came to."""
    sheet = sheet_of(FOLDER / "four-towels.yaml")
    came_to = [
        (part, step.name, Fraction(NUMBER.search(step.line.result)[0]))
        for part in sheet.parts
        for step in part.steps
    ]
    total = next(part for part in sheet.parts if part.title == "cotton, natural")
    length = next(step for step in total.steps if step.name == "length")
    assert length.formula == "warp + weft 1 + weft 2"
    wefts = [
        value
        for part, name, value in came_to
        if name in {"warp", "weft"} and part.title.startswith("cotton, natural")
    ]
    assert len(wefts) == 3
    assert sum(wefts) == pytest.approx(float(NUMBER.search(length.line.result)[0]), abs=0.06)
    picks = [int(value) for _, name, value in came_to if name in {"picks", "picks of the sample"}]
    assert sorted(picks) == sorted([1328, 240, 240, 666, 602])  # the sample's 240 twice: all, yarn


def test_a_further_kind_has_only_what_differs():
    sheet = sheet_of(FOLDER / "four-towels.yaml")
    names = {part.title: [step.name for step in part.steps] for part in sheet.parts}
    # The point twill is as long as the straight one, and only its repeats come out otherwise.
    assert names["Lengths of one piece, point twill"] == [
        "warp used, one piece, as its sections are woven"
    ]
    assert "cloth off the loom, one piece" in names["Lengths of one piece, linen weft"]
    assert "In the reed, and back to the finished width, linen weft" not in names
    assert "from straight twill" in sheet.head[-1]
