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


JOINED = {
    "left": {"cloth": {"width": "54 in", "length": "72 in", "fringe": {"length": "5 in"}}},
    "tube": {"cloth": {"width": "20 in", "length": "40 in", "hem": "1 in"}},
}


@pytest.mark.parametrize("join", JOINED)
def test_joined_layers_come_out_as_they_were_measured(join):
    """Sizes of cloth that lost otherwise than planned: pasted in, they plan its washed size."""
    layered = {
        **JOINED[join],
        "sett": "12 per in", "picks": "12 per in",
        "loom": {"action": "rising", "shafts": "4", "treadles": "6", "reed": "12 per in"},
        "draft": {"double_weave": {"layers": "2", "join": join, "start": "right"}},
    }  # fmt: skip
    plan = project_of(**layered)
    widths = float(plan.warp.widths)
    assert widths == (2 if join == "left" else 1)
    # Off the loom 0.9 of the reed, washed 0.95 of that; the width of the plan lost 7 % and 7 %.
    reed = plan.warp.finished_width / 0.93 / 0.93
    tape = sum(section.length for section in plan.weft.sections)
    measured = {
        "width_in_reed": exactly(plan.warp.width_in_reed), "woven": exactly(tape),
        "warp_used": exactly(tape * 0.96 / 0.88),
        "off_loom": {"width": exactly(reed * 0.9), "length": exactly(tape * 0.96)},
        "washed": {"width": exactly(reed * 0.9 * 0.95), "length": exactly(tape * 0.96 * 0.9)},
    }  # fmt: skip
    other = project_of(**layered, measured=measured)
    block = measured_block(other, other.measured)
    pasted = yaml.load(block, yaml.BaseLoader)["allowances"]  # noqa: S506
    assert pasted["take_up"] == "12 %"
    assert pasted["draw_in"] == "10 %"
    assert pasted["relaxation"] == "4 %"
    assert pasted["shrinkage"] == {"length": "10 %", "width": "5 %"}
    given = {"ends": str(plan.warp.ends), "picks": str(plan.weft.picks_each)}
    again = project_of(**layered, allowances=pasted, given=given)
    assert again.warp.finished_width == pytest.approx(reed * 0.9 * 0.95, rel=1e-6)
    finished = sum(section.finished for section in again.weft.sections)
    assert finished == pytest.approx(tape * 0.96 * 0.9, rel=1e-6)


TWO_KINDS = {
    "yarns": {
        "natural": {"fibre": "cotton", "size": "tex 100", "put_up": "1 kg"},
        "flax": {"fibre": "linen", "size": "tex 80", "put_up": "1 kg"},
    },
    "units": "metric",
    "cloth": {"width": "50 cm", "length": "70 cm"},
    "sett": "8 per cm",
    "picks": "8 per cm",
    "warp_order": "natural",
    "weft_order": "natural",
    "pieces": [{"piece": "cotton", "number": "2"}, {"piece": "linen", "weft_order": "flax"}],
}


def test_weft_of_all_kinds_is_weighed_together():
    """What the scales say is of all pieces: natural in warp and two pieces, flax in the third."""
    plan = project_of(**TWO_KINDS)
    first, second = (kind.weft for kind in plan.kinds)
    (warp,), width = plan.warp.by_yarn, plan.warp.width_in_reed
    picks = 2 * first.picks_each + first.sample_picks
    natural = (warp.need.length + picks * width * 1.2 * 1.05) * 100 / 1e6
    flax = second.picks_each * width * 1.2 * 1.05 * 80 / 1e6
    weighed = {
        "natural": {"before": "1 kg", "after": f"{1000 - natural:.6f} g"},
        "flax": {"before": "1 kg", "after": f"{1000 - flax:.6f} g"},
    }
    project = project_of(**TWO_KINDS, measured={"yarns": weighed})
    read = project.measured
    assert value(read, "allowances", "weft_take_up") == pytest.approx(0.20, abs=1e-6)
    assert "one piece of “cotton”" in measured_block(project, read)
    # Nobody can know how a warp was shared by pieces that are not alike.
    assert why(read, "allowances", "take_up").startswith("not known without the warp used")
    only = project_of(**TWO_KINDS, measured={"yarns": {"natural": weighed["natural"]}}).measured
    assert why(only, "allowances", "weft_take_up") == "not known until flax is weighed"


@pytest.mark.parametrize("state", ["wound", "on the loom"])
def test_a_warp_that_was_there_is_not_weighed_with_the_weft(state):
    length = project_of().warp.length
    change = {"given": {"warp": state, "warp_length": exactly(length)}}
    plan = project_of(**change)
    (weft,), width = plan.weft.by_yarn, plan.warp.width_in_reed
    used = (plan.weft.picks + plan.weft.sample_picks) * width * 1.15 * 1.05 * weft.yarn.tex / 1e6
    (total,) = plan.totals
    bought = total.need.packages * total.yarn.put_up.mass
    weighed = {"natural": {"after": f"{bought - used:.6f} g"}}
    read = project_of(**change, measured={"yarns": weighed}).measured
    assert value(read, "allowances", "weft_take_up") == pytest.approx(0.15, abs=1e-6)
    assert "no warp" in why(read, "allowances", "weft_take_up")


def test_before_is_what_was_on_hand_and_what_was_bought():
    """Packages of 300 yd of Ne 8/2, which is 3360 yd/lb, weigh 40.5 g; 20 g lay on the shelf."""
    yarn = {"fibre": "cotton", "size": "Ne 8/2", "put_up": "300 yd", "on_hand": "20 g"}
    project = project_of(yarns={"natural": yarn}, measured={"yarns": {"natural": {"after": "9 g"}}})
    (total,) = project.totals
    before, after = project.measured.masses["natural"]
    assert before == pytest.approx(20 + total.need.packages * 300 / 3360 * 453.59237)
    assert after == 9
