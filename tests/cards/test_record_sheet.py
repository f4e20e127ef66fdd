"""The record: planned figures are those of the plan, measured ones stand in, the rest is blank."""

from io import BytesIO

import pypdf
import pytest

from cards.calculation.hours import quarter
from cards.project import work_out
from cards.record_sheet import record_sheet
from cards.spec import read_spec
from layouts.folio import frame_of, pdf_file
from layouts.sheet_list import SHEETS
from tests.project.worked import project_of
from tests.sheets.looks import faults
from tests.worked_specs import FOLDER, SPECS

IN, YD, OZ = 25.4, 914.4, 28.349523125


def project(name):
    return work_out(read_spec(FOLDER / f"{name}.yaml")).project


def eighths(mm):
    """Write a length in inches to an eighth, apart from the program's own figures."""
    whole, part = divmod(round(mm / IN * 8), 8)
    return f"{whole} {['', '⅛', '¼', '⅜', '½', '⅝', '¾', '⅞'][part]} in".replace("  ", " ")


def rows(sizes):
    return {row.name: row.stages for row in sizes.stages}


def planned(stages):
    return [kept.planned if kept else None for kept in stages]


def actual(stages):
    return [kept.actual if kept else None for kept in stages]


def figures(card):
    return {(group.title, row.name): row.kept for group in card.groups for row in group.rows}


def text_of(project, paper):
    drawing = SHEETS["record"](project, frame_of(project, paper))
    reader = pypdf.PdfReader(BytesIO(pdf_file(project, [drawing], "x").data))
    return " ".join(" ".join(page.extract_text().split()) for page in reader.pages)


def test_the_plan_of_a_scarf_by_hand():
    """Worsted, worked by hand: draw-in, relaxation and shrinkage of 8, 6 and 8 %."""
    scarf = project("twill-scarf")
    sizes = rows(record_sheet(scarf).sizes[0])
    reed = scarf.warp.width_in_reed
    assert planned(sizes["width"]) == [
        eighths(reed), "", eighths(scarf.warp.finished_width / 0.92),
        eighths(scarf.warp.finished_width),
    ]  # fmt: skip
    tape = sum(section.length for section in scarf.weft.sections)
    assert planned(sizes["length of one piece"]) == [
        None, eighths(tape), eighths(tape * 0.94), eighths(tape * 0.94 * 0.92),
    ]  # fmt: skip
    picks = scarf.weft.picks_each
    assert planned(sizes["picks per in"]) == [
        None, "22", f"{picks / (tape * 0.94 / IN):.1f}", f"{picks / (tape * 0.94 * 0.92 / IN):.1f}",
    ]  # fmt: skip


