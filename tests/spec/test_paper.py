"""Paper sizes against ISO 216 and the inch."""

import math

import pytest

from cards.spec import NotationError, half_of, parse_paper_size


@pytest.mark.parametrize(
    ("name", "width", "height"),
    [
        # Source: ISO 216, trimmed sizes, as tabulated at mainthebest.com.
        ("A3", 297, 420),
        ("A4", 210, 297),
        ("A5", 148, 210),
    ],
)
def test_iso_sizes(name, width, height):
    paper = parse_paper_size(name)
    assert (paper.width, paper.height) == (width, height)


def test_iso_216_by_its_rule():
    """ISO 216: A0 is a square metre whose sides are as 1 to the root of 2, in whole mm; each size
    is half of the one before, rounded down."""
    height, width = (math.floor(1000 * 2 ** (k / 4) + 0.5) for k in (1, -1))
    sizes = {}
    for number in range(6):
        sizes[f"A{number}"] = width, height
        width, height = height // 2, width
    for name in ("A3", "A4", "A5"):
        paper = parse_paper_size(name)
        assert (paper.width, paper.height) == sizes[name]


@pytest.mark.parametrize(
    ("name", "inches"),
    [
        # ANSI/ASME Y14.1, sizes A and B (from memory): 8.5 x 11 and 11 x 17 in.
        ("Letter", (8.5, 11)),
        ("Tabloid", (11, 17)),
        ("Half Letter", (5.5, 8.5)),  # its name
    ],
)
def test_ansi_sizes(name, inches):
    paper = parse_paper_size(name)
    assert (paper.width / 25.4, paper.height / 25.4) == pytest.approx(inches)


def test_ansi_sizes_come_of_doubling():
    """ANSI/ASME Y14.1 (from memory): each size is two of the one before side by side."""
    small, large = parse_paper_size("Letter"), parse_paper_size("Tabloid")
    assert (large.width, large.height) == pytest.approx((small.height, 2 * small.width))


@pytest.mark.parametrize(
    ("name", "half"),
    [
        ("A4", (148.5, 210)),
        ("A3", (210, 297)),
        ("Letter", (139.7, 215.9)),
        ("Legal", (177.8, 215.9)),
        ("5 x 8 in", (101.6, 127)),
        ("100 x 400 mm", (200, 100)),
    ],
)
def test_half_a_sheet_is_exactly_half(name, half):
    paper = parse_paper_size(name)
    upright, across = half_of(paper), half_of(paper, "landscape")
    assert (upright.width, upright.height) == pytest.approx(half)
    assert (across.height, across.width) == (upright.width, upright.height)
    assert 2 * upright.width * upright.height == pytest.approx(paper.width * paper.height)


def test_half_letter_is_half_a_letter():
    half, named = half_of(parse_paper_size("Letter")), parse_paper_size("half letter")
    assert (half.width, half.height) == pytest.approx((named.width, named.height))


def test_iso_sizes_come_of_halving():
    """ISO 216: each size is the one before cut across, halves rounded down."""
    for larger, smaller in (("A3", "A4"), ("A4", "A5")):
        whole, half = parse_paper_size(larger), parse_paper_size(smaller)
        assert (half.width, half.height) == (whole.height // 2, whole.width)


@pytest.mark.parametrize(
    ("name", "inches", "millimetres"),
    [
        ("Letter", (8.5, 11), (216, 279)),  # amazines.com 'ISO 216', rounded there to 1 mm
        ("Legal", (8.5, 14), (216, 356)),  # from memory
        ("5 x 8 in", (5, 8), (127, 203)),  # its name
    ],
)
def test_sizes_in_inches(name, inches, millimetres):
    paper = parse_paper_size(name)
    assert (paper.width / 25.4, paper.height / 25.4) == pytest.approx(inches)
    assert (round(paper.width), round(paper.height)) == millimetres


@pytest.mark.parametrize(
    ("text", "width", "height"),
    [
        ("a4", 210, 297),
        (" LETTER ", 215.9, 279.4),
        ("5 X 8 in", 127, 203.2),
        ("200 x 250 mm", 200, 250),
        ("200x250mm", 200, 250),
        ("6.5 × 9.25 IN", 165.1, 234.95),
    ],
)
def test_sizes_are_read(text, width, height):
    paper = parse_paper_size(text)
    assert (paper.width, paper.height) == pytest.approx((width, height))


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("foolscap", "unknown paper size"),
        ("A4 A4", "unknown paper size"),
        ("A0", "unknown paper size"),
        ("A4\nx", "unknown paper size 'A4 x'"),
        ("60 x 60 mm", "too small"),
        ("200 x 250", "unit"),
        ("20,5 x 25 in", "comma"),
        ("-200 x 250 mm", "below nought|negative|no size|unknown paper size"),
        ("1e3 x 250 mm", "1e3"),
        ("70 x 250 mm", "too small"),
        ("200 x 2500 mm", "too large"),
    ],
)
def test_sizes_that_are_none_are_refused(text, message):
    with pytest.raises(NotationError, match=message):
        parse_paper_size(text)


@pytest.mark.parametrize("text", ["foolscap", "A4 A4", "A0", "A44", "60 x 60 mm", "A4\nx"])
def test_the_papers_that_there_are_get_named(text):
    with pytest.raises(NotationError) as caught:
        parse_paper_size(text)
    assert "A3, A4, A5, Letter, Legal" in caught.value.mend
