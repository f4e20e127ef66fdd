"""Patches told apart without colour: contrast by WCAG 2.2, hatches by the ink they put down."""

from functools import cache

import numpy as np
import pypdfium2
import pytest
from hypothesis import given
from hypothesis import strategies as st

from layouts.drawing import Box, Drawing, Page, Path, Text
from layouts.patch import contrast, grey, hatch_count, patch
from layouts.pdf import pdf_bytes
from layouts.typeface import cap_height

colours = st.integers(0, 0xFFFFFF).map("#{:06x}".format)
hatches = st.integers(0, hatch_count - 1)
HATCHED = range(1, hatch_count)
SIZES = [(14, 9), (8, 6), (6, 4.5)]


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        # WCAG 2.2, definition of contrast ratio: from 1:1 to 21:1.
        ("#000000", "#ffffff", 21),
        ("#ffffff", "#ffffff", 1),
        ("#000000", "#000000", 1),
        # The greys either side of 4.5:1 on white, WCAG 2.2 criterion 1.4.3 (from memory).
        ("#767676", "#ffffff", 4.54),
        ("#777777", "#ffffff", 4.48),
    ],
)
def test_contrast_is_that_of_wcag(one, other, ratio):
    assert contrast(one, other) == pytest.approx(ratio, abs=0.005)
    assert contrast(other, one) == contrast(one, other)


@given(colours)
def test_grey_is_grey_and_as_light_as_the_colour(colour):
    shade = grey(colour)
    assert shade[1:3] == shade[3:5] == shade[5:7]
    assert contrast(shade, colour) < 1.08  # half a step of 255 where steps are largest
    assert grey(shade) == shade


@given(colours, hatches)
def test_hatch_ink_stands_out_from_the_colour_and_from_its_grey(colour, hatch):
    inks = [mark.fill for mark in patch(0, 0, 14, 9, colour, hatch, "") if isinstance(mark, Path)]
    assert len(inks) == (hatch > 0)
    for ink in inks:
        assert ink in {"#000000", "#ffffff"}
        # sqrt(21) is the least that the better of black and white can have; WCAG 2.2 asks 3:1.
        assert contrast(ink, colour) >= 21**0.5 - 0.01
        assert contrast(ink, grey(colour)) > 4


@given(st.floats(6, 40), st.floats(4.5, 30), st.floats(0, 200), hatches)
def test_nothing_lies_outside_the_patch(width, height, x, hatch):
    for mark in patch(x, 7, width, height, "#44546a", hatch, "S"):
        for left, top, right, bottom in extents(mark):
            assert left >= x - 1e-9
            assert top >= 7 - 1e-9
            assert right <= x + width + 1e-9
            assert bottom <= 7 + height + 1e-9


def extents(mark):
    if isinstance(mark, Path):
        points = (
            np.array([step[1:] for step in mark.steps if step[0] in "ML"], dtype=float) + mark.at
        )
        yield (*points.min(axis=0), *points.max(axis=0))
    elif isinstance(mark, Box):
        half = mark.line_width / 2 if mark.stroke else 0
        x, y = mark.x - half, mark.y - half
        yield x, y, x + mark.width + 2 * half, y + mark.height + 2 * half
    else:
        yield mark.left, mark.y - cap_height(mark.size), mark.left + mark.width, mark.y


@given(st.floats(6, 40), st.floats(4.5, 30), st.sampled_from(["S", "W", "i", "AB", "WM", ""]))
def test_letter_stands_on_white_in_the_middle_or_is_left_out(width, height, letter):
    marks = patch(10, 20, width, height, "#44546a", 1, letter)
    for mark in marks:
        if not isinstance(mark, Text):
            continue
        assert (mark.text, mark.weight) == (letter, "bold")
        assert mark.size >= 9
        (box,) = [each for each in marks if isinstance(each, Box) and each.fill == "#ffffff"]
        assert box.x + box.width / 2 == pytest.approx(10 + width / 2)
        assert box.y + box.height / 2 == pytest.approx(20 + height / 2)
        assert box.x < mark.left
        assert mark.left + mark.width < box.x + box.width
        assert box.y < mark.y - cap_height(mark.size)
        assert mark.y < box.y + box.height


