"""The colours of a cloth seen from afar: true places, true means, nothing left out."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cards.finished_cloth import Band
from layouts.cloth_colours import patches

BLACK_WHITE = ["#000000", "#ffffff"]


def band(cells, warp, weft, width=100.0, length=50.0):
    weft = np.repeat(np.array(weft)[:, None], len(warp), axis=1)
    return Band("body", np.array(cells, dtype=bool), np.array(warp), weft, width, length)


def plain(rows, columns):
    return np.indices((rows, columns)).sum(axis=0) % 2 == 0


def test_stripes_are_as_wide_as_their_ends():
    """24, 12, 4 and 60 ends are 24, 12, 4 and 60 hundredths of the width."""
    warp = [0] * 24 + [1] * 12 + [2] * 4 + [0] * 60
    made = patches(band(plain(40, 100), warp, [1] * 40), ["#203040", "#ffffff", "#a03020"], 4)
    row = sorted((each.x, each.width) for each in made)
    assert [each for each, _ in row] == pytest.approx([0.0, 24.0, 36.0, 40.0])
    assert [each for _, each in row] == pytest.approx([24.0, 12.0, 4.0, 60.0])


def test_plain_weave_of_black_and_white_is_half_their_light():
    """Half the light of white is the value 188 of 255, by the curve of sRGB (IEC 61966-2-1).

    0.5 = ((v + 0.055) / 1.055) ** 2.4 gives v = 0.7354, which is 187.5 of 255.
    """
    (made,) = patches(band(plain(64, 64), [0] * 64, [1] * 64), BLACK_WHITE, 10)
    assert made.colour == "#bcbcbc"


@pytest.mark.parametrize(("over", "value"), [(1, 225), (2, 188), (3, 137)])
def test_a_twill_shows_as_much_warp_as_lies_on_its_face(over, value):
    """1/3, 2/2 and 3/1 twill of black warp: ¼, ½ and ¾ of it, in light; v from 1 - share."""
    cells = (np.indices((64, 64)).sum(axis=0) % 4) < over
    (made,) = patches(band(cells, [0] * 64, [1] * 64), BLACK_WHITE, 10)
    assert made.colour == f"#{value:02x}" + f"{value:02x}" * 2


def test_threads_that_are_wide_enough_are_drawn_one_by_one():
    cells = plain(4, 4)
    made = patches(band(cells, [0] * 4, [1] * 4, width=8.0, length=8.0), BLACK_WHITE, 1)
    drawn = np.full((4, 4), "", dtype="<U7")
    for each in made:
        rows = slice(round(each.y / 2), round((each.y + each.length) / 2))
        drawn[rows, round(each.x / 2) : round((each.x + each.width) / 2)] = each.colour
    assert (drawn == np.where(cells, "#000000", "#ffffff")).all()


def test_blocks_of_a_weave_are_seen_within_one_stripe():
    """The left half shows the warp, the right half the weft, and both yarns run through."""
    cells = np.zeros((64, 64), dtype=bool)
    cells[:, :32] = True
    made = patches(band(cells, [0] * 64, [1] * 64, width=64.0), BLACK_WHITE, 5)
    assert {(each.x < 31.9, each.colour) for each in made} == {
        (True, "#000000"),
        (False, "#ffffff"),
    }


def test_stripes_too_narrow_to_print_are_drawn_in_their_mean():
    """One end black, one white, the weft hidden: half the light, over the whole."""
    made = patches(
        band(np.ones((8, 400), dtype=bool), [0, 1] * 200, [0] * 8, width=40.0), BLACK_WHITE, 10
    )
    assert {each.colour for each in made} == {"#bcbcbc"}
    assert sum(each.width for each in made) == pytest.approx(40.0)


def test_a_section_without_picks_shows_its_warp():
    empty = Band(
        "slit",
        np.zeros((0, 9), dtype=bool),
        np.zeros(9, dtype=np.intp),
        np.zeros((0, 9), dtype=np.intp),
        9.0,
        5.0,
    )
    assert {each.colour for each in patches(empty, ["#123456"], 3)} == {"#123456"}


@settings(deadline=None)
@given(
    st.integers(1, 60),
    st.integers(1, 60),
    st.integers(0, 2**32 - 1),
    st.sampled_from([1, 4, 20, 200]),
)
def test_patches_cover_the_cloth_once(rows, columns, seed, times):
    random = np.random.default_rng(seed)
    warp, weft = random.integers(0, 2, columns), random.integers(0, 2, rows)
    cells = random.random((rows, columns)) < 0.5
    made = patches(band(cells, warp, weft, 300.0, 200.0), BLACK_WHITE, times)
    # A point of every cell lies in one patch and no more.
    xs = (np.arange(columns) + 0.5) * 300.0 / columns
    ys = (np.arange(rows) + 0.5) * 200.0 / rows
    hits = np.zeros((rows, columns), dtype=int)
    for each in made:
        inside = np.outer(
            (ys > each.y) & (ys < each.y + each.length), (xs > each.x) & (xs < each.x + each.width)
        )
        hits += inside
    assert (hits == 1).all()
    assert sum(each.width * each.length for each in made) == pytest.approx(300.0 * 200.0)
