import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cards.calculation.yarn_size import (
    SYSTEMS,
    count_of,
    length_for_mass,
    mass_for_length,
    metres_per_100g,
    resultant,
    tex_of,
    tex_of_label,
    yards_per_pound,
)
from cards.units import POUND, YARD

REGISTRY = pint.UnitRegistry()
COUNTS = st.floats(0.01, 1e5)
PLIES = st.integers(1, 12)


@pytest.mark.parametrize(
    ("system", "unit"),
    [
        ("tex", "tex"),
        ("dtex", "dtex"),
        ("denier", "denier"),
        ("jute", "jute"),
        ("jute", "aberdeen"),
    ],
)
def test_direct_systems_agree_with_pint(system, unit):
    assert tex_of(system, 1) == pytest.approx(
        REGISTRY.Quantity(1, unit).to("tex").magnitude, rel=1e-12
    )


@pytest.mark.parametrize(
    ("system", "unit"),
    [
        ("Ne", "number_english"),
        ("Nm", "number_meter"),
        ("yd/lb", "yard / pound"),
        ("yd/oz", "yard / ounce"),
        ("m/kg", "m / kg"),
        ("m/100 g", "m / (100 * g)"),
        ("m/50 g", "m / (50 * g)"),
        ("worsted", "560 * yard / pound"),
    ],
)
def test_indirect_systems_agree_with_pint(system, unit):
    length_to_mass = 20 * REGISTRY.parse_expression(unit)
    assert tex_of(system, 20) == pytest.approx((1 / length_to_mass).to("tex").magnitude, rel=1e-12)


# Trade arithmetic: yards per pound = count x base / ply; metres per 100 g from it. Common labels,
# common practice, no source.
@pytest.mark.parametrize(
    ("system", "count", "ply", "yards", "metres"),
    [
        ("Ne", 8, 2, 3360, 677),
        ("Ne", 8, 4, 1680, 339),
        ("Ne", 20, 2, 8400, 1693),
        ("lea", 16, 2, 2400, 484),
        ("lea", 40, 2, 6000, 1210),
        ("worsted", 18, 2, 5040, 1016),
        ("Nm", 12, 2, 2976, 600),
        ("Nm", 60, 2, 14882, 3000),
    ],
)
def test_common_yarns(system, count, ply, yards, metres):
    tex = tex_of(system, count, ply)
    assert yards_per_pound(tex) == pytest.approx(yards, abs=0.5)
    assert metres_per_100g(tex) == pytest.approx(metres, abs=0.5)


def test_folding_makes_direct_sizes_heavier():
    # ISO 1139 notation "tex 49 x 2"; the yarn is R 98 tex.
    assert tex_of("tex", 49, ply=2) == 98


@given(st.sampled_from(sorted(SYSTEMS)), COUNTS, PLIES)
def test_count_of_undoes_tex_of(system, count, ply):
    ply = 1 if SYSTEMS[system].whole else ply
    assert count_of(system, tex_of(system, count, ply), ply) == pytest.approx(count, rel=1e-12)


@given(COUNTS, st.floats(0, 1e9))
def test_length_and_mass_undo_each_other(tex, mass):
    assert mass_for_length(tex, length_for_mass(tex, mass)) == pytest.approx(mass, rel=1e-12)


def test_a_label_is_a_length_and_its_mass():
    assert tex_of_label(3360 * float(YARD), float(POUND)) == pytest.approx(tex_of("Ne", 8, 2))
    assert tex_of_label(1e6, 30) == 30


@given(COUNTS, st.integers(1, 8))
def test_equal_singles_folded_are_a_ply(count, ply):
    assert resultant([tex_of("Nm", count)] * ply) == pytest.approx(tex_of("Nm", count, ply))


@pytest.mark.parametrize(
    ("system", "count", "ply", "message"),
    [
        ("ne", 8, 1, "unknown yarn size system 'ne'; did you mean 'Ne'?"),
        ("worstd", 8, 1, "unknown yarn size system 'worstd'; did you mean 'worsted'?"),
        ("grain", 8, 1, "unknown yarn size system 'grain'; did you mean 'grain/20 yd'?"),
        ("Ne", 0, 1, "count must be above 0, not 0"),
        ("Ne", -3, 1, "count must be above 0, not -3"),
        ("Ne", float("nan"), 1, "count must be above 0, not nan"),
        ("Ne", float("inf"), 1, "count must be above 0, not inf"),
        ("Ne", 8, 0, "ply must be a whole number of 1 or more, not 0"),
        ("yd/lb", 3360, 2, "yd/lb is the length of the whole yarn, so it takes no ply (not 2)"),
    ],
)
def test_refusals_say_what_and_why(system, count, ply, message):
    with pytest.raises(ValueError) as caught:  # noqa: PT011 - the whole message is compared
        tex_of(system, count, ply)
    assert str(caught.value) == message


def test_a_name_like_no_other_gets_the_whole_list():
    with pytest.raises(ValueError, match="known are Ne, lea, worsted"):
        count_of("%%%", 30)


@pytest.mark.parametrize(
    "call",
    [
        lambda: tex_of_label(0, 100),
        lambda: tex_of_label(100, 0),
        lambda: resultant([]),
        lambda: resultant([30, 0]),
        lambda: length_for_mass(0, 1),
        lambda: length_for_mass(30, -1),
        lambda: mass_for_length(30, -1),
        lambda: count_of("tex", 0),
    ],
)
def test_nothing_and_less_are_refused(call):
    with pytest.raises(ValueError, match=r"above 0|0 or more|at least one"):
        call()