@pytest.mark.parametrize(
    ("size", "letter", "shown"),
    [((6, 4.5), "S", True), ((6, 4.5), "W", True), ((6, 4.5), "WM", False), ((14, 9), "WM", True)],
)
def test_letter_goes_only_when_there_is_no_room(size, letter, shown):
    marks = patch(0, 0, *size, "#44546a", 1, letter)
    assert any(isinstance(mark, Text) for mark in marks) == shown


def test_letter_grows_with_the_patch():
    sizes = [
        mark.size
        for height in (6, 9, 20, 60)
        for mark in patch(0, 0, 60, height, "#44546a", 0, "S")
        if isinstance(mark, Text)
    ]
    assert sizes == sorted(sizes)
    assert sizes[0] == 9
    assert sizes[-1] == 18


@pytest.mark.parametrize("size", [(5.99, 9), (14, 4.49)])
def test_a_patch_too_small_to_read_is_refused(size):
    with pytest.raises(ValueError, match=r"6 x 4\.5 mm or more"):
        patch(0, 0, *size, "#44546a", 0, "S")


@pytest.mark.parametrize("hatch", [-1, hatch_count])
def test_an_unknown_hatch_is_refused(hatch):
    with pytest.raises(ValueError, match="numbered from 0"):
        patch(0, 0, 9, 9, "#44546a", hatch, "S")


@cache
def rendered(width, height, hatch, letter="S"):
    """Darkness 0 to 1 of a patch on a grey copy, ten pixels to the millimetre, by pdfium."""
    marks = patch(0, 0, width, height, grey("#c9b27c"), hatch, letter)
    page = Page(width, height, marks, "Patch")
    data = pdf_bytes([Drawing("Patch", "patch", (page,))], title="Patch")
    picture = pypdfium2.PdfDocument(data)[0].render(scale=254 / 72, grayscale=True).to_pil()
    return 1 - np.asarray(picture.convert("L"), dtype=float) / 255


def texture(darkness):
    """What the eye makes of a hatch, wherever it begins: the strengths of its frequencies."""
    rows, columns = darkness.shape
    window = np.hanning(rows)[:, None] * np.hanning(columns)
    strength = np.abs(np.fft.rfft2((darkness - darkness.mean()) * window))
    return strength / np.linalg.norm(strength)


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_no_two_hatches_look_alike_in_grey(width, height):
    """Any two are apart by several times what a shift of one and the same hatch makes."""
    seen = [texture(rendered(width, height, hatch, "")[3:-3, 3:-3]) for hatch in HATCHED]
    for place, one in enumerate(seen):
        for other in seen[:place]:
            assert np.linalg.norm(one - other) > 0.5


@pytest.mark.parametrize("hatch", HATCHED)
def test_a_hatch_shifted_is_the_same_hatch_to_that_measure(hatch):
    picture = rendered(14, 9, hatch, "")
    here, there = picture[3:79, 3:129], picture[8:84, 8:134]
    assert np.linalg.norm(texture(here) - texture(there)) < 0.15


@pytest.mark.parametrize("hatch", HATCHED)
@pytest.mark.parametrize(("width", "height"), SIZES)
def test_every_hatch_shows_beside_the_letter(width, height, hatch):
    apart = np.abs(rendered(width, height, hatch) - rendered(width, height, 0))
    assert (apart > 0.25).mean() > 0.04


@pytest.mark.parametrize("hatch", HATCHED)
def test_every_hatch_leaves_the_colour_to_see(hatch):
    paper = rendered(14, 9, 0, "")[30, 30]
    colour = np.isclose(rendered(14, 9, hatch, ""), paper, atol=0.1).mean()
    assert 0.35 < colour < 0.95  # the checks cover half of it


@pytest.mark.parametrize("hatch", HATCHED)
def test_no_hatch_runs_under_the_letter(hatch):
    (box,) = [
        each
        for each in patch(0, 0, 14, 9, "#44546a", hatch, "S")
        if isinstance(each, Box) and each.fill == "#ffffff"
    ]
    left, top = round(box.x * 10) + 2, round(box.y * 10) + 2
    within = np.s_[top : top + round(box.height * 10) - 4, left : left + round(box.width * 10) - 4]
    picture = rendered(14, 9, hatch)[within]
    assert (picture == rendered(14, 9, 0)[within]).all()
    assert picture.min() < 0.02
    assert picture.max() > 0.95