def test_what_was_measured_stands_in_the_record():
    """The figures are those that specs/twill-scarf.yaml has under `measured`; losses by hand."""
    card = record_sheet(project("twill-scarf"))
    sizes = rows(card.sizes[0])
    assert actual(sizes["width"]) == ["9 ½ in", "", "8 ⅝ in", "8 in"]
    assert actual(sizes["length of one piece"]) == [None, "76 ½ in", "73 in", "67 ¼ in"]
    # 1700 picks in 76 1/2, 73 and 67 1/4 in.
    assert actual(sizes["picks per in"]) == [None, "22.2", "23.3", "25.3"]
    kept = figures(card)
    lost = {name: each.actual for (title, name), each in kept.items() if title == "What was lost"}
    assert lost["take-up of the warp"] == "11 %"  # 9 of 82 in
    assert lost["relaxation off the loom"] == "4.6 %"  # 3 1/2 of 76 1/2 in
    assert lost["shrinkage in length"] == "7.9 %"  # 5 3/4 of 73 in
    assert lost["shrinkage in width"] == "7.2 %"  # 5/8 of 8 5/8 in
    assert kept["What it took", "warp as wound"].actual == "3 ¾ yd"
    assert kept["What it took", "warp of one piece"].actual == "82 in"
    assert kept["What it took", "waste of the loom"].actual == "29 in"
    assert kept["What it took", "left, not woven"].actual == ""
    assert [(each.before, each.after, each.used) for each in card.yarns] == [
        ("8 oz", "5.2 oz", "2.8 oz"),
        ("8 oz", "6.1 oz", "1.9 oz"),
    ]


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_planned_figures_are_those_of_the_plan(path):
    plan = work_out(read_spec(path)).project
    card = record_sheet(plan)
    kept = figures(card)
    assert kept["What it took", "hours"].planned.partition(" ")[0] == f"{plan.hours.counted:g}"
    parts = (plan.hours.winding, plan.hours.dressing, plan.hours.weaving)
    assert plan.hours.counted == sum(map(quarter, parts))
    metric = plan.units == "metric"
    for each, total in zip(card.yarns, plan.totals, strict=True):
        mass = total.need.mass
        grams = float(each.planned.split()[0]) * (1 if metric else OZ)
        assert grams == pytest.approx(mass, abs=0.51 if metric else 0.051 * OZ)
    allowed = {step.name: step.value for step in plan.allowances}
    for (title, name), figure in kept.items():
        if title == card.groups[0].title:
            assert float(figure.planned.split()[0]) == pytest.approx(allowed[name] * 100)
    for sizes, kind in zip(card.sizes, plan.kinds, strict=True):
        ends, picks = (next(row for row in sizes.stages if row.name.startswith(word))
                       for word in ("ends", "picks"))  # fmt: skip
        per = 10 if metric else IN
        true = kind.warp.ends / float(kind.sett.warp_share) / kind.warp.width_in_reed * per
        assert float(ends.stages[0].planned) == pytest.approx(true, abs=0.051)
        sett = kind.sett.picks_layer * per
        assert float(picks.stages[1].planned) == pytest.approx(sett, abs=0.051)


def test_nothing_measured_leaves_everything_blank():
    card = record_sheet(project_of())
    for sizes in card.sizes:
        for row in sizes.stages:
            assert {kept.actual for kept in row.stages if kept} == {""}
    assert {kept.actual for kept in figures(card).values()} == {""}
    assert {(each.before, each.after, each.used) for each in card.yarns} == {("", "", "")}


def test_kinds_of_pieces_have_sizes_and_losses_of_their_own():
    """The linen towel of specs/four-towels.yaml is 70 and two hems of 4 cm, and shrinks by 6 %."""
    card = record_sheet(project("four-towels"))
    assert [sizes.title for sizes in card.sizes] == [
        "Sizes, straight twill, one of 2 pieces",
        "Sizes, point twill",
        "Sizes, linen weft",
    ]
    straight, point, linen = (rows(sizes) for sizes in card.sizes)
    # 664 and 666 picks of 8 to the cm, 602 of 7: 83, 83.25 and 86 cm on the loom.
    on_loom = [planned(kind["length of one piece"])[1] for kind in (straight, point, linen)]
    assert on_loom == ["83.0 cm", "83.2 cm", "86.0 cm"]
    washed = [planned(kind["length of one piece"])[3] for kind in (straight, linen)]
    assert washed == [f"{83 * 0.97 * 0.92:.1f} cm", f"{86 * 0.97 * 0.94:.1f} cm"]
    assert planned(linen["picks per cm"])[1] == "7"
    kept = figures(card)
    assert kept["What was lost, straight twill", "shrinkage in length"].planned == "8 % assumed"
    assert kept["What was lost, linen weft", "shrinkage in length"].planned == "6 % given"
    # 86 cm on the loom take 86 x 0.97 / 0.9 of warp.
    warp = kept["What it took", "warp of one piece, linen weft"].planned
    assert warp == f"{86 * 0.97 / 0.9:.1f} cm"
    # The weft of all kinds is weighed together.
    assert ("What was lost, linen weft", "take-up of the weft") not in kept


