"""Layered projects worked out, against numbers reckoned by hand.

Cotton by default: draw-in 7 %, shrinkage 7 % in width and 8 % in length, take-up 10 %, relaxation
3 % (trade figures, from memory); every division below is one step of the ordinary calculation, with
the finished width first divided by the widths of the cloth (common practice, no source).
"""

from collections import Counter

import numpy as np
import pytest

from cards.layer_marks import layer_marks
from cards.project.float_lengths import longest
from tests.project.worked import codes, outcome_of, project_of

IN = 25.4
TWO_YARNS = {
    "slate": {"fibre": "cotton", "size": "Ne 8/2"},
    "sand": {"fibre": "cotton", "size": "Ne 8/2"},
}


def layered_spec(double_weave=None, **changes):
    return {
        "cloth": {"width": "18 in", "length": "20 in"},
        "sett": "12 per in",
        "picks": "12 per in",
        "loom": {"action": "rising", "shafts": "8", "treadles": "10"},
        "draft": {"double_weave": double_weave or {}},
    } | changes


def layered(double_weave=None, **changes):
    return project_of(**layered_spec(double_weave, **changes))


def findings(double_weave=None, **changes):
    return outcome_of(**layered_spec(double_weave, **changes))


def step(project, name):
    return next(each for each in project.steps if each.name == name)


def lift_text(lifts):
    return "/".join("".join(map(str, sorted(lift))) for lift in lifts)


def kinds(project):
    return [[piece.kind for piece in each.pieces] for each in project.cloth.stretches]


def shuttle_picks(project):
    return np.bincount(project.cloth.plan.shuttles).tolist()


def test_a_double_width_throw():
    # Worked by hand: 54 in / 2 = 27; 27 / 0.93 / 0.93 = 31.22 in the reed; x 24 = 749.2 ends, up to
    # 752, which is 31.33 in. 72 / 0.92 = 78.26 off the loom, / 0.9 = 86.96 of warp, / 0.97 = 80.68
    # woven to; x 24 = 1936.4, so 1937 picks.
    project = layered(
        {"join": "left"},
        cloth={"width": "54 in", "length": "72 in", "fringe": {"length": "5 in"}},
        loom={"action": "rising", "shafts": "4", "treadles": "4", "reed": "12 per in"},
        # The figures above are those of an even sleying.
        sley={"fold_open": "0"},
    )
    assert step(project, "width wanted in the reed").value / IN == pytest.approx(31.22, abs=0.005)
    assert step(project, "ends").raw == pytest.approx(749.2, abs=0.05)
    assert project.warp.ends == 752
    assert project.warp.width_in_reed / IN == pytest.approx(31.33, abs=0.005)
    assert step(project, "cloth off the loom, one piece").value / IN == pytest.approx(
        78.26, abs=0.005
    )
    assert step(project, "warp used, one piece").value / IN == pytest.approx(86.96, abs=0.005)
    weave_to = step(project, "weave to, under tension, one piece").value
    assert weave_to / IN == pytest.approx(80.68, abs=0.005)
    # Fringe: 5 / 0.92 / 0.85 + 2 in for the knot.
    assert step(project, "one fringe on the loom").value / IN == pytest.approx(8.39, abs=0.005)
    assert project.warp.length == pytest.approx(4.5 * 914.4)
    assert step(project, "picks of one piece").value == 1937
    # Up to whole repeats of four picks, so that the last row is whole.
    assert project.weft.picks_each == 1940
    # 752 ends and 2 spare ones, 4.5 yd each.
    assert project.warp.by_yarn[0].need.length / 914.4 == pytest.approx(3393)
    # 752 ends / 24 x 0.93 x 0.93, twice.
    assert project.warp.finished_width / IN == pytest.approx(54.20, abs=0.005)
    # (1940 picks and 12 in x 24 of a sample) x 31.33 in x 1.1 x 1.05.
    weft = (1940 + 288) * 31.3333 * 1.155 / 36
    assert project.weft.by_yarn[0].need.length / 914.4 == pytest.approx(weft, rel=1e-5)
    assert [(each.rise, each.number) for each in project.loom.tied] == [
        ((1,), 1),
        ((1, 2, 3), 2),
        ((1, 3, 4), 3),
        ((3,), 4),
    ]
    assert project.sleying.true_sett_per_mm * IN == pytest.approx(24)


