"""Heddles counted from a threading, and where a loom has too few."""

import pytest

from cards.loom.heddles import Shortage, heddles_needed, shortages


def test_heddles_of_a_straight_draw():
    # Source: A. Wolfensberger, Theory of Silk Weaving, 2nd ed., 1921, p. 71: 100 ends to the inch
    # straight on four shafts are 25 heddles to the inch on each.
    assert heddles_needed([1, 2, 3, 4] * 25, 4) == (25, 25, 25, 25)


def test_heddles_of_an_uneven_draft():
    # Source: C. P. Brooks, Cotton Manufacturing, 3rd ed., 1892, p. 93: a repeat of 12 ends uses
    # five shafts 1, 2, 3, 4 and 2 times; five repeats to the inch.
    repeat = [1, 2, 2, 3, 3, 3, 4, 4, 4, 4, 5, 5]
    inch = repeat * 5
    assert len(inch) == 60
    assert heddles_needed(inch, 5) == (5, 10, 15, 20, 10)


def test_shortages_name_the_shaft():
    assert shortages((10, 20, 5), (15, 15, 5)) == (Shortage(2, 20, 15),)
    with pytest.raises(ValueError, match="zip"):
        shortages((1, 2), (1,))
