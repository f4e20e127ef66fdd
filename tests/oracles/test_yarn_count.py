"""Published yarn counts. The figure and its source stand beside each test."""

import pytest

from cards.calculation.yarn_size import (
    count_of,
    length_for_mass,
    mass_for_length,
    resultant,
    tex_of,
    tex_of_label,
    yards_per_pound,
)
from cards.units import GRAIN, OUNCE, POUND, YARD

EXACT = 1e-12  # as near as a float comes
ASTM = 3e-6  # six figures printed

YD, LB, OZ, GR = float(YARD), float(POUND), float(OUNCE), float(GRAIN)


def converted(count, old, new):
    return count_of(new, tex_of(old, count))


def folded_cotton(*counts):
    return count_of("Ne", resultant(tex_of("Ne", count) for count in counts))


# ASTM D2260-03(2013), Table 1, with its worked examples, as printed in the public scope page.
@pytest.mark.parametrize(
    ("count", "old", "new", "published", "tolerance"),
    [
        (10, "Ne", "worsted", 15, {"rel": EXACT}),
        (30, "tex", "Ne", 19.7, {"abs": 0.05}),
        (1, "worsted", "lea", 1.86667, {"rel": ASTM}),
        (1, "Ne", "run", 0.525, {"rel": ASTM}),
        (1, "lea", "run", 0.1875, {"rel": ASTM}),
        (1, "Nm", "Ne", 0.590541, {"rel": ASTM}),
        (1, "Nm", "run", 0.310034, {"rel": ASTM}),
        (1, "Nm", "lea", 1.65352, {"rel": ASTM}),
        (1, "grain/120 yd", "tex", 0.590541, {"rel": ASTM}),
        (1, "grain/120 yd", "denier", 5.31487, {"rel": ASTM}),
    ],
)
def test_astm_conversions(count, old, new, published, tolerance):
    assert converted(count, old, new) == pytest.approx(published, **tolerance)


# ISO 1144 factors as reproduced in "Count Conversion Calculation of Yarn",
# textilecalculation.blogspot.com, 2015/03 (secondary).
@pytest.mark.parametrize(
    ("system", "count", "tex", "tolerance"),
    [
        ("denier", 1, 0.1111, {"rel": 2e-4}),
        ("dram", 1, 1.938, {"rel": 2e-4}),
        ("jute", 1, 34.45, {"rel": 2e-4}),
        ("grain/20 yd", 1, 3.543, {"rel": 2e-4}),
        ("Ne", 50, 11.8, {"abs": 0.05}),
        ("jute", 40, 1378, {"abs": 0.5}),
    ],
)
def test_iso_factors(system, count, tex, tolerance):
    assert tex_of(system, count) == pytest.approx(tex, **tolerance)


@pytest.mark.parametrize(
    ("singles", "published", "tolerance"),
    [
        # C. P. Brooks, Cotton Manufacturing, 3rd ed., 1892 (Gutenberg 57681), mirror page 91;
        # the second is printed cut off, not rounded.
        ((40, 20), 13.33, 0.005),
        ((40, 80, 120), 21.81, 0.01),
        # "How to determine resultant count", textilecalculation.blogspot.com, 2015/09; cut off.
        ((20, 30, 30, 40, 40, 40), 5.21, 0.01),
    ],
)
def test_unlike_singles_folded(singles, published, tolerance):
    assert folded_cotton(*singles) == pytest.approx(published, abs=tolerance)


def test_the_other_single_of_a_doubled_yarn():
    # Same page: a doubled 5s holds a 30s; the other single is a 6s.
    assert folded_cotton(30, 6) == pytest.approx(5, rel=EXACT)


def test_yards_per_pound_of_one_dram_silk():
    # A. Wolfensberger, Theory of Silk Weaving, 2nd ed., 1921 (Gutenberg 14600), pp. 71-72.
    assert yards_per_pound(tex_of("dram", 1)) == pytest.approx(256_000, rel=EXACT)


def test_a_lea_weighed_in_grains():
    # J. T. Taylor, Cotton Weaving and Designing, 6th ed., 1909 (Gutenberg 57031), mirror pages
    # 429-430: 120 yd of 20 grains are 50s, and 120 yd of 40s weigh 25 grains.
    assert count_of("Ne", tex_of_label(120 * YD, 20 * GR)) == pytest.approx(50, rel=EXACT)
    assert mass_for_length(tex_of("Ne", 40), 120 * YD) / GR == pytest.approx(25, rel=EXACT)


def test_count_of_a_weighed_warp():
    # Taylor, mirror page 434: 2000 ends of 500 yd weigh 60 lb.
    tex = tex_of_label(2000 * 500 * YD, 60 * LB)
    assert count_of("Ne", tex) == pytest.approx(19.84, abs=0.005)


def test_twenties_cotton_in_other_counts():
    # Brooks, mirror page 91. The book divides by 1.181 for the French number.
    assert converted(20, "Ne", "worsted") == pytest.approx(30, rel=EXACT)
    assert converted(20, "Ne", "lea") == pytest.approx(56, rel=EXACT)
    assert converted(20, "Ne", "Nf") == pytest.approx(16.93, abs=0.01)


def test_woollen_run():
    # American Correspondence School of Textiles, Instruction Paper "Calculations, Part IV", 1898,
    # paras 3 and 5.
    assert mass_for_length(tex_of("run", 5.5), 8800 * YD) / OZ == pytest.approx(16, rel=EXACT)
    assert mass_for_length(tex_of("run", 3), 5250 * YD) / OZ == pytest.approx(17.5, rel=EXACT)
    assert length_for_mass(tex_of("run", 3), 17.5 * OZ) / YD == pytest.approx(5250, rel=EXACT)
    assert count_of("run", tex_of_label(4000 * YD, 5 * OZ)) == pytest.approx(8, rel=EXACT)
    assert count_of("run", tex_of_label(200_000 * YD, 15 * LB)) == pytest.approx(8.33, abs=0.005)


def test_french_cotton_number():
    # A. E. Blanco, Piece Goods Manual, 1917, mirror page 27: 1000 m weigh 25 g.
    assert count_of("Nf", tex_of_label(1_000_000, 25)) == pytest.approx(20, rel=EXACT)