@pytest.mark.parametrize(
    "cloth", [{"width": "18 in", "length": "20 in"}, {"circumference": "36 in", "length": "20 in"}]
)
@pytest.mark.parametrize("join", ["tube", "1-2 left, 1-2 right"])
def test_a_tube_by_its_flat_width_and_by_its_circumference(cloth, join):
    # 18 / 0.93 / 0.93 = 20.81 in; x 24 = 499.5, up to 500; one is dropped, for a tube needs an odd
    # number (weavingspace.co.uk, "Tubular double weave"). 499 / 24 x 0.93 x 0.93 = 17.98 in flat.
    project = layered({"join": join}, cloth=cloth)
    assert step(project, "ends").value == 500
    assert project.warp.ends == 499
    assert project.warp.widths == 1
    assert project.warp.finished_width / IN == pytest.approx(17.98, abs=0.005)
    assert kinds(project) == [["tube"]]
    assert shuttle_picks(project) == [540]


def test_a_tube_of_four_layers_lies_flat_twice_as_wide_as_one():
    # 36 in round is 18 in flat, so 9 in a layer: 9 / 0.93 / 0.93 x 48 = 499.5; the threading comes
    # out on eights: 504, less one.
    join = ["1-2 left", "2-3 right", "3-4 left", "1-4 right"]
    cloth = {"circumference": "36 in", "length": "20 in"}
    project = layered({"layers": "4", "join": join}, cloth=cloth)
    assert project.warp.ends == 503
    assert project.warp.finished_width / IN == pytest.approx(503 / 48 * 0.93 * 0.93 * 2)


def test_triple_width_on_six_shafts():
    # 18 / 3 = 6 in; / 0.93 / 0.93 x 36 = 249.7, up to a multiple of six: 252. Picks: 20 / 0.92 / 0.97
    # = 22.41 in x 36 = 806.8, up to 807; whole rounds of six: 810.
    project = layered({"layers": "3", "join": "left"}, loom={"action": "table", "shafts": "6"})
    assert project.warp.ends == 252
    assert project.warp.widths == 3
    assert project.warp.finished_width / IN == pytest.approx(252 / 36 * 0.93 * 0.93 * 3)
    assert step(project, "picks of one piece").value == 807
    assert project.weft.picks_each == 810
    # Triple cloth by the rule of Taylor, 1909, page 200; the order is that of the trade tables.
    assert lift_text(project.draft.lifts[:6]) == "1/124/12345/12456/145/4"


def test_sett_and_picks_are_those_of_one_layer():
    project = layered({"layers": "4"})
    assert project.sett.ends_layer * IN == pytest.approx(12)
    assert project.sett.ends_total * IN == pytest.approx(48)
    assert project.sett.picks_layer * IN == pytest.approx(12)
    assert project.sett.picks_total * IN == pytest.approx(48)


def test_two_cloths_of_two_yarns():
    # 22.41 in x 24 = 537.9: 538 picks, up to 540; 270 in each cloth.
    project = layered({"warps": ["slate", "sand"], "wefts": ["slate", "sand"]}, yarns=TWO_YARNS)
    assert project.weft.picks_each == 540
    assert [(each.yarn.key, each.threads) for each in project.weft.by_yarn] == [
        ("slate", 270),
        ("sand", 270),
    ]
    assert [(each.yarn.key, each.threads) for each in project.warp.by_yarn] == [
        ("slate", 250),
        ("sand", 250),
    ]
    assert [(each.number, each.yarn, each.start) for each in project.cloth.shuttles] == [
        (1, "slate", "right"),
        (2, "sand", "right"),
    ]
    assert shuttle_picks(project) == [270, 270]
    assert project.draft.weft[:4] == ("slate", "sand", "slate", "sand")


