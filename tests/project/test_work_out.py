"""Whole projects worked out: against examples reckoned by hand, and against published ones."""

from decimal import Decimal

import numpy as np
import pytest

from cards.project import work_out
from cards.spec import read_spec
from cards.units import INCH, OUNCE, POUND, YARD
from tests.project.worked import codes, outcome_of, project_of
from tests.worked_specs import SPECS

IN, YD, LB = float(INCH), float(YARD), float(POUND)


def test_the_throw_worked_by_hand():
    """A throw of cotton 8/2, worked out by hand apart from the program, all allowances assumed.

    27 in wide on the loom at 24 ends and picks to the inch, 72 in long with two fringes of 5 in
    that do not come out of the waste, a reed of 12 sleyed 2: 752 ends, 4 1/2 yd of warp, 1937
    picks, 3393 yd of warp yarn, 1947 yd of weft without the sample.
    """
    project = project_of(
        loom={"action": "rising", "shafts": "4", "reed": "12 per in"},
        cloth={"width": "27 in", "length": "72 in", "fringe": {"length": "5 in"}},
    )
    warp, weft = project.warp, project.weft
    assert warp.ends == 752
    assert warp.width_in_reed / IN == pytest.approx(31.33, abs=0.005)
    assert warp.length / YD == pytest.approx(4.5)
    assert warp.by_yarn[0].need.length / YD == pytest.approx(3393)
    assert weft.picks == 1937
    share = weft.by_yarn[0]
    without_sample = share.need.length * weft.picks / (weft.picks + weft.sample_picks)
    assert without_sample / YD == pytest.approx(1947, abs=0.5)
    assert project.sleying.pattern == (2,)


def test_hand_loom_towels_with_everything_given():
    # Source: measuredthreads.com, towels: 22 in at 24 per inch, 4 yd warp, 3360 yd/lb.
    project = project_of(
        yarns={"cotton": {"fibre": "cotton", "size": "3360 yd/lb"}},
        given={"width_in_reed": "22 in", "warp_length": "4 yd"},
        cloth={"width": "19 in", "length": "30 in", "pieces": "2"},
        allowances={"spare_ends": "0"},
    )
    assert project.warp.ends == 528
    need = project.warp.by_yarn[0].need
    assert need.length / YD == pytest.approx(2112)
    assert need.mass / LB == pytest.approx(0.63, abs=0.005)


def test_two_runners_with_allowances_divided_out():
    """Source: allfiberarts.com, "Beginner weaving - calculate yarn".

    Two runners of 36 in with hems of 2 in, 36 in of loom waste: 390 ends of 3.5 yd are 1365 yd.
    The page adds 15 % to the cloth; we divide it out, so the length of one piece is compared with
    the page's 40 in before that allowance.
    """
    project = project_of(
        loom={"action": "rising", "shafts": "4", "waste": "36 in"},
        cloth={"width": "17 in", "length": "36 in", "pieces": "2", "hem": "2 in"},
        sett="20 per in",
        picks="20 per in",
        draft={
            "threading": "(1 2 3 4) to fill, 1 2",
            "tie_up": {"1": "1 3", "2": "2 4"},
            "treadling": "1 2",
        },
        given={"width_in_reed": "19 1/2 in", "ends": "390", "warp_length": "3 1/2 yd"},
        allowances={
            "take_up": "0 %", "relaxation": "0 %", "shrinkage": {"length": "0 %"},
            "header": "0 in", "sample": "0 in", "spare_ends": "0", "warp_margin": "0 %",
        },
    )  # fmt: skip
    assert project.warp.by_yarn[0].need.length / YD == pytest.approx(1365)
    cloth = next(step for step in project.steps if step.name == "cloth off the loom, one piece")
    assert cloth.value / IN == pytest.approx(40)


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_a_worked_spec_agrees_with_an_independent_recomputation(path):
    """Recompute threading, order, drawdown and yarn of a worked spec with plain loops."""
    outcome = work_out(read_spec(path))
    project = outcome.project
    assert {finding.code for finding in outcome.findings} <= {"layers-chosen"}
    warp, draft, weft = project.warp, project.draft, project.weft
    ends = warp.threading.values()
    order = warp.order.values()
    assert len(ends) == len(order) == warp.ends == len(draft.threading)
    assert [ends.count(shaft) for shaft in range(1, project.loom.shafts + 1)] == list(
        project.loom.heddles
    )
    for share in warp.by_yarn:
        assert share.threads == order.count(share.yarn.key)
        total = (share.threads + share.extra) * warp.length
        assert share.need.length == pytest.approx(total)
        assert share.need.mass == pytest.approx(total / 1e6 * share.yarn.tex)
    assert sum(section.picks for section in weft.sections) == len(draft.lifts) == len(draft.weft)
    rows = np.random.default_rng(7).integers(0, len(draft.lifts), 40)
    for row in rows:
        expected = [shaft in draft.lifts[row] for shaft in draft.threading]
        assert draft.drawdown[row].tolist() == expected
    for share in weft.by_yarn:
        picks = weft.pieces * draft.weft.count(share.yarn.key)
        assert share.threads == picks
        sampled = weft.sample_picks * draft.weft.count(share.yarn.key) / len(draft.weft)
        expected = (picks + sampled) * warp.width_in_reed * 1.10 * 1.05
        assert share.need.length == pytest.approx(expected)


