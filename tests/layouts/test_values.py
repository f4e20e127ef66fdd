"""Numbers and colours as they are written, against Python's own decimals."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from layouts.values import compact, rgb


@given(st.floats(-1e6, 1e6), st.integers(0, 9))
def test_a_number_is_written_to_its_places_and_no_longer(value, places):
    text = compact(value, places)
    assert abs(Decimal(text) - Decimal(value)) <= Decimal(10) ** -places / 2
    assert "e" not in text
    assert text != "-0"
    assert not ("." in text and text.endswith(("0", ".")))


@pytest.mark.parametrize("places", [0, 4])
@pytest.mark.parametrize("value", [float("nan"), float("inf"), float("-inf")])
def test_what_is_no_number_is_refused(value, places):
    with pytest.raises(ValueError, match="not a place on paper"):
        compact(value, places)


@given(st.tuples(*[st.integers(0, 255)] * 3))
def test_colours_are_read(parts):
    assert rgb("#{:02x}{:02x}{:02x}".format(*parts)) == parts
    assert rgb("#{:02X}{:02X}{:02X}".format(*parts)) == parts


@pytest.mark.parametrize(
    "colour", ["", "red", "#fff", "#12345g", "#1234567", "123456", "#123456\n"]
)
def test_what_is_no_colour_is_refused(colour):
    with pytest.raises(ValueError, match="is not a colour"):
        rgb(colour)
