"""What was measured, read back: the rates that were true come out again, and plan the same cloth."""

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from cards.calculation.measured import WarpSpent, lost, warp_of_one_piece
from cards.calculation.warp import take_up
from cards.measured_block import measured_block, measured_data
from tests.project.worked import codes, outcome_of, project_of

IN, YD = 25.4, 914.4
CLOTH = {"width": "27 in", "length": "72 in", "pieces": "2", "hem": "1 1/2 in"}


def value(read, *key):
    return next(found.value for found in read.found if found.key == key)


def why(read, *key):
    return next(found.why for found in read.found if found.key == key)


def exactly(mm):
    return f"{mm / 10:.6f} cm"


def test_losses_are_of_the_earlier_size():
    # Source: cnch.org, "Ratios ... Shrinkage": 12.5 in that became 10 in lost 20 %.
    assert lost(12.5, 10) == pytest.approx(0.20)
    # Source: ASTM D3883-04(2020), section 4: 110 mm straightened, 100 mm in the cloth: 9.0909 %.
    project = project_of(
        measured={"warp_used": "110 mm", "off_loom": {"length": "100 mm"}}, cloth=CLOTH
    )
    found = value(project.measured, "allowances", "take_up")
    assert found * 100 == pytest.approx(9.0909, abs=0.0001)
    assert found == pytest.approx(take_up(110, 100))


def test_a_towel_by_hand():
    """Reed 30 in, 28 off the loom, 26.6 washed; 80 in under tension, 78 off, 71.76 washed.

    Of a warp of 7 yd = 252 in 30 in were waste, 4 in unwoven, 2 in header, 12 in sample, and
    204 in are left for two pieces of 102 in each. Worked by hand.
    """
    project = project_of(
        cloth=CLOTH,
        measured={
            "width_in_reed": "30 in", "warp_length": "7 yd", "waste": "30 in", "unwoven": "4 in",
            "header": "2 in", "sample": "12 in", "woven": "80 in",
            "off_loom": {"width": "28 in", "length": "78 in"},
            "washed": {"width": "26.6 in", "length": "71.76 in"},
        },
    )  # fmt: skip
    read = project.measured
    assert read.used / IN == pytest.approx(102)
    assert value(read, "allowances", "take_up") == pytest.approx(24 / 102)
    assert value(read, "allowances", "relaxation") == pytest.approx(2 / 80)
    assert value(read, "allowances", "draw_in") == pytest.approx(2 / 30)
    assert value(read, "allowances", "shrinkage", "length") == pytest.approx(0.08)
    assert value(read, "allowances", "shrinkage", "width") == pytest.approx(0.05)
    assert value(read, "loom", "waste") / IN == pytest.approx(30)


def test_what_was_not_measured_is_said_and_not_guessed():
    read = project_of(measured={"off_loom": {"width": "28 in"}}).measured
    assert value(read, "allowances", "draw_in") is not None
    assert value(read, "allowances", "take_up") is None
    assert "waste" in why(read, "allowances", "take_up")
    assert "length under tension" in why(read, "allowances", "relaxation")
    assert "natural is weighed" in why(read, "allowances", "weft_take_up")
    block = measured_block(project_of(measured={"off_loom": {"width": "28 in"}}), read)
    assert "# allowances.take_up: not known without" in block
    assert set(yaml.safe_load(block)) == {"allowances"}


def test_fringes_that_come_out_of_the_waste_are_counted_once():
    spent = WarpSpent(4000, 700, 0, 50, 300, 200, 25, 3, from_waste=False)
    assert warp_of_one_piece(spent) == pytest.approx((4000 - 1050 - 1200 - 50) / 3)
    spent = WarpSpent(4000, 700, 0, 50, 300, 200, 25, 3, from_waste=True)
    assert warp_of_one_piece(spent) == pytest.approx((4000 - 1050 - 800 - 50) / 3)


