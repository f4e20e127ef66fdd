"""Published weights of warps and wefts, reckoned by the program's own functions."""

from fractions import Fraction

import pytest

from cards.calculation.warp import crimp, take_up
from cards.calculation.yarn_need import PutUp, need_of, warp_yarn_length, weft_yarn_length
from cards.calculation.yarn_size import tex_of
from cards.draft.interlacing import interlacings
from cards.units import INCH, OUNCE, POUND, YARD

BROOKS = "C. P. Brooks, Cotton Manufacturing, 3rd ed., 1892"
YD, IN, LB, OZ = float(YARD), float(INCH), float(POUND), float(OUNCE)
HANK = 840 * YD


def mass(length_mm, tex):
    return need_of(length_mm, tex, 0.0, PutUp()).mass


def test_warp_of_a_piece_of_30s_cotton():
    # Source: Brooks 1892, "Weight of a piece", pp. 93-94: 60s Stockport, 2 a dent, 38 in.
    ends = 38 * 60
    assert ends == 2280
    length = warp_yarn_length(ends, 38 * YD)
    assert length / HANK == pytest.approx(float(Fraction(722, 7)), rel=1e-12)
    assert mass(length, tex_of("Ne", 30)) / OZ == pytest.approx(55, abs=0.5)


def test_warp_of_2260_ends():
    # Source: Brooks 1892, p. 96; the book truncates 3.40794 lb.
    length = warp_yarn_length(2260, 38 * YD)
    assert mass(length, tex_of("Ne", 30)) / LB == pytest.approx(3.407, abs=0.001)


def test_warp_of_3240_ends_of_32s():
    # Source: textilecalculations.com, "Calculation of total quantity of materials in a
    # piece of cloth". Length and hanks were read there; the weight is arithmetic from them.
    length = 40 * YD * 1.05
    assert length / YD == pytest.approx(42)
    warp = warp_yarn_length(3240, length)
    assert warp / HANK == pytest.approx(162)
    assert mass(warp, tex_of("Ne", 32)) / LB == pytest.approx(5.0625)


def test_hand_loom_towels():
    # Source: measuredthreads.com, towels: 22 in at 24 per inch, 4 yd, 3360 yd/lb.
    warp = warp_yarn_length(22 * 24, 4 * YD)
    assert warp / YD == pytest.approx(2112)
    assert mass(warp, tex_of("yd/lb", 3360)) / LB == pytest.approx(0.63, abs=0.005)


def test_scarf_in_a_balanced_weave():
    # Source: sparksearcher.livejournal.com/152462: 56 ends of 90 in are 140 yd.
    assert warp_yarn_length(56, 90 * IN) / YD == pytest.approx(140)


def test_weft_of_36s():
    # Source: Brooks 1892, pp. 93-94: 64 picks an inch, 37 1/2 in, 36 yd; 2 lb 13 3/4 oz.
    weft = weft_yarn_length(64 * 36 * 36, 37.5 * IN, 0.0, 0.0)
    assert mass(weft, tex_of("Ne", 36)) / OZ == pytest.approx(45.75, abs=0.1)


def test_weft_counted_with_a_glass():
    # Source: Brooks 1892, p. 96: 11 1/2 shots in 1/200 yd; 2.85 lb.
    per_yard = 11.5 * 200
    assert per_yard == 2300
    weft = weft_yarn_length(per_yard * 36, 37.5 * IN, 0.0, 0.0)
    assert mass(weft, tex_of("Ne", 36)) / LB == pytest.approx(2.85, abs=0.005)


def test_hanks_of_weft():
    # Source: J. T. Taylor, Cotton Weaving and Designing, 6th ed., 1909, p. 436.
    weft = weft_yarn_length(60 * 36 * 84, 34 * IN, 0.0, 0.0)
    assert weft / HANK == pytest.approx(204)


def test_weft_without_allowance():
    # Source: mytextilenotes.blogspot.com, 2026/05: 30 in, 60 picks an inch: 1800 yd a yard.
    assert weft_yarn_length(60 * 36, 30 * IN, 0.0, 0.0) / YD == pytest.approx(1800)
    assert weft_yarn_length(60 * 36 * 50, 30 * IN, 0.0, 0.0) / YD == pytest.approx(90000)