def test_cloths_that_change_places_keep_their_yarns():
    project = layered(
        {"warps": ["slate", "sand"], "wefts": ["slate", "sand"]},
        yarns=TWO_YARNS,
        weave=[
            {"section": "slate above", "picks": "40"},
            {"section": "sand above", "picks": "40", "stack": "2 1"},
            {"section": "slate above again", "length": "fill"},
        ],
    )
    # Sheds of the exchanged cloths by hand: 2, 4 above; 124, 234 below them.
    assert lift_text(project.draft.lifts[40:44]) == "2/124/4/234"
    assert [each.lanes for each in project.cloth.stretches] == [(0, 1), (1, 0), (0, 1)]
    # Every pick crosses ends of its own yarn only: warp and weft of a layer are one yarn.
    order = project.warp.order.values()
    for stretch in project.cloth.stretches:
        for layer in stretch.layers:
            warp = {order[end] for end in layer.ends}
            weft = {project.draft.weft[stretch.first_pick + pick] for pick in layer.picks}
            assert warp == weft
            assert len(warp) == 1


def test_a_bag():
    # Base: 2 / 0.92 / 0.97 = 2.241 in at 12 picks, 27; the open end: 3 in, 3.362 at 24, 81. What is
    # left: 22.41 - 27/12 - 81/24 = 16.79 in at 24 = 402.9, 403, up to whole fours, 404.
    project = layered(
        {"join": "tube"},
        weave=[
            {"section": "base", "length": "2 in", "join": "closed"},
            {"section": "bag", "length": "fill"},
            {"section": "open", "length": "3 in", "join": "none"},
        ],
    )
    assert [each.picks for each in project.weft.sections] == [27, 404, 81]
    finished = [each.finished / IN for each in project.weft.sections]
    assert finished == pytest.approx([27 / 12 * 0.8924, 404 / 24 * 0.8924, 81 / 24 * 0.8924])
    assert [len(each.layers) for each in project.cloth.stretches] == [1, 2, 2]
    assert kinds(project) == [["flat"], ["tube"], ["flat", "flat"]]
    # One shuttle weaves base and tube and goes on in the lower cloth, which it left last: of the 81
    # picks a new one has the first and every other.
    assert shuttle_picks(project) == [27 + 404 + 40, 41]
    assert len(project.loom.tied) == 6
    assert [each.rise for each in project.loom.tied[:2]] == [(1, 3), (2, 4)]
    assert longest(project.cloth, project.warp, project.weft, "weft").threads == 1


@pytest.mark.parametrize("join", ["closed", "none"])
def test_layers_woven_together_throughout_are_as_wide_as_one(join):
    # 18 / 0.93 / 0.93 x 24 = 499.5, up to 500.
    project = layered({"join": join})
    assert project.warp.ends == 500
    assert project.warp.widths == 1
    # 22.41 in at 12 picks: 268.9.
    assert project.weft.picks_each == (269 if join == "closed" else 540)


def test_two_ends_above_to_one_below():
    # Sett of the top layer 12, in all 18: 20.81 x 18 = 374.6, up to sixes: 378, 252 and 126. Picks
    # 22.41 x 18 = 403.4, 404; sheds and shuttles come again after six: 408, 272 and 136.
    project = layered({"ratio": "2:1"})
    assert project.sett.ends_total * IN == pytest.approx(18)
    assert project.warp.ends == 378
    assert Counter(shaft % 2 for shaft in project.draft.threading) == {1: 252, 0: 126}
    assert step(project, "picks of one piece").value == 404
    assert shuttle_picks(project) == [272, 136]
    # 378 / 18 x 0.93 x 0.93.
    assert project.warp.finished_width / IN == pytest.approx(18.16, abs=0.005)


def test_joined_layers_have_as_many_picks_whatever_their_ends():
    # The weft goes round: as many picks below as above, 24 to the inch.
    project = layered({"ratio": "2 1", "join": "tube"})
    assert project.warp.ends == 377
    assert project.weft.picks_each == 540
    assert Counter(len(layer.picks) for layer in project.cloth.main.layers) == {270: 2}


