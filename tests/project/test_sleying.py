"""The sleying of whole projects: which reed, folds found by the analysis, one width everywhere."""

import pytest

from cards.plan_json import plan_data
from cards.project import work_out
from cards.sley_card import sley_card
from cards.spec import read_spec
from cards.warping_card import warping_card
from tests.project.layered_specs import in_inches
from tests.project.worked import codes, outcome_of, project_of
from tests.worked_specs import SPECS

IN = 25.4
REED = {"action": "rising", "shafts": "4", "treadles": "4", "reed": "12 per in"}
CLOTH = {"width": "40 in", "length": "40 in"}


def loom(**more):
    return {"action": "rising", "shafts": "4", "treadles": "6"} | more


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_one_width_in_the_reed_on_every_card(path):
    project = work_out(read_spec(path)).project
    plan = plan_data(work_out(read_spec(path)), drawdown=False)
    width = project.warp.width_in_reed
    sley = plan["sley"]
    assert width == sley["width_mm"] == plan["warp"]["width_in_reed_mm"]
    assert width == pytest.approx(sley["dents"] / sley["reed_per_100mm"] * 100)
    assert warping_card(project).width == width
    assert sum(bout.width for bout in warping_card(project).bouts) == pytest.approx(width)
    (step,) = [each for each in project.steps if each.name == "width in the reed"]
    assert (step.value, step.formula) == (width, "dents ÷ reed")
    (dents,) = [each for each in project.steps if each.name == "dents"]
    assert dents.value == sley["dents"]


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_the_plan_holds_together(path):
    plan = plan_data(work_out(read_spec(path)), drawdown=False)
    sley = plan["sley"]
    per_dent = [ends for ends, dents in sley["per_dent"] for _ in range(dents)]
    assert (len(per_dent), sum(per_dent)) == (sley["dents"], plan["warp"]["ends"])
    first, last = (edge["dents_from_edge"] for edge in sley["edges"])
    assert per_dent[: len(first)] == first
    assert per_dent[::-1][: len(last)] == last
    for edge in sley["edges"]:
        folds = {side for piece in plan["cloth"]["pieces"] for side in piece["folds"]}
        assert edge["fold"] == (edge["side"] in folds)
    assert sley["edges"][0]["side"] == plan["warp"]["first_end"]
    assert sley["reeds"][0]["pattern"] == sley["pattern"]