def test_the_weft_by_weight():
    """1,000 picks of 1 m of 100 tex weigh 100 g bare; 115.5 g of weft are 10 % and 5 % for joins."""
    change = {
        "yarns": {"natural": {"fibre": "cotton", "size": "tex 100", "put_up": "1 kg"}},
        "units": "metric",
        "allowances": {"sample": "0 cm", "joins": "5 %"},
        "given": {"picks": "1000"},
        "cloth": {"width": "86 cm", "length": "120 cm"},
        "sett": "8 per cm",
        "picks": "8 per cm",
    }
    plan = project_of(**change)
    (warp,), width = plan.warp.by_yarn, plan.warp.width_in_reed
    used = warp.need.mass + 1.155 * 1000 * width * 100 / 1e6
    measured = {"yarns": {"natural": {"before": "1 kg", "after": f"{1000 - used:.6f} g"}}}
    read = project_of(**change, measured=measured).measured
    assert value(read, "allowances", "weft_take_up") == pytest.approx(0.10, abs=1e-6)


shares = st.floats(0.005, 0.3)


@settings(deadline=None, max_examples=40)
@given(
    *[shares] * 4,
    st.floats(0.0, 0.9),
    st.sampled_from([None, "no", "yes"]),
    st.integers(1, 3),
    st.sampled_from(["metric", "imperial"]),
)
def test_true_rates_come_out_again_and_plan_the_measured_cloth(
    taken, drawn, long, wide, part, from_waste, pieces, units
):
    """Simulate the sizes that true rates give, read them back, and paste them into the spec."""
    relaxed = taken * part
    true = {
        "take_up": f"{taken * 100:.8f} %", "relaxation": f"{relaxed * 100:.8f} %",
        "draw_in": f"{drawn * 100:.8f} %",
        "shrinkage": {"length": f"{long * 100:.8f} %", "width": f"{wide * 100:.8f} %"},
    }  # fmt: skip
    cloth = {"width": "27 in", "length": "72 in", "pieces": str(pieces), "hem": "1 1/2 in"}
    if from_waste:
        cloth["fringe"] = {"length": "4 in", "from_waste": from_waste}
    base = {"units": units, "cloth": cloth}
    plan = project_of(**base, allowances=true)
    steps = {step.name: step for step in plan.steps}
    woven = sum(section.length for section in plan.weft.sections)
    off = woven * (1 - relaxed)
    width = plan.warp.width_in_reed * (1 - drawn)
    unwoven = plan.warp.length - steps["warp before the margin"].raw
    measured = {
        "width_in_reed": exactly(plan.warp.width_in_reed),
        "warp_length": exactly(plan.warp.length),
        "woven": exactly(woven),
        "waste": exactly(steps["loom waste"].value),
        "unwoven": exactly(unwoven),
        "off_loom": {"width": exactly(width), "length": exactly(off)},
        "washed": {"width": exactly(width * (1 - wide)), "length": exactly(off * (1 - long))},
        "fringe": exactly(plan.weft.around.fringe),
    }
    # What is read back does not lean on what was planned.
    other = project_of(**base, measured=measured)
    read = other.measured
    expected = {"take_up": taken, "relaxation": relaxed, "draw_in": drawn}
    for key, rate in expected.items():
        assert value(read, "allowances", key) == pytest.approx(rate, abs=1e-6)
    assert value(read, "allowances", "shrinkage", "length") == pytest.approx(long, abs=1e-6)
    assert value(read, "allowances", "shrinkage", "width") == pytest.approx(wide, abs=1e-6)
    # The block in spec notation, read by another reader of YAML, pasted into the spec.
    pasted = yaml.load(measured_block(other, read), yaml.BaseLoader)  # noqa: S506
    again = project_of(**base, allowances=pasted["allowances"], given={"ends": str(plan.warp.ends)})
    # To print precision: a hundredth of a percent of every size.
    assert again.warp.finished_width == pytest.approx(width * (1 - wide), rel=3e-4)
    finished = sum(section.finished for section in again.weft.sections)
    picks = again.weft.picks_each / plan.weft.picks_each
    assert finished / picks == pytest.approx(off * (1 - long), rel=3e-4)
    assert again.weft.picks_each == pytest.approx(plan.weft.picks_each, rel=5e-4, abs=1)


def test_the_data_are_the_block():
    project = project_of(measured={"off_loom": {"width": "28 in"}, "waste": "25 in"})
    data = measured_data(project, project.measured)
    by_key = {each["key"]: each for each in data["measured"]}
    assert by_key["loom.waste"]["value"] == pytest.approx(25 * IN)
    assert by_key["allowances.take_up"]["value"] is None
    block = yaml.safe_load(measured_block(project, project.measured))
    assert block["loom"]["waste"] == "25 in"
    draw_in = float(block["allowances"]["draw_in"].split()[0])
    assert by_key["allowances.draw_in"]["value"] * 100 == pytest.approx(draw_in, abs=0.005)


