"""Pieces that are not alike: by hand, and against the same pieces written as all alike."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cards.calculation.rounding import warp_length_up
from cards.project import work_out
from cards.project.pieces import tried
from cards.project.problems import Problems
from cards.spec import read_spec
from tests.project.worked import codes, outcome_of, project_of, spec_text
from tests.worked_specs import FOLDER

TOWELS = FOLDER / "four-towels.yaml"


def test_four_towels_by_hand():
    """Three towels that shrink by 8 % and a longer one by 6 %: take-up 10 %, relaxation 3 %.

    66 + 2 x 4 cm of cloth are 74 / 0.92 = 80.4348 cm off the loom, 82.9224 under tension, 663.4
    picks: 664 in whole repeats of four, 666 in those of six. 78 / 0.94 = 82.9787 cm, 85.5451 under
    tension are 598.8 picks of 7 to the cm: 602 with two hems of 31 and 540 between them.
    """
    project = work_out(read_spec(TOWELS)).project
    kinds = project.kinds
    assert [(kind.piece, kind.weft.pieces) for kind in kinds] == [
        ("straight twill", 2),
        ("point twill", 1),
        ("linen weft", 1),
    ]
    assert [kind.weft.picks_each for kind in kinds] == [664, 666, 602]
    tape = 74 / 0.92 / 0.97
    used = 74 / 0.92 / 0.90
    longer = 78 / 0.94 / 0.90 * (602 / 7) / (78 / 0.94 / 0.97)
    bare = 2 * used * 83.0 / tape + used * 83.25 / tape + longer + 5 + 30 + 70
    assert project.warp.length == pytest.approx(warp_length_up(10 * bare * 1.05, "metric"))
    # Each pick takes the width in the reed, ten per cent and five per cent more (the assumed ones).
    width = project.warp.width_in_reed
    flax = next(total for total in project.totals if total.yarn.key == "flax")
    assert flax.need.length == pytest.approx(602 * width * 1.1 * 1.05)
    natural = next(total for total in project.totals if total.yarn.key == "natural")
    picks = 2 * 664 + 666 + project.weft.sample_picks
    warp = project.warp.by_yarn[0].need.length
    assert natural.need.length == pytest.approx(warp + picks * width * 1.1 * 1.05)


def test_outer_fringes_of_kinds_that_shrink_unequally_come_out_of_the_waste():
    """By hand: 10 cm finished are 100 / 0.92 / 0.85 + 50 mm at the first piece, / 0.50 at the last.

    One of each stands between the pieces; the outer ones, 463 mm, lie in 75 cm of waste.
    """
    project = project_of(
        cloth={"width": "20 cm", "length": "50 cm",
               "fringe": {"length": "10 cm", "from_waste": "yes", "knot": "5 cm", "twist": "15 %"}},
        loom={"action": "rising", "shafts": "4", "treadles": "6", "waste": "75 cm"},
        allowances={"shrinkage": {"length": "8 %"}, "take_up": "10 %"},
        pieces=[{"piece": "first"},
                {"piece": "last", "allowances": {"shrinkage": {"length": "50 %"}}}],
    )  # fmt: skip
    bare = next(step for step in project.steps if step.name == "warp before the margin")
    inputs = {name: value for name, value, _ in bare.inputs}
    inner = 100 / 0.92 / 0.85 + 50 + 100 / 0.5 / 0.85 + 50
    used = inputs["warp of the other pieces"] - 2 * (100 / 0.5 / 0.85 + 50) - inputs["gap"]
    assert inputs["fringes"] + 2 * (100 / 0.5 / 0.85 + 50) == pytest.approx(inner)
    assert used == pytest.approx(500 / 0.5 / 0.9, rel=0.01)


def test_kinds_share_warp_reed_and_treadles():
    project = work_out(read_spec(TOWELS)).project
    for kind in project.further:
        assert kind.warp.ends == project.warp.ends
        assert kind.warp.length == project.warp.length
        assert kind.loom == project.loom
        assert kind.totals == project.totals
        assert kind.weft.around.header == kind.weft.around.sample == 0


@given(
    numbers=st.lists(st.integers(1, 4), min_size=2, max_size=4),
    fringe=st.booleans(),
    from_waste=st.booleans(),
)
def test_kinds_that_are_alike_come_to_the_same_as_alike_pieces(numbers, fringe, from_waste):
    cloth = {"width": "20 cm", "length": "30 cm", "hem": "2 cm"}
    if fringe:
        cloth |= {"fringe": {"length": "5 cm", "from_waste": "yes" if from_waste else "no"}}
    alike = project_of(cloth=cloth | {"pieces": str(sum(numbers))})
    kinds = [{"piece": f"piece {n}", "number": str(each)} for n, each in enumerate(numbers)]
    apart = project_of(cloth=cloth, pieces=kinds)
    assert apart.pieces == alike.pieces
    assert apart.warp.length == pytest.approx(alike.warp.length)
    for one, two in zip(apart.totals, alike.totals, strict=True):
        assert one.need.length == pytest.approx(two.need.length)
    assert sum(kind.weft.picks for kind in apart.kinds) == alike.weft.picks


def test_a_finding_points_into_its_piece():
    outcome = outcome_of(
        pieces=[
            {"piece": "one"},
            {"piece": "two", "weave": [{"section": "body", "length": "5 m"}]},
        ]
    )
    found = next(each for each in outcome.findings if each.code == "length-off")
    assert found.place.line > 1
    places = [each.place for each in outcome.findings if each.code == "length-off"]
    assert len(places) == len(set(places)) == 1


def test_treadles_are_settled_for_all_kinds_together():
    lifts = [{"section": "body", "lifts": "1; 2; 3; 4", "length": "fill"}]
    other = [{"section": "body", "lifts": "1 2; 3 4", "length": "fill"}]
    project = project_of(
        loom={"action": "rising", "shafts": "4", "treadles": "6", "reed": "12 per in"},
        draft={"threading": "(1 2 3 4) to fill", "lifts": "1; 3"},
        pieces=[{"piece": "one", "weave": lifts}, {"piece": "two", "weave": other}],
    )
    assert {frozenset(each.rise) for each in project.loom.tied} == {
        frozenset(shafts) for shafts in ((1,), (2,), (3,), (4,), (1, 2), (3, 4))
    }
    for kind in project.kinds:
        raised = {treadle.number: frozenset(treadle.rise) for treadle in project.loom.tied}
        for lift, pressed in zip(kind.draft.lifts, kind.draft.treadling, strict=True):
            assert frozenset().union(*(raised[each] for each in pressed)) == lift


def test_layers_joined_otherwise_on_the_same_ends():
    layers = {"layers": "2", "join": "left", "warps": "natural", "wefts": "natural"}
    outcome = outcome_of(
        loom={"action": "rising", "shafts": "4", "treadles": "6"},
        draft={"double_weave": layers},
        pieces=[
            {"piece": "folded"},
            {
                "piece": "apart",
                "weave": [{"section": "body", "length": "fill", "join": "none"}],
            },
        ],
    )
    assert outcome.project is not None, codes(outcome)
    first, second = outcome.project.kinds
    assert [len(kind.cloth.stretches[0].pieces) for kind in (first, second)] == [1, 2]


def test_a_changed_spec_is_tried_with_all_its_pieces():
    reading = read_spec(TOWELS)
    taken = tried(reading.spec, Problems(reading.places, reading.spec.units))
    assert taken.warp.length == work_out(reading).project.warp.length


def test_allowances_of_a_further_kind_are_held_against_their_ranges():
    kinds = [
        {"piece": "linen"},
        {"piece": "wool", "allowances": {"shrinkage": {"length": "60 %"}}},
    ]
    found = [each for each in outcome_of(pieces=kinds).findings if each.code == "outside-range"]
    assert len(found) == 1
    assert "shrinkage in length: 60 %" in found[0].message
    lines = spec_text(pieces=kinds).splitlines()
    assert '"60 %"' in lines[found[0].place.line - 1]


def test_a_range_is_spoken_of_once_for_all_kinds():
    kinds = [{"piece": "short", "length": "30 in"}, {"piece": "long", "length": "60 in"}]
    outcome = outcome_of(pieces=kinds, allowances={"shrinkage": {"length": "60 %"}})
    assert codes(outcome).count("outside-range") == 1
