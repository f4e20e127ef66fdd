"""Published reeds and sleying orders. The figure and its source stand beside each test.

Reed numbers of old systems are turned into dents to a length here, as a spec would say it; the
program knows no such numbers.
"""

from fractions import Fraction

import pytest

from cards.calculation.sett_table import sett_rows
from cards.calculation.sley import exact_density, pattern_text, sley
from cards.loom.heddles import heddles_needed
from cards.spec.sley_models import parse_reed

INCH = Fraction(254, 10)


def in_inches(sett, reed, ends=100):
    return sley(Fraction(sett) / INCH, Fraction(reed) / INCH, ends)


def same_order(pattern, published):
    """Whether two orders are one, wherever one begins to read."""
    turns = [pattern[at:] + pattern[:at] for at in range(len(pattern))]
    return published in turns


def test_even_order_of_twenty_ends_in_eight_dents():
    # Interweave, "8/2 cotton in an 8-dent reed": 3-2.
    made = in_inches(20, 8)
    assert same_order(made.pattern, (3, 2))
    assert made.true_sett_per_mm * 25.4 == pytest.approx(20)


# P. Osterkamp, "Useful information, more charts", 2023/05, and a reed substitution chart of the
# School of SweetGeorgia.
@pytest.mark.parametrize(
    ("pattern", "reed", "sett"),
    [("1-1-1-2", 8, 10), ("1-2-2", 6, 10), ("3-3-4", 6, 20), ("1-1-1-2", 10, 12.5)],
)
def test_orders_of_published_charts(pattern, reed, sett):
    made = in_inches(sett, reed)
    assert pattern_text(made.pattern) == pattern
    assert made.error == 0


def test_sixteen_ends_in_ten_dents():
    # Interweave, sleying article: 2-1-2-1-2-1-2-1-2-2, that is 16 ends in 10 dents, six twos
    # and four ones. That order lets three twos meet where it begins again; spread evenly the
    # same ten dents are 2-1-2-1-2 twice, so the order itself is not asked for.
    published = (2, 1, 2, 1, 2, 1, 2, 1, 2, 2)
    made = in_inches(16, 10, ends=16)
    assert sorted(made.per_dent()) == sorted(published)
    assert same_order(made.pattern, (2, 1, 2, 1, 2))


def test_taffeta_reeds():
    # A. Wolfensberger, Theory of Silk Weaving, 2nd ed., 1921 (Gutenberg 14600), p. 70: 240 ends an
    # inch take 80 dents at three a dent and 60 at four.
    assert in_inches(240, 80).pattern == (3,)
    assert in_inches(240, 60).pattern == (4,)


@pytest.mark.parametrize(("a_dent", "sett"), [(1, 36), (2, 72), (3, 108)])
def test_72s_stockport(a_dent, sett):
    # "Reed calculations", mytextilenotes.blogspot.com: a 72s Stockport has 36 dents an inch.
    made = in_inches(sett, Fraction(72, 2))
    assert (made.pattern, made.error) == ((a_dent,), 0)


def test_40s_stockport_in_a_beer_width():
    # C. P. Brooks, Cotton Manufacturing, 3rd ed., 1892 (Gutenberg 57681), mirror page 92: N dents
    # in 2 in, so a 40s has 485 dents in 24 1/4 in.
    made = in_inches(20, Fraction(40, 2), ends=485)
    assert made.dents == 485
    assert made.width_mm == pytest.approx(24.25 * 25.4)
    # The same page: 20 dents are a beer, so it has 24 1/4 of them in that width.
    assert Fraction(made.dents, 20) == Fraction(97, 4)


def test_scotch_2000():
    # J. T. Taylor, Cotton Weaving and Designing, 6th ed., 1909 (Gutenberg 57031), mirror page 244:
    # 2000 dents in 37 in, two a dent, hold 4000 ends.
    made = in_inches(Fraction(4000, 37), Fraction(2000, 37), ends=4000)
    assert (made.pattern, made.dents) == ((2,), 2000)
    assert made.width_mm == pytest.approx(37 * 25.4)


def test_scotch_1100():
    # Brooks, mirror page 96: 1100 dents in 37 in, two a dent: 2260 ends take 1130 dents, 38 in wide
    # to the nearest dent.
    reed = Fraction(1100, 37)
    made = in_inches(2 * reed, reed, ends=2260)
    assert made.dents == 1130
    assert made.width_mm == pytest.approx(38 * 25.4, abs=float(25.4 / reed))


def test_72s_bradford_at_three_a_dent():
    # NIMI, Shawl Weaving Artisan - TT, p. 74: 72 beers of 20 dents in 36 in, three a dent: 120 ends
    # an inch.
    made = in_inches(120, Fraction(72 * 20, 36))
    assert (made.pattern, made.error) == ((3,), 0)


def dents_per_inch(text):
    return exact_density(parse_reed(text)) * INCH


def test_50_sett_bradford():
    # Taylor, mirror page 244: 50 beers of 40 ends in 36 in are 500/9 ends an inch. A beer of 40
    # ends is 20 dents at two a dent.
    reed = exact_density(parse_reed(f"{50 * 20} per 36 in"))
    row = next(each for each in sett_rows([reed]) if each.pattern == (2,))
    assert row.setts[0] * INCH == Fraction(500, 9)


def test_10s_irish_in_dents_per_inch():
    # NIMI, Shawl Weaving Artisan - TT, p. 74: 10 hundreds of dents in 40 in are 25 an inch, and
    # 40 dents an inch (40s Radcliffe) are 80 in 2 in.
    assert dents_per_inch("1000 per 40 in") == 25
    assert dents_per_inch("80 per 2 in") == 40


def test_72s_stockport_in_dents_per_inch():
    # "Reed calculations", mytextilenotes.blogspot.com: 36.
    assert dents_per_inch("72 per 2 in") == 36


def test_taffeta_counted_in_a_quarter_of_an_inch():
    # Wolfensberger, p. 70: 30 repeats of 2 ends in 1/4 in are 240 ends an inch.
    ends = 30 * 2
    reed = exact_density(parse_reed("80 per in"))
    made = sley(ends * 4 / INCH, reed, ends)
    assert (made.pattern, made.dents) == ((3,), 20)
    assert made.width_mm == pytest.approx(25.4 / 4)


def test_heddles_of_100_ends_on_four_shafts():
    # Wolfensberger, p. 71: 25 an inch on each shaft.
    assert heddles_needed([1, 2, 3, 4] * 25, 4) == (25, 25, 25, 25)


def test_heddles_of_a_draft_on_five_shafts():
    # Wolfensberger, p. 71: a repeat of 12 ends that uses five shafts 1, 2, 3, 4 and 2 times, five
    # repeats to the inch: 60 ends, and 5, 10, 15, 20 and 10 heddles.
    repeat = [1, 2, 2, 3, 3, 3, 4, 4, 4, 4, 5, 5]
    assert heddles_needed(repeat * 5, 5) == (5, 10, 15, 20, 10)
