"""Mass of the finished cloth by its area."""

import pytest

from cards.calculation.cloth_weight import threads_weight
from cards.compare_rows import mean_weight
from cards.plan_json import plan_data
from cards.plan_table import plan_table
from cards.project import Outcome
from tests.project.worked import project_of

_NOTHING = {
    "take_up": "0 %", "relaxation": "0 %", "draw_in": "0 %", "weft_take_up": "0 %",
    "shrinkage": {"length": "0 %", "width": "0 %"}, "joins": "5 %", "sample": "0 cm",
}  # fmt: skip
# 30 tex at 40 to the cm, 20 tex at 30 to the cm.
_GATE = {
    "units": "metric",
    "yarns": {"warp": {"size": "tex 30"}, "weft": {"size": "tex 20"}},
    "cloth": {"width": "50 cm", "length": "100 cm"},
    "sett": "40 per cm",
    "picks": "30 per cm",
    "warp_order": "warp",
    "weft_order": "weft",
}


def test_cloth_of_a_published_examination():
    # GATE 2009, Textile Engineering, question 37 (solution at textiletriangle.com): 132, 66 and
    # 198 g/m2 with 10 % crimp, reckoned on the cloth.
    warp, weft = threads_weight(4.0, 30.0, 0.10), threads_weight(3.0, 20.0, 0.10)
    assert (warp, weft, warp + weft) == pytest.approx((132, 66, 198), rel=1e-12)


def test_the_same_cloth_from_its_spec():
    # Crimp of 10 % on the cloth is take-up of 1/11 on the yarn (ASTM D3883).
    allowances = {**_NOTHING, "take_up": "9.0909 %", "weft_take_up": "10 %"}
    weight = project_of(**_GATE, allowances=allowances).cloth_weight
    assert weight.warp == pytest.approx(132, rel=1e-3)
    assert weight.weft == pytest.approx(66, rel=1e-3)
    assert weight.total == pytest.approx(198, rel=1e-3)


def test_weight_is_all_yarn_that_is_in_the_cloth():
    # Without any loss every mm of warp and weft lies in the cloth: its mass over its area.
    project = project_of(**_GATE, allowances=_NOTHING)
    area = project.warp.finished_width / 1000 * 1.0
    ends = sum(each.threads * each.yarn.tex / 1000 for each in project.warp.by_yarn)
    assert project.cloth_weight.warp == pytest.approx(ends * 1.0 / area)
    picks = project.weft.picks * 20 / 1000 * project.warp.width_in_reed / 1000
    assert project.cloth_weight.weft == pytest.approx(picks / area)


def test_shrinking_makes_heavier_cloth():
    plain = project_of(**_GATE, allowances=_NOTHING).cloth_weight
    allowances = {**_NOTHING, "shrinkage": {"length": "20 %", "width": "0 %"}}
    shrunk = project_of(**_GATE, allowances=allowances).cloth_weight
    assert shrunk.total == pytest.approx(plain.total / 0.8, rel=2e-3)


@pytest.mark.parametrize("join", ["left", "tube", "none"])
def test_layers_are_opened_out(join):
    # Two layers of a sett weigh per area what one of that sett weighs.
    single = project_of(picks="24 per in").cloth_weight
    built = {"layers": "2", "join": join, "warps": "natural", "wefts": "natural"}
    layered = project_of(draft={"double_weave": built}).cloth_weight
    assert layered.total == pytest.approx(single.total, rel=5e-3)


def test_the_cloth_is_as_wide_as_is_printed():
    # The reed is opened at a fold, and the cloth closes there: all ends over the finished width.
    built = {"layers": "2", "join": "left", "warps": "natural", "wefts": "natural"}
    loom = {"action": "rising", "shafts": "4", "treadles": "6", "reed": "12 per in"}
    project = project_of(draft={"double_weave": built}, loom=loom, sley={"fold_open": "8"})
    assert project.warp.width_in_reed != pytest.approx(project.sleying.cloth_width_mm)
    ends = sum(each.threads for each in project.warp.by_yarn)
    per_mm = ends / project.warp.finished_width
    assert project.cloth_weight.ends.per_mm == pytest.approx(per_mm, rel=1e-12)


def test_each_kind_of_piece_has_a_weight_of_its_own():
    # Half the picks of the second kind: half the weft in the same area.
    kinds = [{"piece": "close"}, {"piece": "open", "picks": "15 per cm"}]
    project = project_of(**_GATE, allowances=_NOTHING, pieces=kinds)
    close, loose = (kind.cloth_weight for kind in project.kinds)
    assert loose.weft == pytest.approx(close.weft / 2, rel=1e-3)
    weights = [kind["cloth_weight_g_m2"] for kind in plan_data(Outcome((), project))["pieces"]]
    assert weights == [close.total, loose.total]
    table = plan_table(project)
    assert "Cloth of close" in table
    assert "Cloth of open" in table
    # Of one size, they weigh together what is between them.
    assert mean_weight(project) == pytest.approx((close.total + loose.total) / 2)
