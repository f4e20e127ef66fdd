from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cards.calculation.sley import pattern_text, sley

INCH = Fraction(254, 10)
SETTS = st.floats(0.01, 20)
REEDS = st.floats(0.1, 4)
ENDS = st.integers(1, 5000)


def in_inches(sett, reed, ends=100, multiple=1):
    return sley(Fraction(sett) / INCH, Fraction(reed) / INCH, ends, multiple)


# Setts of common patterns in common reeds: pattern sum / length x dents per inch, as on many
# published sley charts. Common practice, no source.
@pytest.mark.parametrize(
    ("sett", "reed", "pattern"),
    [
        (5, 10, "0-1"),
        (12, 12, "1"),
        (Fraction(40, 3), 10, "1-1-2"),
        (15, 10, "1-2"),
        (20, 12, "1-2-2"),
        (24, 12, "2"),
        (28, 12, "2-2-3"),
        (30, 12, "2-3"),
        (36, 12, "3"),
        (48, 12, "4"),
        (Fraction("21.3"), 16, "1-1-2"),
        (24.01, 12, "2"),
    ],
)
def test_common_patterns(sett, reed, pattern):
    assert pattern_text(in_inches(sett, reed).pattern) == pattern


def test_a_float_sett_that_comes_out_has_no_error():
    assert sley(20 / 25.4, 8 / 25.4, 100).error == 0


def test_a_sparse_warp_leaves_dents_empty():
    wide = in_inches(2.5, 10, ends=10)
    assert pattern_text(wide.pattern) == "0-0-0-1"
    # Nine times 1-0-0-0 and the last end: from the first end to the last, 37 dents of 1/10 in.
    assert (wide.dents, wide.error) == (37, 0)
    assert wide.per_dent() == (1, 0, 0, 0) * 9 + (1,)
    assert wide.width_mm == pytest.approx(3.7 * 25.4)


def test_a_warp_too_sparse_for_ten_dents_is_returned_with_its_error():
    far = in_inches(0.5, 10, ends=3)
    assert far.pattern == (0,) * 9 + (1,)
    assert far.error == pytest.approx(1.0)


def test_the_last_dent_may_hold_fewer():
    short = in_inches(30, 12, ends=12)  # 2-3-2-3-2
    assert (short.dents, short.remainder) == (5, 0)
    short = in_inches(30, 12, ends=9)  # 2-3-2-2 of 3
    assert (short.dents, short.remainder, short.per_dent()) == (4, 2, (2, 3, 2, 2))


def test_layers_share_every_dent():
    double = in_inches(24, 8, ends=96, multiple=2)
    assert pattern_text(double.pattern) == "2-4"
    assert double.true_sett_per_mm == pytest.approx(24 / 25.4)


@given(SETTS, REEDS, ENDS, st.integers(1, 4))
def test_a_sleying_holds_together(sett, reed, ends, multiple):
    made = sley(sett, reed, ends, multiple)
    assert len(made.pattern) <= 10
    assert max(made.pattern) - min(made.pattern) in (0, multiple)
    assert all(dent % multiple == 0 for dent in made.pattern)
    dents = made.per_dent()
    assert (len(dents), sum(dents)) == (made.dents, ends)
    assert dents[0] > 0
    assert dents[-1] > 0
    assert made.true_sett_per_mm == pytest.approx(sum(made.pattern) / len(made.pattern) * reed)
    assert made.width_mm == pytest.approx(made.dents / reed)
    assert made.cloth_width_mm == pytest.approx(ends / made.true_sett_per_mm)
    assert made.error == pytest.approx(made.true_sett_per_mm / sett - 1, abs=1e-9)


@given(SETTS, REEDS)
def test_no_pattern_of_ten_dents_is_nearer_unless_a_short_one_is_near_enough(sett, reed):
    made = sley(sett, reed, 100)
    wanted = Fraction(sett) / Fraction(reed)
    nearest = min(
        abs(Fraction(ends, dents) - wanted)
        for dents in range(1, 11)
        for ends in {max(1, int(wanted * dents) + more) for more in (0, 1)}
    )
    if len(made.pattern) > 4 or abs(made.error) > 0.02:
        off = abs(Fraction(sum(made.pattern), len(made.pattern)) - wanted)
        assert off <= nearest + Fraction(1, 10**9)


@given(SETTS, REEDS)
def test_ends_are_spread_evenly(sett, reed):
    # Even spreading (balanced words, from combinatorics on words): any two stretches of equal
    # length differ by at most one.
    pattern = sley(sett, reed, 100).pattern
    for length in range(1, len(pattern)):
        doubled = pattern * 2
        sums = [sum(doubled[at : at + length]) for at in range(len(pattern))]
        assert max(sums) - min(sums) <= 1


@pytest.mark.parametrize(
    ("figures", "message"),
    [
        ((0, 1, 10), "sett must be above 0"),
        ((1, -1, 10), "reed must be above 0"),
        ((1, float("nan"), 10), "reed must be above 0"),
        ((float("inf"), 1, 10), "sett must be above 0"),
        ((1, 1, 0), "ends must be 1 or more"),
        ((1, 1, 10, 0), "multiple must be 1 or more"),
    ],
)
def test_refusals(figures, message):
    with pytest.raises(ValueError, match=message):
        sley(*figures)