def test_packages_are_bought_for_warp_and_weft_together():
    yarn = {"fibre": "cotton", "size": "Ne 8/2", "put_up": "8 oz", "price": "10.50"}
    project = project_of(yarns={"natural": yarn})
    total = project.totals[0].need
    parts = [project.warp.by_yarn[0].need, project.weft.by_yarn[0].need]
    assert total.mass == pytest.approx(sum(part.mass for part in parts))
    # Two packages for the warp and two for the weft alone, but three for both together.
    in_packages = total.mass * 1.10 / (8 * float(OUNCE))
    assert total.packages == -(-in_packages // 1)
    assert project.cost == total.packages * Decimal("10.50")


def test_each_yarn_has_its_own_spare_ends_and_edges_their_floating_selvedges():
    yarn = {"fibre": "cotton", "size": "Ne 8/2"}
    project = project_of(
        yarns={"slate": yarn, "sand": yarn},
        warp_order="4 slate, (4 sand, 4 slate) to fill, 4 sand",
        weft_order="sand",
        selvedges={"floating": "yes"},
        draft={
            "threading": "(1 2 3 4) to fill",
            "tie_up": {"1": "1 3", "2": "2 4"},
            "treadling": "1 2",
        },
    )
    assert [(share.yarn.key, share.extra) for share in project.warp.by_yarn] == [
        ("slate", 3),
        ("sand", 3),
    ]
    assert project.warp.wound == project.warp.ends + 2


def test_selvedges_stand_at_their_sides():
    draft = {
        "threading": "(1 2 3 4) to fill",
        "tie_up": {"1": "1 3", "2": "2 4"},
        "treadling": "1 2",
    }
    selvedges = {"right": "1 2 1 2", "left": "3 4"}
    right = project_of(draft=draft, selvedges=selvedges).warp.threading.values()
    assert (right[:4], right[-2:]) == ([1, 2, 1, 2], [3, 4])
    left = project_of(
        draft=draft, selvedges=selvedges, conventions={"first_end": "left"}
    ).warp.threading.values()
    assert (left[:2], left[-4:]) == ([3, 4], [1, 2, 1, 2])


def test_a_section_that_fills_takes_what_the_others_leave():
    project = project_of(
        weave=[
            {"section": "start", "picks": "11"},
            {"section": "body", "length": "fill"},
            {"section": "end", "repeats": "5"},
        ]
    )
    whole = project_of()
    assert [section.picks for section in project.weft.sections] == [
        11,
        whole.weft.picks - 21,
        10,
    ]
    starts = [section.start for section in project.weft.sections]
    ends = [section.start + section.length for section in project.weft.sections]
    assert starts[1:] == pytest.approx(ends[:-1])


def test_layers_multiply_sett_and_picks_and_are_proved():
    layered = {"threading": "(1 2 3 4) to fill", "lifts": "1; 1 2 3; 3; 1 3 4"}
    changes = {"sett": "12 per in", "picks": "12 per in", "expect": {"layers": "2"}}
    project = project_of(draft=layered, **changes)
    # The same numbers of threads as one cloth of 24 to the inch.
    assert project.warp.ends == project_of().warp.ends
    # As many picks too, raised to whole repeats of the four picks.
    assert project.weft.picks == -(-project_of().weft.picks // 4) * 4
    assert "layers-unexpected" in codes(outcome_of(**changes))
    assert "layers-apart" in codes(outcome_of(draft=layered))


def test_a_label_wins_over_a_size_and_says_so_when_they_differ():
    yarn = {"fibre": "cotton", "size": "Ne 8/2", "label": "3000 yd/lb"}
    outcome = outcome_of(yarns={"natural": yarn})
    assert "label-against-size" in codes(outcome)
    assert outcome.project.yarns[0].tex == pytest.approx(LB / (3000 * YD) * 1e6)


def test_ends_are_raised_until_threading_and_width_suit():
    project = project_of(
        draft={
            "threading": "1 2, (3 4 3 2) to fill, 1",
            "tie_up": {"1": "1 3", "2": "2 4"},
            "treadling": "1 2",
        }
    )
    raw = next(step for step in project.steps if step.name == "ends").raw
    assert project.warp.ends - 4 < raw <= project.warp.ends
    assert (project.warp.ends - 3) % 4 == 0


def test_every_step_tells_how_it_was_reckoned():
    project = project_of(given={"ends": "760"})
    origins = {step.name: step.origin for step in project.steps}
    assert origins["ends"] == "given"
    assert origins["draw-in"] == "assumed"
    assert origins["warp length"] == "worked out"
    assert all(step.formula for step in project.steps)
    assumed = [step for step in project.steps if step.origin == "assumed"]
    assert assumed
    assert all(step.note for step in assumed)