def test_measured_sizes_are_of_the_first_kind_alone():
    change = {
        "pieces": [{"piece": "one"}, {"piece": "other", "length": "60 in"}],
        "measured": {"off_loom": {"width": "28 in", "length": "70 in"}, "warp_used": "80 in"},
    }
    card = record_sheet(project_of(**change))
    first, second = (rows(sizes) for sizes in card.sizes)
    assert actual(first["length of one piece"]) == [None, "", "70 in", ""]
    assert {kept for row in second.values() for kept in actual(row)} <= {"", None}
    kept = figures(card)
    assert kept["What was lost, one", "take-up of the warp"].actual == "12.5 %"
    assert kept["What was lost, other", "take-up of the warp"].actual == ""
    assert kept["What it took", "warp of one piece, other"].actual == ""


def test_opened_cloth_has_the_ends_of_one_layer():
    """Two layers joined: opened out they are twice as wide, and have twice the ends."""
    throw = project("double-width-throw")
    sizes = record_sheet(throw).sizes[0]
    ends = planned(rows(sizes)["ends per cm"])
    off = throw.warp.finished_width / 0.92
    assert ends[2] == f"{throw.warp.ends / off * 10:.1f}"
    assert "opened out" in sizes.words
    assert "2 times the width of one" in record_sheet(throw).how


def test_who_wove_it_is_asked_where_nobody_is_named():
    assert record_sheet(project_of()).blanks[0] == "woven by"
    named = project_of(project={"title": "A cloth", "maker": "Fernhollow Weaving Room"})
    assert "woven by" not in record_sheet(named).blanks
    assert "Fernhollow Weaving Room" in text_of(named, "A4")


def test_cautions_give_way_to_labels_and_rules():
    assert record_sheet(project_of()).cautions.startswith("Labels and local rules")


PLAIN = ["twill-scarf", "kitchen-towels", "double-width-throw", "cushion-cover"]


@pytest.mark.parametrize(
    ("name", "paper"), [*((name, "A4") for name in PLAIN), ("twill-scarf", "Letter")]
)
def test_a_plain_project_has_one_page(name, paper):
    plan = project(name)
    assert len(SHEETS["record"](plan, frame_of(plan, paper)).pages) == 1


@pytest.mark.parametrize("paper", ["A4", "Letter", "A5"])
@pytest.mark.parametrize("name", [*PLAIN, "four-towels", "triple-width-banner"])
def test_every_figure_is_on_the_page(name, paper):
    """Read back from the PDF with another library."""
    plan = project(name)
    text, card = text_of(plan, paper), record_sheet(plan)
    every = [kept for sizes in card.sizes for row in sizes.stages for kept in row.stages if kept]
    every += figures(card).values()
    for kept in every:
        assert kept.planned in text
        assert kept.actual in text
    for each in card.yarns:
        for mass in (each.planned, each.before, each.after, each.used):
            assert mass in text


@pytest.mark.parametrize("paper", ["A4", "Letter", "A5", "5 x 8 in"])
def test_eight_yarns_and_long_names(paper):
    long = "hand-dyed singles from the second flock, walnut over madder, lot nine"
    yarns = {
        f"y{place}": {"name": f"{long} {place}", "fibre": "cotton", "size": "Ne 8/2"}
        for place in range(8)
    }
    kinds = [{"piece": f"towel for the guests, {long}"[:80]}, {"piece": "short", "length": "40 in"}]
    plan = project_of(
        yarns=yarns, pieces=kinds, weft_order="y0", given={"ends": "752"},
        warp_order="(" + ", ".join(f"1 y{place}" for place in range(8)) + ") to fill",
    )  # fmt: skip
    frame = frame_of(plan, paper)
    drawing = SHEETS["record"](plan, frame)
    for page in drawing.pages:
        assert faults(page, frame) == []
    text = text_of(plan, paper)
    assert all(f"lot nine {place}" in text for place in range(8))
