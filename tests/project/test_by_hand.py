"""Two projects worked by hand, step by step, and every step held against the program's own.

The arithmetic here is exact fractions, written out apart from the program; the allowances are trade
figures from memory.
"""

import math
from fractions import Fraction

import pytest

from tests.project.worked import project_of

IN, YD = 25.4, 914.4


def percent(number):
    return Fraction(number, 100)


class Steps:
    """The steps of a project by name, in the unit of the hand-worked figures."""

    def __init__(self, project, unit):
        self.project = project
        self.unit = unit
        self.steps = {each.name: each for each in project.steps}

    def length(self, name):
        return self.steps[name].raw / self.unit

    def used(self, name):
        return self.steps[name].value / self.unit

    def raw(self, name):
        return self.steps[name].raw

    def value(self, name):
        return self.steps[name].value


def exactly(fraction):
    return pytest.approx(float(fraction), rel=1e-12)


def test_a_double_width_throw_in_inches():
    """Cotton 8/2, finished 54 x 72 in, fringes of 5 in that do not come out of the waste.

    Layer sett and picks 12, 12-dent reed, jack loom. The decimals are the figures that were printed
    when it was worked by hand; the fractions are the same steps without rounding.
    """
    project = project_of(
        yarns={"natural": {"fibre": "cotton", "size": "Ne 8/2"}},
        cloth={"width": "54 in", "length": "72 in", "fringe": {"length": "5 in"}},
        sett="12 per in",
        picks="12 per in",
        loom={"action": "jack", "shafts": "4", "treadles": "4", "reed": "12 per in"},
        sley={"fold_open": "0"},
        draft={"double_weave": {"layers": "2", "join": "left"}},
    )
    at = Steps(project, IN)
    # Width: two layers, then 7 % and 7 %.
    layer = Fraction(54) / 2
    assert at.length("finished width of one layer") == exactly(layer)
    off = layer / (1 - percent(7))
    assert at.length("width off the loom") == exactly(off)
    reed = off / (1 - percent(7))
    assert at.length("width wanted in the reed") == exactly(reed)
    assert round(float(reed), 2) == 31.22
    # Ends: 24 to the inch, up to a multiple of four.
    assert at.raw("ends") == exactly(reed * 24)
    assert round(float(reed * 24), 1) == 749.2
    ends = 4 * math.ceil(reed * 24 / 4)
    assert at.value("ends") == ends == 752
    # Two in a dent of twelve to the inch.
    assert at.value("dents") == 376
    assert at.length("width in the reed") == exactly(Fraction(376, 12))
    assert round(float(Fraction(376, 12)), 2) == 31.33
    # Lengths of the piece: 8 %, then 10 % of the warp and 3 % under tension.
    cloth = Fraction(72) / (1 - percent(8))
    used = cloth / (1 - percent(10))
    weave_to = cloth / (1 - percent(3))
    assert at.length("cloth off the loom, one piece") == exactly(cloth)
    assert at.length("warp used, one piece") == exactly(used)
    assert at.length("weave to, under tension, one piece") == exactly(weave_to)
    assert [round(float(each), 2) for each in (cloth, used, weave_to)] == [78.26, 86.96, 80.68]
    # Fringe: shrinks like the cloth, 15 % lost in twisting, 2 in for the knot; one at each end.
    fringe = Fraction(5) / (1 - percent(8)) / (1 - percent(15)) + 2
    assert at.length("one fringe on the loom") == exactly(fringe)
    assert round(float(fringe), 2) == 8.39
    # Warp: header 2, sample 12, waste 30; margin 5 %, at least 6 in. Sections come out four picks
    # longer than asked for, which adds a seventh of an inch to the warp used.
    woven = Fraction(1940, 24)
    longer = used * woven / weave_to
    assert at.length("warp used, one piece, as its sections are woven") == exactly(longer)
    bare = used + 2 * fringe + 2 + 12 + 30
    assert round(float(bare), 1) == 147.7
    assert round(float(bare * percent(5)), 1) == 7.4
    assert round(float(bare * percent(105)), 1) == 155.1
    bare = longer + 2 * fringe + 2 + 12 + 30
    assert at.length("warp before the margin") == exactly(bare)
    assert at.length("margin") == exactly(bare * percent(5))
    length = Fraction(math.ceil(bare * percent(105) / 9)) * 9
    assert at.used("warp length") == exactly(length)
    assert length / 36 == Fraction(9, 2)
    # Yarn: two spare ends; 10 % and 5 % on every pick.
    assert at.length("natural: warp") / 36 == exactly((752 + 2) * length / 36) == 3393
    picks = math.ceil(weave_to * 24)
    assert at.value("picks of one piece") == picks == 1937
    one = Fraction(376, 12) * percent(110) * percent(105)
    assert at.length("weft of one pick") == exactly(one)
    assert round(float(picks * one / 36)) == 1947
    weft = (1940 + 12 * 24) * one / 36
    assert at.length("natural: weft") / 36 == exactly(weft)
    # 8/2 cotton has 840 x 8 / 2 = 3360 yards to the pound, 210 to the ounce.
    both = (3393 + weft) / 210
    assert at.raw("natural: mass") / 28.349523125 == exactly(both)


