"""Sizes of the yarns of a project: notation kept, blends, wraps, Ashenhurst's constant."""

import pint
import pytest

from tests.project.worked import outcome_of, project_of

UNITS = pint.UnitRegistry()


def yarn_of(**yarn):
    return project_of(yarns={"natural": yarn}).yarns[0]


def found_in(**yarn):
    findings = outcome_of(yarns={"natural": yarn}).findings
    return {each.code: each for each in findings if each.code != "sett-far-off"}


@pytest.mark.parametrize(
    ("size", "written", "length_to_mass"),
    [
        ("Ne 8/2", "Ne 8/2", "840 * 8 / 2 yard / pound"),
        ({"system": "Ne", "count": "8", "ply": "2"}, "Ne 8/2", "3360 yard / pound"),
        ({"system": "worsted", "count": "18", "ply": "2"}, "worsted 2/18", "5040 yard / pound"),
        ({"system": "tex", "count": "49", "ply": "2"}, "tex 49 x 2", "1 / (98 tex)"),
        ({"system": "yd/oz", "count": "200"}, "200 yd/oz", "3200 yard / pound"),
        ("34 tex x 2", "34 tex x 2", "1 / (68 tex)"),
        # 590.54 tex / count: ASTM D2260-03(2013).
        ("Ne 20 + tex 30", "Ne 20 + tex 30", "1 / (59.527 tex)"),
    ],
)
def test_a_size_is_tex_inside_and_the_weavers_own_outside(size, written, length_to_mass):
    yarn = yarn_of(size=size)
    assert yarn.size == written
    tex = (1 / UNITS.parse_expression(length_to_mass)).to("tex").magnitude
    assert yarn.tex == pytest.approx(tex, rel=1e-5)


def test_unlike_singles_fold_to_less_than_either():
    # 40s and 20s folded: Brooks, Cotton Manufacturing, 1892, p. 91.
    assert yarn_of(size="Ne 40 + 20").tex == pytest.approx(590.5412 / 13.33, rel=5e-4)
    # One 20s, two 30s, three 40s: textilecalculation.blogspot.com, 2015/09.
    assert yarn_of(size="Ne 20 + 30/2 + 40/3").tex == pytest.approx(590.5412 / 5.217, rel=5e-4)


def test_a_silk_counted_in_english_has_two_readings():
    # Yards to the pound of both: spun silk states the folded count, Taylor, Cotton Weaving and
    # Designing, 6th ed., 1909, p. 200.
    found = found_in(fibre="silk", size="Ne 20/2")["ambiguous-size"]
    assert found.level == "error"
    assert "8400 yd/lb" in found.message
    assert "16800 yd/lb" in found.message
    assert not found_in(fibre="silk", size="Ne 20")
    assert not found_in(fibre="silk", size={"system": "Ne", "count": "20", "ply": "2"})
    assert not found_in(fibre="silk", size="Nm 20/2")
    assert not found_in(fibre="cotton", size="Ne 20/2")
    assert set(found_in(fibre="silk", size="Ne 20/2", label="16800 yd/lb")) == {
        "label-against-size"
    }


def test_wraps_alone_give_an_estimate():
    # (36 / 0.9) squared, by the rule of the medievaltextiles.org ash page, 1999.
    yarn = yarn_of(wraps="36 per in", fibre="cotton")
    assert yarn.estimated
    assert yarn.tex == pytest.approx((1 / UNITS("1600 yard / pound")).to("tex").magnitude)
    assert yarn.size == "36 wraps per in, estimated"
    found = found_in(wraps="36 per in", fibre="cotton")["size-by-wraps"]
    assert found.level == "warning"
    assert "1600 yd/lb" in found.message
    assert "weigh a measured length" in found.mend


def test_wraps_beside_a_size_are_only_compared():
    # 8/2 cotton has 52 diameters to the inch: medievaltextiles.org ash page.
    for wraps, told in (("37 per in", False), ("36 per in", True), ("67 wpi", False)):
        found = found_in(size="Ne 8/2", fibre="cotton", wraps=wraps)
        assert ("wraps-against-size" in found) is told, wraps
    yarn = yarn_of(size="Ne 8/2", wraps="52 wpi")
    assert not yarn.estimated
    assert yarn.wraps == pytest.approx(52 / 25.4)


@pytest.mark.parametrize(
    ("fibre", "value", "source"),
    [
        # Firm 0.90 and soft 0.84: medievaltextiles.org ash page; the others from memory.
        ("cotton", 0.90, "medievaltextiles"),
        ("worsted", 0.90, "medievaltextiles"),
        ("woollen", 0.84, "medievaltextiles"),
        ("linen", 0.92, "from memory"),
        ("silk", 0.96, "from memory"),
        ("alpaca", 0.84, "soft"),
        ({"silk": "70 %", "woollen": "30 %"}, 0.84, "lowest of silk and woollen"),
        (None, 0.90, "not named"),
    ],
)
def test_ashenhursts_constant_by_fibre(fibre, value, source):
    yarn = yarn_of(size="Nm 12/2", **({"fibre": fibre} if fibre else {}))
    assert yarn.ashenhurst.value == value
    assert yarn.ashenhurst.origin == "assumed"
    assert source in yarn.ashenhurst.source


def test_a_constant_of_ones_own():
    known = yarn_of(size="Nm 12/2", fibre="cotton", ashenhurst="0.95").ashenhurst
    assert (known.value, known.origin) == (0.95, "given")


def test_a_blend_takes_the_highest_allowance_of_its_fibres():
    blend = project_of(
        yarns={"n": {"size": "Ne 8/2", "fibre": {"linen": "40 %", "cotton": "60 %"}}}
    )
    assert blend.yarns[0].fibre == "40 % linen, 60 % cotton"
    cotton, linen = (
        project_of(yarns={"n": {"size": "Ne 8/2", "fibre": each}}) for each in ("cotton", "linen")
    )
    assert blend.warp.length == cotton.warp.length > linen.warp.length