def test_weft_of_40s():
    # Source: textilecalculations.com (inputs published, the answer line not seen).
    weft = weft_yarn_length(64 * 36 * 40, 44.5 * IN, 0.0, 0.0)
    assert mass(weft, tex_of("Ne", 40)) / LB == pytest.approx(3.3905, abs=0.0001)


def test_silk_in_drams():
    # Source: A. Wolfensberger, Theory of Silk Weaving, 2nd ed., 1921, pp. 71-72 (the
    # formula; the numbers are chosen to make it transparent).
    warp = warp_yarn_length(1000, 256 * YD)
    assert mass(warp, tex_of("dram", 5)) / LB == pytest.approx(5)


def test_take_up_and_crimp_have_different_bases():
    # Source: ASTM D3883-04(2020), section 4: 110 mm straightened, 100 mm in the cloth.
    assert crimp(110, 100) * 100 == pytest.approx(10)
    assert take_up(110, 100) * 100 == pytest.approx(9.0909, abs=0.0001)


def test_take_up_of_a_piece_of_90_yards():
    # Source: Taylor 1909, p. 245: 95 yd of warp give 90 yd of cloth, "a little over 5 %".
    assert crimp(95, 90) * 100 == pytest.approx(5.556, abs=0.001)
    assert take_up(95, 90) * 100 == pytest.approx(5.263, abs=0.001)


def test_cloth_mass_per_square_metre():
    # Source: GATE 2009, Textile Engineering, question 37: crimp 10 % in both, so a metre
    # of cloth holds 1.1 m of every thread.
    warp = mass(warp_yarn_length(4000, 1000 * 1.1), 30)
    weft = mass(weft_yarn_length(3000, 1000, 0.10, 0.0), 20)
    assert warp == pytest.approx(132)
    assert weft == pytest.approx(66)
    assert warp + weft == pytest.approx(198)


def satin_of(size, step):
    return [frozenset({place * step % size + 1}) for place in range(size)]


def intersections(size, lifts):
    """How often a pick changes between face and back along an end, for each pick."""
    _, along = interlacings(range(1, size + 1), lifts)
    return along.intersections / along.threads


@pytest.mark.parametrize(
    ("lifts", "picks", "published"),
    [
        # Source: J. T. Taylor, Cotton Weaving and Designing, 6th ed., 1909, p. 427: five-end satin,
        # 180 picks an inch, 70s weft: 72 intersections, 4 % (printed), 94 yd take 98 yd (printed).
        (satin_of(5, 2), 180, 4),
        # Source: the same, p. 428: plain cloth of 120 picks, 70s weft: 6 6/7 %.
        (satin_of(2, 1), 120, Fraction(48, 7)),
    ],
    ids=["satin", "plain"],
)
def test_intersections_of_the_rule_of_thumb_for_fine_cotton(lifts, picks, published):
    """The rule itself, 4 x intersections / count, is the book's; the program only counts."""
    counted = intersections(len(lifts), lifts) * picks
    contraction = 4 * counted / 70
    assert float(contraction) == pytest.approx(float(published), abs=0.2)
    if picks == 180:
        assert counted == 72
        # The contraction is reckoned on the cloth, as crimp is: take-up is c / (1 + c).
        crimped = float(contraction) / 100
        assert 94 / (1 - crimped / (1 + crimped)) == pytest.approx(98, abs=0.5)
        assert crimp(97.8674, 94) == pytest.approx(crimped, abs=1e-5)
    else:
        assert contraction == published


def test_whole_piece_with_its_size():
    # Source: Brooks 1892, "Weight of a piece", pp. 93-94: 3 lb 7 oz of warp with 25 % of size,
    # 2 lb 13 3/4 oz of weft, 7 lb 2 1/2 oz in all. The program weighs yarn as it is; the share of
    # size is the book's.
    warp = mass(warp_yarn_length(2280, 38 * YD), tex_of("Ne", 30)) / OZ
    weft = mass(weft_yarn_length(64 * 36 * 36, 37.5 * IN, 0.0, 0.0), tex_of("Ne", 36)) / OZ
    assert warp * 0.25 == pytest.approx(13.75, abs=0.01)
    assert warp * 1.25 + weft == pytest.approx(114.5, abs=0.1)
