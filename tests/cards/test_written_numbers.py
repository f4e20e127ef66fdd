"""Numbers in a text: in figures, with fractions and in words."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from num2words import num2words

from cards.written_numbers import numbers_in


def values(text):
    return [each.value for each in numbers_in(text)]


@given(st.integers(1, 99_999), st.sampled_from([str.lower, str.capitalize]))
def test_words_are_read_as_a_library_writes_them(number, case):
    # The library num2words is the source.
    words = case(num2words(number))
    found = numbers_in(f"wind {words} ends")
    assert values(f"wind {words} ends") == [number]
    assert (found[0].start, found[0].end) == (5, 5 + len(words))


@given(st.integers(0, 10**7))
def test_figures_are_read_with_and_without_thousands(number):
    assert values(f"wind {number} ends") == [number]
    assert values(f"wind {number:,} ends") == [number]


@given(st.decimals(0, 9999, places=2))
def test_decimals_are_read_with_a_point_and_a_comma(number):
    assert values(f"{number} m") == [float(number)]
    assert values(f"{number} m".replace(".", ",")) == [float(number)]


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("4 1/2 in", [4.5]),
        ("4½ in", [4.5]),
        ("4 ½ in", [4.5]),
        ("⅝ in", [0.625]),
        ("1/2 in", [0.5]),
        ("two and a half metres", [2.5]),
        ("a hundred and twenty", [120]),
        ("two four-shaft looms", [2, 4]),
        ("2 ends and 3 picks", [2, 3]),
        ("12-cm hem", [12]),
        # What only looks like a number of its own.
        ("8/2 cotton", []),
        ("lea 16/2", []),
        ("sley 2-1-2", []),
        ("2026-03-02", []),
        ("FW-007", []),
        ("10-12 cm", []),
        ("10 to 12 cm", []),
        ("4 cm to 5 cm", []),
        ("three or four", []),
        ("between 10 and 12", []),
        ("reed 40/10", []),
        ("someone often weighs it", []),
    ],
)
def test_what_is_a_number(text, read):
    assert values(text) == read


@given(st.text())
def test_any_text_is_read(text):
    for number in numbers_in(text):
        assert 0 <= number.start < number.end <= len(text)
        assert number.value >= 0
        assert number.step > 0


@pytest.mark.parametrize("figures", [16, 400, 5000])
def test_a_number_beyond_all_reckoning_is_passed_over(figures):
    assert [each.value for each in numbers_in(f"wind {'9' * figures} ends, 24 picks")] == [24]
