"""Published setts, diameters and cover factors, reckoned by the program's own functions."""

import pytest

from cards.calculation.cloth_weight import threads_weight
from cards.calculation.cover import cloth_cover, cover_factor
from cards.calculation.sett import (
    USES,
    by_wraps,
    closest,
    constant_for,
    diameter,
    diameters,
    is_far_off,
)
from cards.calculation.yarn_size import tex_of
from cards.draft.interlacing import interlacings
from cards.units import INCH

IN = float(INCH)
COTTON = tex_of("Ne", 8, 2)
PLAIN = 2 / 2
TWILL_2_2 = 2 / 4


def most_per_inch(tex, intersections, constant=0.9):
    d = diameter(constant, tex)
    return closest(d, d, intersections) * IN


def test_diameters_of_eight_two_cotton():
    # faena.medievaltextiles.org/ash.html, 1999: 0.9 times the root of 3360 yd/lb is 52.
    firm = constant_for(["cotton"]).value
    assert diameters(firm, COTTON) * IN == pytest.approx(52, abs=0.5)


def test_closest_plain_sett_of_eight_two_cotton():
    # Same page: 52 x 2 / (2 + 2) = 26.
    assert most_per_inch(COTTON, PLAIN) == pytest.approx(26, abs=0.5)


def test_a_twill_as_firm_as_a_plain_cloth():
    # Taylor, mirror page 464: 103 plain ends are as firm as 137 1/3 in a 2/2 twill.
    tex = tex_of("Ne", 30)
    ratio = most_per_inch(tex, TWILL_2_2) / most_per_inch(tex, PLAIN)
    assert 103 * ratio == pytest.approx(412 / 3, rel=1e-12)


def test_another_twill_as_firm():
    # Taylor, mirror page 464; the proportion was read, the printed answer was not.
    up_down = "1111100100"
    lifts = [
        frozenset(end + 1 for end in range(10) if up_down[(end - pick) % 10] == "1")
        for pick in range(10)
    ]
    found, _ = interlacings(list(range(1, 11)) * 4, lifts)
    assert found.share * 40 == pytest.approx(16, rel=1e-12)
    tex = tex_of("Ne", 30)
    ratio = most_per_inch(tex, found.share) / most_per_inch(tex, TWILL_2_2)
    assert 137 * ratio == pytest.approx(146.79, abs=0.005)


def test_diameters_go_by_the_root_of_the_count():
    # Taylor, mirror page 458: 32s have 156 to the inch, so 50s have 195.
    ratio = diameters(0.9, tex_of("Ne", 50)) / diameters(0.9, tex_of("Ne", 32))
    assert 156 * ratio == pytest.approx(195, abs=1e-9)


@pytest.mark.parametrize(("count", "published"), [(46, 177), (36, 157), (16, 104)])
def test_diameters_less_a_tenth(count, published):
    # "How to calculate yarn diameter from count", textilecalculation.blogspot.com, 2015/08.
    assert diameters(0.9, tex_of("Ne", count)) * IN == pytest.approx(published, abs=0.5)


def test_a_cloth_made_a_sixth_heavier():
    # "Yarn count and cloth weight", mytextilenotes.blogspot.com, 2026/05: 20s become 14.69s, the
    # weave and the firmness staying as they are.
    def weight(count):
        tex = tex_of("Ne", count)
        per_mm = most_per_inch(tex, PLAIN) / IN
        return 2 * threads_weight(per_mm, tex, 0.1)

    assert weight(14.69) / weight(20) == pytest.approx(7 / 6, rel=2e-4)


def test_cover_factor():
    # "Woven fabric calculation", scribd.com document 455076497: 20 tex at 28 to the cm, 12.5.
    assert cover_factor(2.8, [(20.0, 40)]) == pytest.approx(12.5, abs=0.05)
    # Touching threads cover everything once, however close the others lie.
    assert cloth_cover(28.0, 11.0) == pytest.approx(28.0)


def test_setts_that_are_published_for_towels():
    # Interweave, "8/2 cotton in an 8-dent reed": plain 20; measuredthreads.com, towels: twill 24.
    for sett, intersections in ((20, PLAIN), (24, TWILL_2_2)):
        share = sett / most_per_inch(COTTON, intersections)
        assert not is_far_off(share, USES["towel"])
        assert is_far_off(share, USES["lace"])
        assert is_far_off(share, USES["upholstery"])


def test_advice_by_wraps():
    # interweave.com, choosing setts: half the wraps for a balanced plain weave; two thirds for a
    # 2/2 twill is common practice, no source.
    assert by_wraps(36.0, PLAIN) == pytest.approx(18.0)
    assert by_wraps(36.0, TWILL_2_2) == pytest.approx(24.0)


def test_unlike_yarns_take_their_own_room():
    # From the rule itself: between two ends stands a pick as thick as the pick is.
    thin, thick = diameter(0.9, tex_of("Ne", 40)), diameter(0.9, tex_of("Ne", 10))
    assert thick == pytest.approx(2 * thin)
    assert closest(thin, thick, 1.0) == pytest.approx(1 / (3 * thin))
    assert closest(thick, thin, 1.0) == pytest.approx(1 / (3 * thin))
