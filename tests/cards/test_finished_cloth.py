"""The finished cloth: every thread at its place, in the sizes of the plan."""

import numpy as np
import pytest

from cards.finished_cloth import finished_cloths
from cards.plan_json import plan_data
from tests.project.layered_specs import built, everything
from tests.project.worked import project_of
from tests.worked_specs import SPECS, worked_out


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_sizes_are_those_of_the_plan(path):
    outcome = worked_out(path)
    plan = plan_data(outcome)
    for cloth in finished_cloths(outcome.project):
        kinds = plan["pieces"] or [{"piece": "", "weft": plan["weft"], **plan["warp"]}]
        kind = next(each for each in kinds if each["piece"] == cloth.name or not plan["pieces"])
        assert cloth.width == pytest.approx(kind["finished_width_mm"])
        sections = kind["weft"]["sections"]
        assert [band.name for band in cloth.bands] == [each["section"] for each in sections]
        assert [band.length for band in cloth.bands] == pytest.approx(
            [each["finished_mm"] for each in sections]
        )
        whole = sum(each["finished_mm"] for each in sections)
        assert cloth.length + 2 * cloth.hem == pytest.approx(whole)


def test_hem_and_fringe_are_as_written():
    spec = {
        "cloth": {"width": "27 in", "length": "72 in", "hem": "1 in", "fringe": {"length": "5 in"}}
    }
    (cloth,) = finished_cloths(project_of(**spec))
    assert cloth.hem == pytest.approx(25.4)
    assert cloth.fringe == pytest.approx(127.0)
    (plain,) = finished_cloths(project_of())
    assert (plain.hem, plain.fringe) == (0.0, 0.0)


def test_the_first_end_lies_where_the_weaver_has_it():
    yarns = {"s": {"fibre": "cotton", "size": "Ne 8/2"}, "n": {"fibre": "cotton", "size": "Ne 8/2"}}
    spec = {"yarns": yarns, "warp_order": "8 s, (n) to fill", "weft_order": "n"}
    (right,) = finished_cloths(project_of(**spec))
    (left,) = finished_cloths(project_of(**spec, conventions={"first_end": "left"}))
    names = [yarn.key for yarn in right.yarns]
    stripe = [names[at] for at in right.bands[0].warp.tolist()]
    assert stripe[-8:] == ["s"] * 8
    assert set(stripe[:-8]) == {"n"}
    assert [names[at] for at in left.bands[0].warp.tolist()] == stripe[::-1]


def test_every_cell_is_that_of_the_drawdown():
    project = project_of()
    (cloth,) = finished_cloths(project)
    assert (
        np.vstack([band.cells for band in cloth.bands])[:, ::-1] == project.draft.drawdown
    ).all()


def test_cloth_folded_at_the_left_has_its_lower_layer_at_the_left_when_opened():
    """The upper layer stays where it lies; the lower one turns over about the fold."""
    project = built(double_weave={"join": "left", "warps": ["slate", "sand"], "wefts": "slate"})
    (cloth,) = finished_cloths(project)
    names = [yarn.key for yarn in cloth.yarns]
    (band,) = cloth.bands
    half = project.warp.ends // 2
    assert [names[at] for at in band.warp.tolist()] == ["sand"] * half + ["slate"] * half
    assert cloth.folds == pytest.approx((cloth.width / 2,))
    assert len(band.cells) == project.weft.picks_each // 2
    # Plain weave in both layers is plain weave right across, over the fold too.
    across, along = band.cells[:, 1:] ^ band.cells[:, :-1], band.cells[1:] ^ band.cells[:-1]
    assert across.all()
    assert along.all()


@pytest.mark.parametrize("name", everything())
def test_cloths_of_every_kind_have_threads_all_over(name):
    project = everything()[name]
    cloths = finished_cloths(project)
    assert cloths
    for cloth in cloths:
        assert len(cloth.bands) == len(project.weft.sections)
        for band in cloth.bands:
            rows, columns = band.cells.shape
            assert columns
            assert band.warp.shape == (columns,)
            assert band.weft.shape == (rows, columns)
            assert band.width <= cloth.width + 1e-9


def test_separate_cloths_are_seen_one_by_one_and_a_tube_from_above():
    both = {"warps": ["slate", "sand"], "wefts": ["slate", "sand"]}
    runners = finished_cloths(built(double_weave={"join": "none", **both}))
    seen = []
    for cloth in runners:
        (band,) = cloth.bands
        seen.append({cloth.yarns[at].key for at in band.warp.tolist()})
    assert seen == [{"slate"}, {"sand"}]
    (tube,) = finished_cloths(built(double_weave={"join": "tube"}))
    assert tube.tube