def test_too_few_treadles_list_the_shafts():
    loom = {"action": "rising", "shafts": "4", "treadles": "3"}
    outcome = findings({"join": "left"}, loom=loom)
    assert codes(outcome) == ["too-few-treadles"]
    assert outcome.project.loom.tied == ()
    assert outcome.project.draft.treadling == ()
    assert lift_text(outcome.project.draft.lifts[:4]) == "1/123/134/3"


def test_floats_are_those_of_a_layer():
    # A 2/2 twill floats over two: of 12 to the inch a sixth of an inch, 4.2 mm, in warp and weft.
    weave = {"weave": "2/2 twill", "layers": "2"}
    project = layered(weave)
    for system in ("warp", "weft"):
        found = longest(project.cloth, project.warp, project.weft, system)
        assert found.threads == 2
        assert found.length == pytest.approx(IN / 6, rel=0.01)
    for limit, times in (("4.5 mm", 0), ("4 mm", 2)):
        outcome = findings(weave, expect={"longest_float": limit})
        assert codes(outcome).count("long-float") == times


def test_stripes_in_whole_rows_keep_the_cloth_whole():
    # Eight picks are two rows there and back of a double width, six are one and a half.
    for picks, kind, told in ((8, "flat", []), (6, "odd", ["odd-cloth"])):
        outcome = findings(
            {"join": "left", "warps": "slate"},
            yarns=TWO_YARNS,
            weft_order=f"{picks} slate, {picks} sand",
        )
        assert kinds(outcome.project) == [[kind]]
        assert codes(outcome) == told


def test_sections_of_the_author_are_not_made_longer():
    # With 103 picks the upper cloth has 52 sheds and the lower 51: over the fold both were raised at
    # the edge before, and after that one is and one is not.
    sections = [
        {"section": "double", "picks": "100"},
        {"section": "two cloths", "picks": "103", "join": "none"},
        {"section": "double again", "length": "fill"},
    ]
    given = {"ends": "252"}
    outcome = findings({"join": "left"}, weave=sections, given=given)
    assert codes(outcome) == ["layers-do-not-fit"]
    assert outcome.findings[0].mend == "104 picks would do"
    sections[1]["picks"] = "104"
    assert codes(findings({"join": "left"}, weave=sections, given=given)) == []
    # A length leaves the program a pick: 103 picks are 103 / 24 x 0.97 x 0.92 = 3.83 in.
    sections[1] = {"section": "two cloths", "length": "3.82 in", "join": "none"}
    outcome = findings({"join": "left"}, weave=sections, given=given)
    assert codes(outcome) == ["layers-chosen"]
    assert outcome.project.weft.sections[1].picks == 104


def test_joins_that_leave_an_edge_open_have_no_circumference():
    cloth = {"circumference": "36 in", "length": "20 in"}
    assert codes(findings({"join": "1-2 left"}, cloth=cloth)) == ["no-tube"]


def test_a_stack_that_makes_folds_cross_is_told_where_it_stands():
    join = {"layers": "4", "join": "1-2 left, 3-4 left"}
    part = {"section": "exchanged", "length": "fill", "stack": "1 3 2 4"}
    outcome = findings(join, weave=[part])
    assert codes(outcome) == ["no-cloth"]
    assert outcome.findings[0].place.line > 30
    own = {"section": "own", "length": "fill", "stack": "1 3 2 4", "join": "1-3 left, 2-4 left"}
    assert codes(findings(join, weave=[own])) == []


def test_two_tubes_drop_an_end_each():
    # A plain tube needs an odd number of ends (weavingspace.co.uk, "Tubular double weave"); two of
    # them one above the other need two odd numbers.
    joins = "1-2 left, 1-2 right, 3-4 left, 3-4 right"
    project = project_of(
        loom={"action": "table", "shafts": "8"},
        cloth={"width": "20 cm", "length": "30 cm"},
        draft={"double_weave": {"layers": "4", "join": joins}},
    )
    stretch = project.cloth.main
    assert [piece.kind for piece in stretch.pieces] == ["tube", "tube"]
    assert stretch.fold_faults == ()
    ends = [len(layer.ends) for layer in stretch.layers]
    assert (ends[0] + ends[1]) % 2 == (ends[2] + ends[3]) % 2 == 1