@pytest.mark.parametrize(
    ("measured", "code"),
    [
        ({"off_loom": {"width": "40 in"}}, "measured-contradicts"),
        ({"woven": "9 yd"}, "measured-contradicts"),
        ({"warp_used": "70 in", "off_loom": {"length": "72 in"}}, "measured-contradicts"),
        ({"off_loom": {"length": "70 in"}, "washed": {"length": "20 in"}}, "measured-contradicts"),
        ({"off_loom": {"length": "70 in"}, "washed": {"length": "73 in"}}, "measured-grew"),
        ({"yarns": {"natural": {"before": "8 oz", "after": "9 oz"}}}, "measured-contradicts"),
        ({"yarns": {"heather": {"before": "8 oz", "after": "7 oz"}}}, "unknown-yarn"),
    ],
)
def test_what_contradicts_is_found(measured, code):
    assert codes(outcome_of(measured=measured)) == [code]


def test_cloth_that_hardly_grew_lost_nothing():
    outcome = outcome_of(
        measured={"off_loom": {"length": "70 in"}, "washed": {"length": "70 1/2 in"}}
    )
    assert codes(outcome) == []
    read = outcome.project.measured
    assert value(read, "allowances", "shrinkage", "length") == 0.0
    assert "grew by 0.7%" in measured_block(outcome.project, read)


def test_opened_cloth_is_held_against_both_layers():
    layered = {
        "cloth": {"width": "54 in", "length": "72 in"},
        "sett": "12 per in", "picks": "12 per in",
        "draft": {"double_weave": {"layers": "2", "join": "left", "start": "right"}},
    }  # fmt: skip
    plan = project_of(**layered)
    flat = 2 * plan.warp.width_in_reed * 0.9
    read = project_of(**layered, measured={"off_loom": {"width": exactly(flat)}}).measured
    assert value(read, "allowances", "draw_in") == pytest.approx(0.1)


YARN = {"fibre": "cotton", "size": "Ne 8/2", "put_up": "8 oz"}


@pytest.mark.parametrize(
    ("own", "there"),
    [
        # Enough on hand: nothing is bought.
        ({"on_hand": "3000 g"}, 3000.0),
        # 100 g on hand and three packages of 8 oz; 1 oz is 28.349523125 g by definition.
        ({"on_hand": "100 g"}, 100.0 + 3 * 8 * 28.349523125),
        ({}, 4 * 8 * 28.349523125),
    ],
)
def test_yarn_before_is_what_was_on_hand_and_bought(own, there):
    changes = {"yarns": {"natural": YARN | own}, "allowances": {"buy_margin": "10 %"}}
    read = project_of(measured={"yarns": {"natural": {"after": "20 g"}}}, **changes).measured
    assert read.masses["natural"] == (pytest.approx(there), pytest.approx(20.0))


def test_a_warp_wound_before_was_not_weighed():
    """Of 100 tex yarn 10 g, that is 100 m, more than the plan: the weft alone took them."""
    yarns = {"natural": {"fibre": "cotton", "size": "tex 100", "put_up": "1 kg"}}
    given = {"warp": "wound", "warp_length": "4 yd"}
    plan = project_of(yarns=yarns, given=given)
    (share,) = plan.weft.by_yarn
    weighed = {"before": "1 kg", "after": f"{1000 - share.need.mass - 10:.6f} g"}
    read = project_of(yarns=yarns, given=given, measured={"yarns": {"natural": weighed}}).measured
    planned = next(step.value for step in plan.steps if step.name == "take-up of the weft")
    more = (share.need.length + 100_000) / share.need.length
    found = value(read, "allowances", "weft_take_up")
    assert found == pytest.approx((1 + planned) * more - 1, abs=1e-6)


def test_the_weft_of_unlike_pieces_cannot_be_told_apart_by_weight():
    kinds = [{"piece": "short", "length": "30 in"}, {"piece": "long", "length": "60 in"}]
    weighed = {"yarns": {"natural": {"before": "2 kg", "after": "500 g"}}}
    read = project_of(pieces=kinds, measured=weighed).measured
    assert value(read, "allowances", "weft_take_up") is None
    assert "all kinds" in why(read, "allowances", "weft_take_up")