def test_a_fold_is_opened_over_four_dents():
    # One end fewer in four dents: common practice, no source. 384 dents would hold 768 ends.
    project = in_inches({"join": "left"}, cloth=CLOTH, loom=REED)
    ends = project.warp.ends
    assert project.sleying.runs() == ((2, (ends - 4) // 2), (1, 4))
    assert project.warp.width_in_reed / IN == pytest.approx((ends + 4) / 24)
    # The cloth closes there: its width is that of the even sett.
    even = in_inches({"join": "left"}, cloth=CLOTH, loom=REED, sley={"fold_open": "0"})
    assert even.sleying.runs() == ((2, ends // 2),)
    assert project.warp.finished_width == pytest.approx(even.warp.finished_width)
    assert project.warp.width_in_reed - even.warp.width_in_reed == pytest.approx(2 / 12 * IN)
    # The weft crosses the wider warp.
    more = project.weft.by_yarn[0].need.length / even.weft.by_yarn[0].need.length
    assert more == pytest.approx(project.warp.width_in_reed / even.warp.width_in_reed)


@pytest.mark.parametrize(
    ("join", "first_end", "opened"),
    [
        ("left", "right", [False, True]),
        ("right", "right", [True, False]),
        ("left", "left", [True, False]),
        ("tube", "right", [True, True]),
        ("none", "right", [False, False]),
    ],
)
def test_edges_are_opened_where_the_fold_is(join, first_end, opened):
    project = in_inches(
        {"join": join}, cloth=CLOTH, loom=REED, conventions={"first_end": first_end}
    )
    edges = (project.sleying.first, project.sleying.last)
    assert [edge.kind == "opened" for edge in edges] == opened


def test_the_fold_of_a_written_draft_is_found_by_the_analysis():
    project = project_of(
        loom=loom(reed="12 per in"),
        sett="12 per in",
        picks="12 per in",
        expect={"layers": "2", "pieces": "folded"},
        draft={"threading": "(1 2 3 4) to fill", "lifts": "(1; 1 2 3; 1 3 4; 3) x 20"},
    )
    assert project.cloth.fold_sides == ("left",)
    assert project.sleying.first.dents == ()
    assert project.sleying.last.dents == (1, 1, 1, 1)


def test_layers_stay_whole_beside_a_fold():
    """Ends of each layer are counted in every dent, from the layers that the analysis finds."""
    project = in_inches(
        {"layers": "3", "join": "left"},
        cloth=CLOTH,
        loom={"action": "rising", "shafts": "6", "treadles": "8", "reed": "12 per in"},
    )
    assert project.sleying.pattern == (3,)
    assert project.sleying.first.dents == (2, 2, 2)
    layer_of = {
        end: place for place, layer in enumerate(project.cloth.main.layers) for end in layer.ends
    }
    end, body = 0, []
    for ends in project.sleying.per_dent():
        body.append(sorted(layer_of[each] for each in range(end, end + ends)))
        end += ends
    assert all(dent == [0, 1, 2] for dent in body[3:-3])


@pytest.mark.parametrize("ratio", ["1 1", "2 2", "2 1", "4 2", "1 2"])
def test_layers_are_whole_in_the_dents_of_which_it_is_said(ratio):
    """Held against the layers that the analysis finds in every dent of the reed that is taken."""
    project = in_inches(
        {"join": "none", "ratio": ratio},
        cloth=CLOTH,
        loom=REED | {"reed": "12 per in", "reeds": ["24 per in", "12 per in", "6 per in"]},
    )
    layer_of = {
        end: place for place, layer in enumerate(project.cloth.main.layers) for end in layer.ends
    }
    in_a_turn = [int(each) for each in ratio.split()]
    end, whole = 0, True
    for ends in project.sleying.per_dent()[:-1]:
        dent = [layer_of[each] for each in range(end, end + ends)]
        share = [dent.count(layer) * sum(in_a_turn) for layer in (0, 1)]
        whole = whole and share == [each * ends for each in in_a_turn]
        end += ends
    (choice,) = [each for each in project.in_reed.choices if each.reed == project.sleying.reed]
    assert choice.whole == whole == sley_card(project).whole[0]


def test_a_fold_in_a_fine_reed_has_a_dent_skipped():
    project = in_inches({"join": "left"}, cloth=CLOTH, loom=REED | {"reed": "24 per in"})
    assert project.sleying.runs()[-3:] == ((1, project.warp.ends - 1), (0, 1), (1, 1))


def test_doubled_ends_at_the_open_edge_only():
    project = in_inches({"join": "left"}, cloth=CLOTH, loom=REED, sley={"doubled": "4"})
    assert (project.sleying.first.kind, project.sleying.first.dents) == ("doubled", (4,))
    assert project.sleying.last.kind == "opened"


def test_doubled_ends_make_a_cloth_narrower():
    # 8 ends that would take 8 dents take 4.
    even = project_of(loom=loom(reed="24 per in"))
    doubled = project_of(loom=loom(reed="24 per in"), sley={"doubled": "4"})
    assert even.warp.width_in_reed - doubled.warp.width_in_reed == pytest.approx(4 / 24 * IN)
    ratio = doubled.warp.finished_width / even.warp.finished_width
    assert ratio == pytest.approx((even.warp.ends - 4) / even.warp.ends)


def test_the_best_reed_is_taken_and_told():
    outcome = outcome_of(loom=loom(reeds=["15 per in", "12 per in", "10 per in"]))
    assert codes(outcome) == ["reed-chosen"]
    assert "12 per in" in outcome.findings[0].message
    project = outcome.project
    assert project.reed * IN == pytest.approx(12)
    assert [float(each.reed) * IN for each in project.in_reed.choices] == pytest.approx(
        [12, 15, 10]
    )


def test_the_reed_given_is_used_whatever_else_there_is():
    outcome = outcome_of(loom=loom(reed="10 per in", reeds="12 per in, 15 per in"))
    assert outcome.project.reed * IN == pytest.approx(10)
    assert outcome.project.sleying.pattern == (2, 2, 3, 2, 3)
    assert codes(outcome) == ["better-reed"]
    # Nothing is said where the others are no better.
    assert codes(outcome_of(loom=loom(reed="12 per in", reeds=["8 per in", "12 per in"]))) == []


def test_a_single_reed_is_taken_without_a_word():
    assert codes(outcome_of(loom=loom(reeds="12 per in"))) == []


def test_an_own_pattern():
    project = project_of(loom=loom(reed="16 per in"), sley={"pattern": "1-2 1-2"})
    assert project.sleying.pattern == (1, 2)
    assert project.sleying.error == 0


def test_a_width_that_is_given_stays():
    project = project_of(
        loom=loom(reed="12 per in"), given={"width_in_reed": "22 in"}, sley={"doubled": "4"}
    )
    assert project.warp.width_in_reed / IN == pytest.approx(22)
    (step,) = [each for each in project.steps if each.name == "width in the reed"]
    assert step.origin == "given"


def test_without_a_reed_the_width_is_that_of_the_sett():
    project = project_of()
    assert project.sleying is project.in_reed is project.reed is None
    assert project.warp.width_in_reed / IN == pytest.approx(project.warp.ends / 24)
    assert plan_data(outcome_of())["sley"] is None