def sampler():
    """Linen, 20 x 30 cm with hems of 1 cm, 6 ends and 5 picks to the cm, reed 60 per 10 cm."""
    return project_of(
        units="metric",
        yarns={
            "flax": {"fibre": "linen", "size": "tex 60", "put_up": "50 g", "price": "4.20"},
            "blue": {"fibre": "linen", "size": "tex 90", "put_up": "50 g", "price": "5.10"},
        },
        cloth={"width": "20 cm", "length": "30 cm", "hem": "1 cm", "pieces": "2"},
        sett="6 per cm",
        picks="5 per cm",
        loom={"action": "table", "shafts": "4", "reed": "60 per 10 cm"},
        draft={"threading": "(1 2 3 4) to fill", "lifts": "1 2; 2 3; 3 4; 1 4"},
        warp_order="flax",
        weave=[
            {"section": "hem", "length": "1 cm", "weft": "flax"},
            {"section": "twill", "length": "fill", "weft": "blue"},
            {"section": "other hem", "picks": "6", "weft": "flax"},
        ],
    )


def test_the_sampler_of_a_table_loom_from_its_size_to_its_warp():
    project = sampler()
    at = Steps(project, 10)
    off = Fraction(20) / (1 - percent(5))
    reed = off / (1 - percent(6))
    assert at.length("width off the loom") == exactly(off)
    assert at.length("width wanted in the reed") == exactly(reed)
    ends = 4 * math.ceil(reed * 6 / 4)
    assert at.value("ends") == ends == 136
    assert at.value("dents") == 136
    width = Fraction(136, 6)
    assert at.length("width in the reed") == exactly(width)
    finished = width * (1 - percent(6)) * (1 - percent(5))
    assert at.length("finished width that comes of it") == exactly(finished)
    # 5 % of shrinkage; 8 % take-up, 2 % relaxation.
    cloth = (Fraction(30) + 2 * 1) / (1 - percent(5))
    used, weave_to = cloth / (1 - percent(8)), cloth / (1 - percent(2))
    assert at.length("cloth off the loom, one piece") == exactly(cloth)
    assert at.length("warp used, one piece") == exactly(used)
    assert at.length("weave to, under tension, one piece") == exactly(weave_to)
    # Picks: the piece, its first hem by length, the second as counted; the middle takes the rest
    # and is raised to whole repeats of four.
    piece = math.ceil(weave_to * 5)
    assert at.value("picks of one piece") == piece == 172
    hem = math.ceil(Fraction(1) / (1 - percent(5)) / (1 - percent(2)) * 5)
    assert at.value("picks of section 1, hem") == hem == 6
    middle = 4 * math.ceil(Fraction(piece - hem - 6, 4))
    assert [section.picks for section in project.weft.sections] == [hem, middle, 6]
    total = hem + middle + 6
    assert at.value("picks of one piece, as its sections have them") == total
    # Warp: no gap without a fringe; header 5, sample 30, waste 60; at least 15 cm of margin.
    longest = max(used, used * Fraction(total, 5) / weave_to)
    bare = 2 * longest + 5 + 30 + 60
    assert at.length("warp before the margin") == exactly(bare)
    assert at.length("margin") == exactly(max(bare * percent(5), Fraction(15)))
    length = Fraction(10) * math.ceil((bare + 15) / 10)
    assert at.used("warp length") == exactly(length)
    assert at.length("flax: warp") == exactly((136 + 2) * length)


def test_the_sampler_of_a_table_loom_from_its_picks_to_its_cost():
    project = sampler()
    at = Steps(project, 10)
    # As worked above: 136 ends, 136 dents of six to the cm, sections of 6, 160 and 6 picks.
    width, length, middle, total = Fraction(136, 6), Fraction(190), 160, 172
    assert [section.picks for section in project.weft.sections] == [6, middle, 6]
    assert at.used("warp length") == exactly(length)
    # Weft: both hems of two pieces in flax, the middles in blue, the sample in that proportion.
    one = width * percent(110) * percent(105)
    sample = 30 * 5
    flax = 2 * 12 + Fraction(sample * 12, total)
    blue = 2 * middle + Fraction(sample * middle, total)
    assert at.length("flax: weft") == exactly(flax * one)
    assert at.length("blue: weft") == exactly(blue * one)
    # Grams: 60 and 90 g to the kilometre; a tenth more to buy, in packages of 50 g.
    km = Fraction(1, 100_000)
    grams = {
        "flax": ((136 + 2) * length + flax * one) * km * 60,
        "blue": blue * one * km * 90,
    }
    cost = Fraction(0)
    for key, price in (("flax", Fraction(420, 100)), ("blue", Fraction(510, 100))):
        assert at.raw(f"{key}: mass") == exactly(grams[key])
        buy = grams[key] * percent(110)
        assert at.raw(f"{key}: to buy") == exactly(buy)
        packages = math.ceil(buy / 50)
        assert at.value(f"{key}: packages") == packages
        cost += packages * price
        assert at.value(f"{key}: cost") == exactly(packages * price)
    assert at.value("cost of all yarn") == exactly(cost)
    assert float(project.cost) == exactly(cost)
