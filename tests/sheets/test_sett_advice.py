"""The advice on a sett: what its card says, and what stands on paper."""

import re
from io import BytesIO

import pypdf
import pytest

from cards.plan_json import plan_data
from cards.project import work_out
from cards.sett_advice import sett_advice_card
from cards.spec import read_spec
from layouts.folio import frame_of, pdf_file
from layouts.sheet_list import SHEETS, folio_of, sheets_of
from tests.project.worked import outcome_of, project_of
from tests.sheets.looks import faults
from tests.worked_specs import FOLDER, SPECS

SLUG = "sett-advice"
TWILL = {
    "threading": "(1 2 3 4) to fill",
    "tie_up": {"1": "1 2", "2": "2 3", "3": "3 4", "4": "1 4", "5": "1 3", "6": "2 4"},
    "treadling": "1 2 3 4",
}
# A weave of many kinds: unlike yarns, wraps, a blend, plain hems, several reeds.
MIXED = {
    "yarns": {
        "fine": {
            "fibre": {"silk": "70 %", "linen": "30 %"},
            "size": "Nm 40/2",
            "wraps": "90 per in",
        },
        "coarse": {"fibre": "woollen", "wraps": "24 per in", "ashenhurst": "0.8"},
        "folded": {"size": "Ne 20 + tex 30"},
    },
    "loom": {"action": "rising", "shafts": "4", "reeds": ["8 per in", "12 per in", "15 per in"]},
    "cloth": {"width": "20 in", "length": "60 in", "use": "apparel"},
    "draft": TWILL,
    "warp_order": "fine",
    "weave": [
        {"section": "hem", "length": "2 in", "treadling": "5 6", "weft": "fine"},
        {"section": "body", "length": "fill", "weft": "(coarse, folded) x 20"},
    ],
}


def words_of(project, paper="A4"):
    drawing = SHEETS[SLUG](project, frame_of(project, paper))
    reader = pypdf.PdfReader(BytesIO(pdf_file(project, [drawing], "x").data))
    return [" ".join(page.extract_text().split()) for page in reader.pages]


@pytest.mark.parametrize("paper", ["A4", "A5", "5 x 8 in", "Letter"])
@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_a_cloth_of_many_kinds_is_drawn_well(units, paper):
    project = project_of(**MIXED, units=units)
    frame = frame_of(project, paper)
    for page in SHEETS[SLUG](project, frame).pages:
        assert faults(page, frame) == []


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_a_worked_spec_takes_one_page_and_says_what_the_plan_says(path):
    outcome = work_out(read_spec(path))
    (text,) = words_of(outcome.project)
    plan = plan_data(outcome, drawdown=False)
    length = 10 if plan["units"] == "metric" else 25.4
    for layer in plan["sett"]["advice"]:
        for threads in (layer["ends"], layer["picks"]):
            assert f"{round(threads['share_of_closest'] * 100)} %" in text
            closest = f"{threads['closest_per_100mm'] / 100 * length:.2f}".rstrip("0").rstrip(".")
            assert f"= {closest} per" in text
            assert f"= {threads['cover_factor']:.1f}" in text
        assert f"= {layer['cover_factor']:.1f}" in text
    assert f"{plan['cloth_weight_g_m2']:.0f} g/m²" in text


def test_no_worked_spec_is_told_off():
    for path in SPECS:
        outcome = work_out(read_spec(path))
        assert "sett-far-off" not in [each.code for each in outcome.findings], path.stem