@pytest.mark.parametrize(
    ("expected", "widths"), [("tube", 1), ("folded", 2), ("separate", 1), (None, 1)]
)
def test_a_written_draft_is_as_wide_as_what_is_expected_of_it(expected, widths):
    lifts = {"tube": "1; 1 3 4; 3; 1 2 3", "folded": "1; 1 2 3; 1 3 4; 3"}
    expect = {"layers": "2"} | ({"pieces": expected} if expected else {})
    project = project_of(
        loom={"action": "table", "shafts": "4"},
        cloth={"width": "30 cm", "length": "30 cm"},
        expect=expect,
        draft={
            "threading": "(1 2 3 4) to fill, 1 2 3",
            "lifts": lifts.get(expected, "1; 1 2 3; 3; 1 3 4"),
            "shuttles": "1" if expected in lifts else "1 2",
        },
    )
    assert project.warp.widths == widths
    assert project.warp.finished_width == pytest.approx(300, rel=0.02)


def test_shuttles_keep_the_numbers_that_they_were_given():
    project = project_of(
        loom={"action": "table", "shafts": "4"},
        cloth={"width": "30 cm", "length": "30 cm"},
        expect={"layers": "2"},
        draft={
            "threading": "(1 2 3 4) to fill",
            "lifts": "1; 1 2 3; 3; 1 3 4",
            "shuttles": "2 1",
        },
    )
    assert [shuttle.number for shuttle in project.cloth.shuttles] == [2, 1]


def test_few_treadles_of_a_rising_loom_are_pressed_two_at_a_time():
    # Ten lifts on six treadles; pressed together, treadles of a jack loom raise what each raises
    # (common practice, no source).
    outcome = outcome_of(
        loom={"action": "rising", "shafts": "4", "treadles": "6"},
        cloth={"width": "20 cm", "length": "30 cm"},
        draft={"double_weave": {"layers": "2", "join": "tube"}},
        weave=[
            {"section": "base", "length": "2 cm", "join": "closed"},
            {"section": "bag", "length": "fill"},
            {"section": "turned", "length": "4 cm", "stack": "2 1"},
        ],
    )
    assert [each.code for each in outcome.findings if each.level != "note"] == []
    assert "two-treadles-at-once" in codes(outcome)
    draft, tied = outcome.project.draft, outcome.project.loom.tied
    rise = {each.number: set(each.rise) for each in tied}
    assert len(rise) <= 6
    assert max(map(len, draft.treadling)) == 2
    for pressed, lift in zip(draft.treadling, draft.lifts, strict=True):
        assert set().union(*(rise[treadle] for treadle in pressed)) == lift


def test_no_yarn_takes_the_letter_of_a_layer():
    yarn = {"fibre": "cotton", "size": "Ne 8/2"}
    keys = {"yarns": {"slate": yarn, "sand": yarn}, "cloth": {"width": "20 cm", "length": "30 cm"}}
    layers = project_of(
        loom={"action": "table", "shafts": "4"},
        draft={"double_weave": {"layers": "2", "warps": ["slate", "sand"], "wefts": "sand"}},
        **keys,
    )
    assert [each.letter for each in layers.yarns] == ["S", "N"]
    single = project_of(warp_order="slate", weft_order="sand", **keys)
    assert [each.letter for each in single.yarns] == ["S", "A"]


def test_layers_keep_their_letters_whichever_lies_on_top():
    project = project_of(
        loom={"action": "table", "shafts": "4"},
        cloth={"width": "20 cm", "length": "30 cm"},
        draft={"double_weave": {"layers": "2"}},
        weave=[
            {"section": "turned", "length": "fill", "stack": "2 1"},
            {"section": "first on top", "length": "4 cm"},
        ],
    )
    marks = layer_marks(project)
    assert [(mark.letter, mark.shafts, mark.name) for mark in marks] == [
        ("A", (1, 3), ""),
        ("B", (2, 4), ""),
    ]
    assert [stretch.lanes for stretch in project.cloth.stretches] == [(1, 0), (0, 1)]
