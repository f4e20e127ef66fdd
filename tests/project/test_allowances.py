"""Allowances of a project: given or assumed, their range and source, and what lies far outside."""

from dataclasses import replace

import pytest

from cards.plan_json import plan_data
from cards.plan_table import plan_table
from cards.project import work_out
from cards.project.allowance_checks import check_ranges
from cards.project.problems import Problems
from cards.spec import read_spec
from tests.project.worked import codes, outcome_of, project_of
from tests.worked_specs import SPECS

LAYERED = {
    "units": "metric",
    "yarns": {
        "wool": {"fibre": "woollen", "size": "Nm 6/2"},
        "silk": {"fibre": "silk", "size": "Nm 6/2"},
    },
    "cloth": {"width": "40 cm", "length": "100 cm"},
    "sett": "5 per cm",
    "picks": "5 per cm",
}
TWO = {"double_weave": {"layers": "2", "join": "none", "warps": "wool", "wefts": ["wool", "silk"]}}


def allowance(outcome, name):
    return next(each for each in plan_data(outcome)["allowances"] if each["name"] == name)


def findings(outcome, code):
    return [each for each in outcome.findings if each.code == code]


def test_every_allowance_has_value_range_origin_and_source():
    outcome = outcome_of(allowances={"take_up": "9 %"})
    given = allowance(outcome, "take-up of the warp")
    # Trade figures for cotton, from memory: 6 to 12 %, by default 10 %.
    assert given == {
        "name": "take-up of the warp", "value": pytest.approx(0.09), "low": 0.06, "high": 0.12,
        "unit": "fraction", "origin": "given", "source": "from memory",
    }  # fmt: skip
    assumed = allowance(outcome, "loom waste")
    assert (assumed["origin"], assumed["unit"]) == ("assumed", "mm")
    assert assumed["value"] == pytest.approx(30 * 25.4)
    names = [each["name"] for each in plan_data(outcome)["allowances"]]
    assert len(names) == len(set(names))
    assert {"draw-in", "shrinkage in width", "buying margin", "header", "sample"} <= set(names)


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_every_allowance_has_a_place_where_it_could_be_given(path):
    """A figure far from what is usual is pointed at wherever it stands, so each must be known."""
    reading = read_spec(path)
    for step in work_out(reading).project.allowances:
        far = replace(step, origin="given", value=1e9, low=1.0, high=2.0)
        problems = Problems(reading.places, reading.spec.units)
        check_ranges([far], problems)
        assert [each.code for each in problems.findings] == ["outside-range"], step.name


def test_the_table_says_given_or_assumed():
    table = plan_table(project_of(allowances={"take_up": "9 %"}))
    part = table.split("\nAllowances\n")[1].split("\n\n")[0]
    rows = {line[2:].split("  ")[0]: line.split("  ")[-1] for line in part.splitlines()}
    assert rows["take-up of the warp"].strip() == "9 %, given (usual 6–12 %)"
    assert rows["loom waste"].strip() == "30 in, assumed (usual 24–36 in)"


def test_allowances_stay_where_the_width_is_given():
    outcome = outcome_of(given={"width_in_reed": "30 in"})
    assert allowance(outcome, "draw-in")["origin"] == "assumed"


@pytest.mark.parametrize(
    ("change", "words"),
    [
        # Twice 12 % is the most that passes, half of 6 % the least.
        ({"allowances": {"take_up": "24.1 %"}}, "24.1 % is much more than the usual 6 % to 12 %"),
        ({"allowances": {"take_up": "2.9 %", "relaxation": "1 %"}}, "much less"),
        ({"allowances": {"take_up": "0 %", "relaxation": "0 %"}}, "take-up of the warp: 0 %"),
        ({"allowances": {"shrinkage": {"width": "21 %"}}}, "shrinkage in width"),
        ({"allowances": {"spare_ends": "9"}}, "spare ends of each yarn: 9 is much more"),
        ({"loom": {"action": "rising", "shafts": "4", "waste": "80 in"}}, "80 in is much more"),
    ],
)
def test_far_outside_the_usual_is_noted(change, words):
    found = findings(outcome_of(**change), "outside-range")
    assert len(found) == 1
    assert words in found[0].message
    assert found[0].level == "note"


@pytest.mark.parametrize("take_up", ["3 %", "24 %"])
def test_half_and_double_still_pass(take_up):
    allowances = {"take_up": take_up, "relaxation": "2 %", "sample": "0 in", "draw_in": "0 %"}
    assert codes(outcome_of(allowances=allowances)) == []


def test_layers_of_different_fibres_are_warned_of():
    """Woollen takes up 10 %, silk 7 % (from memory): 3 points of the warp that is woven."""
    built = {**TWO["double_weave"], "warps": ["wool", "silk"]}
    outcome = outcome_of(**LAYERED, draft={"double_weave": built})
    (found,) = findings(outcome, "unequal-take-up")
    assert found.level == "warning"
    # 100 cm ÷ 0.85 ÷ 0.90 = 130.7 cm of warp, of which 3 points are 3.9 cm.
    assert "woollen takes up 10%" in found.message
    assert "silk 7%: 3.9 cm apart over the 1.31 m" in found.message
    assert "common practice, no source" in found.mend


def test_layers_of_one_fibre_and_weave_are_not():
    assert findings(outcome_of(**LAYERED, draft=TWO), "unequal-take-up") == []


WEAVES = {**TWO["double_weave"], "weave": ["plain", "3/1 twill"]}
MORE_SHAFTS = {"action": "table", "shafts": "8"}


def test_layers_of_different_weaves_are_warned_of_and_noted_where_the_take_up_is_given():
    """Plain ends bend at every pick, those of a 3/1 twill at two of four."""
    outcome = outcome_of(**LAYERED, loom=MORE_SHAFTS, draft={"double_weave": WEAVES})
    (found,) = findings(outcome, "unequal-take-up")
    assert found.level == "warning"
    assert "the ends of layer 1 bend 2 times as often as those of layer 2" in found.message
    given = outcome_of(
        **LAYERED, loom=MORE_SHAFTS, draft={"double_weave": WEAVES}, allowances={"take_up": "9 %"}
    )
    (found,) = findings(given, "unequal-take-up")
    assert found.level == "note"


def test_layers_of_unlike_picks_bend_unlike_often():
    built = {**TWO["double_weave"], "ratio": "2 1"}
    found = findings(
        outcome_of(**LAYERED, loom=MORE_SHAFTS, draft={"double_weave": built}), "unequal-take-up"
    )
    assert len(found) == 1