def test_the_formulas_can_be_followed_with_a_pencil():
    # 8/2 cotton, 3360 yd/lb: 52 side by side and 26 plain (medievaltextiles.org, ash page, 1999).
    (text,) = words_of(project_of(sett="20 per in", picks="20 per in"))
    assert "2 ends, 2 intersections: plain" in text
    assert "0.90 (for cotton) × √3360 yd/lb" in text
    sum_ = re.search(r"closest: ([\d.]+) × 2 ÷ \(2 \+ 2\) = ([\d.]+) per in", text)
    assert float(sum_[1]) == pytest.approx(52, abs=0.5)
    assert float(sum_[2]) == pytest.approx(26, abs=0.5)
    assert float(sum_[1]) / 2 == pytest.approx(float(sum_[2]), abs=0.006)
    for kind, threads in (("Warp", "ends"), ("Weft", "picks")):
        found = re.search(
            rf"{kind}: ([\d.]+) {threads} per cm × ([\d.]+) tex × ([\d.]+) m of yarn in each metre "
            r"÷ 10 = ([\d.]+) g/m²",
            text,
        )
        per_cm, tex, length, weight = map(float, found.groups())
        assert per_cm * tex * length / 10 == pytest.approx(weight, rel=2e-3)


def test_the_use_is_framed_and_the_chosen_sett_found():
    card = sett_advice_card(project_of(**{**MIXED, "sett": "33 per in"}))
    (part,) = card.parts
    assert [row.uses for row in part.rows if row.asked] == [("apparel",)]
    held = {use for row in part.rows if row.holds for use in row.uses}
    assert held == {
        each
        for row in part.rows
        for each in row.uses
        if row.share[0] <= part.advice.ends.share <= row.share[2]
    }
    assert card.sections == ("body",)
    # A plain hem of fine weft leaves more room than a twill of coarse weft.
    assert card.closer == ()
    assert part.for_advised[0].sett == pytest.approx(part.advised, rel=0.02)
    assert part.for_chosen[0].sett * 25.4 == pytest.approx(33, rel=0.02)


def test_reeds_give_setts_of_one_layer():
    project = work_out(read_spec(FOLDER / "two-runners.yaml")).project
    (part,) = sett_advice_card(project).parts
    assert part.layers == (1, 2)
    assert part.for_chosen[0].sett * 25.4 == pytest.approx(12)


def test_it_is_printed_unasked_only_where_the_sett_is_far_off():
    near = project_of(sett="20 per in")
    assert SLUG in sheets_of(near)
    assert SLUG not in folio_of(near)
    far = project_of(sett="20 per in", cloth={"width": "27 in", "length": "72 in", "use": "lace"})
    assert SLUG in folio_of(far)


def test_a_plain_hem_of_a_twill_is_told_as_closer():
    plain = {**MIXED["weave"][0], "weft": "natural"}
    project = project_of(draft=TWILL, weave=[plain, {"section": "body", "length": "fill"}])
    (text,) = words_of(project)
    assert "In hem the ends lie closer: 92 % of the closest, 26.08 per in" in text


def test_a_cloth_that_does_not_interlace_has_none():
    project = outcome_of(draft={"threading": "(1 2) to fill", "lifts": "1; 1"}).project
    assert project.sett_advice.layers == ()
    assert SLUG not in sheets_of(project)
    with pytest.raises(ValueError, match="interlace"):
        sett_advice_card(project)


def test_the_mean_thickness_of_unlike_threads_can_be_redone():
    """Every mean on the page, redone by its own figures, comes to what is printed."""
    words = " ".join(words_of(project_of(**MIXED)))
    means = re.findall(
        r"Mean thickness of the (ends|picks): \((.*?)\) ÷ (\d+) = (\d\.\d{3}) mm", words
    )
    assert [name for name, *_ in means] == ["picks"]
    for _, parts, count, mean in means:
        pairs = re.findall(r"(\d+) × (\d\.\d{3}) mm", parts)
        assert len(pairs) > 1
        assert sum(int(number) for number, _ in pairs) == int(count)
        total = sum(int(number) * float(thick) for number, thick in pairs)
        assert total / int(count) == pytest.approx(float(mean), abs=0.001)
        assert f"{mean} mm + " in words
        for _, thick in pairs:
            assert f"{thick} mm thick" in words
