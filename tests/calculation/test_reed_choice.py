"""Reeds ranked, and the table of setts against a published chart."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cards.calculation.reed_choice import rank_reeds
from cards.calculation.sett_table import USUAL, nearest_rows, sett_rows
from cards.calculation.sley import exact_density, pattern_text

INCH = Fraction(254, 10)
DENTS = (5, 6, 8, 10, 12, 15, 16)

# A sley chart as handweavers' pages print it, ends per inch to a tenth; the exact figures are
# those of the reed times the mean of the pattern.
CHART = {
    "0-1": (2.5, 3, 4, 5, 6, 7.5, 8),
    "1": (5, 6, 8, 10, 12, 15, 16),
    "1-1-2": (6.7, 8, 10.7, 13.3, 16, 20, 21.3),
    "1-2": (7.5, 9, 12, 15, 18, 22.5, 24),
    "1-2-2": (8.3, 10, 13.3, 16.7, 20, 25, 26.7),
    "2": (10, 12, 16, 20, 24, 30, 32),
    "2-2-3": (11.7, 14, 18.7, 23.3, 28, 35, 37.3),
    "2-3": (12.5, 15, 20, 25, 30, 37.5, 40),
    "3": (15, 18, 24, 30, 36, 45, 48),
    "4": (20, 24, 32, 40, 48, 60, 64),
}


def in_inches(*dents):
    return [Fraction(each) / INCH for each in dents]


def test_the_published_chart():
    rows = sett_rows(in_inches(*DENTS))
    assert {pattern_text(row.pattern) for row in rows} == set(CHART)
    for row in rows:
        printed = CHART[pattern_text(row.pattern)]
        for dents, sett, figure in zip(DENTS, row.setts, printed, strict=True):
            exact = Fraction(sum(row.pattern) * dents, len(row.pattern))
            assert sett * INCH == exact
            assert abs(exact - Fraction(str(figure))) <= Fraction(1, 20)


# Metric reeds in dents per inch, to a hundredth: 1 in is 25.4 mm exactly.
@pytest.mark.parametrize(
    ("per_10_cm", "dpi"),
    [(20, 5.08), (25, 6.35), (30, 7.62), (35, 8.89), (40, 10.16), (45, 11.43), (50, 12.70),
     (55, 13.97), (60, 15.24), (65, 16.51), (70, 17.78)],
)  # fmt: skip
def test_metric_reeds_in_inches(per_10_cm, dpi):
    reed = exact_density(per_10_cm / 100)
    assert reed == Fraction(per_10_cm, 100)
    assert reed * INCH == Fraction(str(dpi))


def test_reeds_written_in_inches_come_back_exactly():
    assert [exact_density(float(reed)) for reed in in_inches(*DENTS)] == in_inches(*DENTS)


def test_patterns_in_use_have_a_row():
    rows = sett_rows(in_inches(12), [(2, 1), (3, 3, 4), (7,)])
    patterns = [row.pattern for row in rows]
    assert (3, 3, 4) in patterns
    assert (7,) in patterns
    # 2-1 is 1-2 begun elsewhere.
    assert len(rows) == len(USUAL) + 2
    means = [row.setts[0] for row in rows]
    assert means == sorted(means)


def test_the_nearest_row_of_each_reed():
    rows = sett_rows(in_inches(8, 12, 15))
    found = [[pattern_text(rows[place].pattern) for place in each]
             for each in nearest_rows(rows, Fraction(24) / INCH)]  # fmt: skip
    assert found == [["3"], ["2"], ["1-2-2"]]  # 25 is nearer than 22.5
    level = nearest_rows(sett_rows(in_inches(12)), Fraction(42) / INCH)
    assert len(level[0]) == 2  # 36 and 48 are level


def ranked(sett, *reeds, layers=1, pattern=()):
    choices = rank_reeds(Fraction(sett) / INCH, in_inches(*reeds), layers, pattern)
    return [int(choice.reed * INCH) for choice in choices], choices


def test_a_reed_that_gives_the_sett_comes_first():
    # 2 in a dent of 12, 3 in one of 8; 10 takes 2-2-3-2-3 and 15 takes 1-2-1-2-2.
    order, choices = ranked(24, 10, 15, 8, 12)
    assert order[:2] == [12, 8]
    assert [pattern_text(choice.pattern) for choice in choices[:2]] == ["2", "3"]


def test_layers_whole_come_before_a_shorter_pattern():
    # Two layers: 24 ends are 3 in a dent of 8, which parts the layers, and 2 in one of 12.
    order, choices = ranked(24, 8, 12, layers=2)
    assert order == [12, 8]
    assert [choice.whole for choice in choices] == [True, False]
    assert choices[0].clearly_better(choices[1])


def test_a_crowded_reed_comes_behind_a_comfortable_one():
    assert ranked(60, 5, 25)[0] == [25, 5]


def test_a_long_pattern_comes_behind_a_short_one():
    order, choices = ranked(20, 14, 8)  # 10 in 7 dents, or 2-3
    assert order == [8, 14]
    assert choices[0].clearly_better(choices[1])
    assert not choices[1].clearly_better(choices[0])


def test_a_pattern_of_ones_own_is_what_reeds_are_judged_by():
    order, choices = ranked(24, 8, 16, 12, pattern=(1, 2))
    assert order[0] == 16
    assert choices[0].error == 0
    assert all(choice.pattern == (1, 2) for choice in choices)


@given(st.floats(0.1, 10), st.lists(st.floats(0.05, 4), min_size=1, max_size=6), st.integers(1, 4))
def test_no_reed_behind_is_clearly_better(sett, reeds, layers):
    choices = rank_reeds(sett, reeds, layers)
    assert sorted(float(each.reed) for each in choices) == pytest.approx(sorted(reeds))
    for place, choice in enumerate(choices):
        assert not any(other.clearly_better(choice) for other in choices[place + 1 :])
        mean = Fraction(sum(choice.pattern), len(choice.pattern))
        assert choice.true_sett == mean * choice.reed
        assert float(choice.error) == pytest.approx(float(choice.true_sett) / sett - 1, abs=1e-9)
