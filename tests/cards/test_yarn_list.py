"""The yarn list as data, against the plan and against sums by hand."""

from fractions import Fraction

import pytest

from cards.project import work_out
from cards.spec import read_spec
from cards.yarn_list import yarn_list
from tests.project.worked import project_of
from tests.worked_specs import FOLDER, SPECS

YARNS = {
    "slate": {"size": "Ne 8/2", "put_up": "100 g", "price": "EUR 4.10", "on_hand": "30 g"},
    "sand": {"size": "Nm 12/2", "put_up": "560 yd", "price": "EUR 5.05"},
}
STRIPES = {"yarns": YARNS, "warp_order": "(2 slate, 2 sand) to fill", "weft_order": "slate"}


def test_warp_and_weft_add_up_to_what_both_take():
    card = yarn_list(project_of(**STRIPES))
    slate, sand = card.entries
    warp, weft, both = slate.parts
    assert (warp.what, weft.what, both.what) == ("warp", "weft", "together")
    assert warp.length + weft.length == pytest.approx(both.length)
    assert warp.mass + weft.mass == pytest.approx(both.mass)
    assert [part.what for part in sand.parts] == ["warp"]
    assert sand.bobbins == 0
    # 20 g to a bobbin, if nothing else is said; a g is 1000/tex m.
    assert slate.bobbins == -(-Fraction(weft.mass) // 20)


def test_what_another_yarn_must_have():
    """Ne 8/2 has 3360 yd to the pound (840 x 8 / 2); within 10 % of its tex that is 3055 to 3733."""
    slate, _ = yarn_list(project_of(**STRIPES)).entries
    yards_a_pound = 496_055  # yd/lb x tex, from 1 lb = 453.59237 g and 1 yd = 0.9144 m
    assert yards_a_pound / slate.thickest == pytest.approx(3360 / 1.1, rel=1e-4)
    assert yards_a_pound / slate.finest == pytest.approx(3360 / 0.9, rel=1e-4)
    assert slate.length == pytest.approx(slate.parts[-1].length * 1.1)


def test_shuttles_that_carry_the_same_yarn():
    (throw,) = [path for path in SPECS if path.stem == "two-layer-sampler"]
    project = work_out(read_spec(throw)).project
    for entry in yarn_list(project).entries:
        carried = [each for each in project.cloth.shuttles if each.yarn == entry.yarn.key]
        assert len(entry.shuttles) == (len(carried) if len(carried) > 1 else 0)


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_every_yarn_that_is_bought_is_on_it(path):
    project = work_out(read_spec(path)).project
    card = yarn_list(project)
    assert [entry.yarn for entry in card.entries] == [total.yarn for total in project.totals]
    for entry in card.entries:
        assert entry.parts[-1].length == pytest.approx(entry.total.need.length)
    assert card.bill is project.bill


def test_yarn_of_a_warp_that_is_there_is_not_bought():
    spec = STRIPES | {"given": {"warp_length": "5 yd", "warp": "on the loom"}}
    card = yarn_list(project_of(**spec))
    assert [yarn.key for yarn in card.wound] == ["slate", "sand"]
    assert [entry.yarn.key for entry in card.entries] == ["slate"]
    assert [part.what for part in card.entries[0].parts] == ["weft"]


def test_it_says_which_size_was_to_be_the_most():
    plenty = {"slate": YARNS["slate"] | {"on_hand": "9 kg"}, "sand": YARNS["sand"]}
    spec = STRIPES | {"yarns": plenty, "given": {"warp_length": "9 yd"}}
    card = yarn_list(project_of(**spec, cloth={"width": "20 in", "most": "length"}))
    assert card.asked.startswith("length ")
    assert "the warp given is used up" in card.asked
    assert yarn_list(project_of(**STRIPES)).asked == ""


def test_the_worked_runners_have_yarn_on_hand():
    project = work_out(read_spec(FOLDER / "two-runners.yaml")).project
    rust, flax = yarn_list(project).entries
    assert rust.total.need.packages == 1
    assert flax.total.need.packages == 0
    assert flax.yarn.lot
