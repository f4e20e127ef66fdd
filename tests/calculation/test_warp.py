"""Width and length of a warp, step by step, against a worked example and by inversion."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cards.calculation.warp import (
    Fringe,
    LoomLengths,
    Rates,
    finished_length,
    finished_width,
    fringe_on_loom,
    fringes_in_warp,
    on_loom,
    piece_lengths,
    warp_length,
    warp_needed,
    width_in_reed,
)
from cards.calculation.workings import Known, Workings
from cards.units import INCH, YARD

IN, YD = float(INCH), float(YARD)


def known(value):
    return Known(value, "given")


def rates(take_up=0.10, relaxation=0.03, draw_in=0.07, length=0.08, width=0.07):
    return Rates(*(known(each) for each in (take_up, relaxation, draw_in, length, width)))


def test_shrinkage_is_divided_out_not_added():
    # Source: cnch.org, "Ratios ... Shrinkage": 10 in after a loss of 20 % were 12.5 in, not 12.
    width = width_in_reed(10 * IN, rates(draw_in=0.0, width=0.20), Workings())
    assert width / IN == pytest.approx(12.5)


def test_a_throw_step_by_step():
    """A throw of 8/2 cotton: 27 in wide on the loom, 72 in long, two fringes of 5 in.

    The figures were worked out by hand, apart from this program, for 24 ends and picks an inch
    with the default allowances for cotton.
    """
    work = Workings()
    assert width_in_reed(27 * IN, rates(), work) / IN == pytest.approx(31.22, abs=0.005)
    piece = piece_lengths(72 * IN, 0.0, rates(), work)
    assert piece.cloth / IN == pytest.approx(78.26, abs=0.005)
    assert piece.warp_used / IN == pytest.approx(86.96, abs=0.005)
    assert piece.weave_to / IN == pytest.approx(80.68, abs=0.005)
    fringe = Fringe(5 * IN, known(0.15), known(2 * IN), from_waste=False)
    raw = fringe_on_loom(fringe, rates(), work)
    assert raw / IN == pytest.approx(8.39, abs=0.005)
    fringes = fringes_in_warp(raw, 1, fringe, 30 * IN, work)
    loom = LoomLengths(
        header=known(2 * IN),
        sample=known(12 * IN),
        waste=known(30 * IN),
        margin=known(0.05),
        margin_least=6 * IN,
        gap=known(0.0),
    )
    length = warp_length(warp_needed(piece.warp_used, 1, fringes, loom, work), "imperial", work)
    assert length / YD == pytest.approx(4.5)
    assert work.steps[-1].raw / IN == pytest.approx(155.1, abs=0.05)


def test_outer_fringes_come_out_of_the_waste():
    fringe = Fringe(100.0, known(0.0), known(0.0), from_waste=True)
    raw = fringe_on_loom(fringe, rates(length=0.0), Workings())
    assert fringes_in_warp(raw, 1, fringe, 600.0, Workings()) == 0.0
    assert fringes_in_warp(raw, 3, fringe, 600.0, Workings()) == pytest.approx(400.0)
    # What the waste cannot hold is added, or the warp would be too short.
    assert fringes_in_warp(raw, 1, fringe, 150.0, Workings()) == pytest.approx(50.0)


fractions = st.floats(0.0, 0.5)


@given(st.floats(10, 5000), fractions, fractions, fractions, fractions)
def test_there_and_back(size, relaxation, draw_in, length, width):
    each = rates(0.1, relaxation, draw_in, length, width)
    assert finished_length(on_loom(size, each), each) == pytest.approx(size)
    assert finished_width(width_in_reed(size, each, Workings()), each) == pytest.approx(size)


@given(st.floats(100, 5000), st.floats(0, 100), st.integers(1, 5))
def test_the_warp_is_never_shorter_than_what_is_in_it(used, header, pieces):
    loom = LoomLengths(known(header), known(0.0), known(500.0), known(0.05), 150.0, known(0.0))
    for units, step in (("metric", 100.0), ("imperial", YD / 4)):
        work = Workings()
        length = warp_length(warp_needed(used, pieces, 0.0, loom, work), units, work)
        needed = pieces * used + header + 500.0
        assert length >= needed + max(0.05 * needed, 150.0) - 1e-6
        assert length / step == pytest.approx(round(length / step))
