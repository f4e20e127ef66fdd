from dataclasses import fields

import pytest

from cards.calculation import allowances
from cards.calculation.allowances import (
    FIBRES,
    LENGTHS,
    WASTE,
    Allowance,
    FibreAllowances,
    allowances_for,
    waste_for,
)

NAMES = [field.name for field in fields(FibreAllowances)]


def values(found):
    return [getattr(found, name).value for name in NAMES]


def test_a_fibre_alone_gives_its_own_figures():
    # From memory.
    assert values(allowances_for(["cotton"])) == [0.10, 0.03, 0.07, 0.08, 0.07]
    assert allowances_for(["silk", "silk"]).take_up == Allowance(0.07, 0.05, 0.08, "from memory")


def test_several_fibres_give_the_highest_of_each():
    mixed = allowances_for(["cotton", "worsted"])
    assert values(mixed) == [0.10, 0.06, 0.08, 0.08, 0.08]
    assert mixed.take_up.source == "from memory; highest of cotton and worsted"


def test_a_blend_of_nobody_knows_what_says_so():
    blend = allowances_for(["blend"])
    assert values(blend) == [0.10, 0.06, 0.08, 0.08, 0.08]
    assert {getattr(blend, name).source for name in NAMES} == {
        "from memory; highest of cotton, linen and worsted"
    }


def test_a_blend_with_known_components_is_theirs():
    assert allowances_for(["blend", "silk"]) == allowances_for(["silk"])


@pytest.mark.parametrize("fibre", FIBRES)
def test_ranges_hold_their_default_and_relaxation_is_part_of_take_up(fibre):
    found = allowances_for([fibre])
    for name in NAMES:
        figure = getattr(found, name)
        assert 0 < figure.low <= figure.value <= figure.high < 1
    assert found.relaxation.value <= found.take_up.value


@pytest.mark.parametrize("entry", [*LENGTHS.values(), *WASTE.values()])
def test_lengths_hold_their_default_and_both_units_mean_about_the_same(entry):
    for each in (entry.metric, entry.imperial):
        assert 0 < each.low <= each.value <= each.high
    assert entry.metric.value == pytest.approx(entry.imperial.value, rel=0.06)


@pytest.mark.parametrize(
    ("action", "shafts", "units", "millimetres"),
    [
        # From memory: 30 in or 75 cm for a jack loom; 2 in or 5 cm more per four shafts.
        ("jack", 4, "imperial", 762),
        ("rising", 4, "metric", 750),
        ("rising", 2, "metric", 750),
        ("rising", 8, "metric", 800),
        ("rising", 6, "metric", 800),
        ("rising", 9, "metric", 850),
        ("countermarch", 16, "imperial", 42 * 25.4),
        ("rigid heddle", 2, "metric", 450),
    ],
)
def test_loom_waste(action, shafts, units, millimetres):
    assert waste_for(action, shafts, units).value == pytest.approx(millimetres)


def test_waste_range_moves_with_it():
    eight = waste_for("rising", 8, "metric")
    assert (eight.low, eight.high) == (650, 950)


def test_plain_figures():
    # Common practice, no source; margin and joins from memory.
    assert allowances.WEFT_TAKE_UP.value == 0.10
    assert Allowance(0.05, 0.02, 0.10, "from memory") == allowances.JOINS
    assert allowances.BUY_MARGIN.value == 0.10
    assert allowances.WARP_MARGIN.value == 0.05
    assert LENGTHS["least margin"].chosen("imperial").value == pytest.approx(152.4)
    assert LENGTHS["hem"].chosen("metric").value == 40


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: allowances_for(["woolen"]), "unknown fibre 'woolen'; did you mean 'woollen'"),
        (lambda: allowances_for([]), "at least one fibre"),
        (lambda: waste_for("risng", 4, "metric"), "did you mean 'rising'"),
        (lambda: waste_for("rising", 0, "metric"), "shafts must be 1 or more"),
    ],
)
def test_refusals(call, message):
    with pytest.raises(ValueError, match=message):
        call()
