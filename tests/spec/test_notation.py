"""Units against pint, a general units library, which has its own table of unit sizes."""

from contextlib import suppress

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cards.spec import NotationError
from cards.spec.notation import parse_density, parse_length, parse_mass, parse_percent

UNITS = pint.UnitRegistry()
PINT_NAMES = {"in": "inch", "oz": "oz", "yd": "yard", "ft": "foot", "lb": "pound"}


def in_pint(number, unit):
    return number * UNITS(PINT_NAMES.get(unit, unit))


@given(st.integers(1, 900), st.sampled_from(["mm", "cm", "m", "in", "ft", "yd"]))
def test_lengths_agree_with_pint(number, unit):
    wanted = in_pint(number, unit).to("mm").magnitude
    assert parse_length(f"{number} {unit}") == pytest.approx(wanted, rel=1e-12)


@given(st.decimals("0.01", "900", places=2), st.sampled_from(["g", "kg", "oz", "lb"]))
def test_masses_agree_with_pint(number, unit):
    wanted = in_pint(float(number), unit).to("g").magnitude
    assert parse_mass(f"{number} {unit}") == pytest.approx(wanted, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "number", "unit"),
    [
        ("4 1/2 in", 4.5, "in"),
        ("4.5in", 4.5, "in"),
        ("4½ in", 4.5, "in"),
        ("½ yd", 0.5, "yd"),
        ("3/8 in", 0.375, "in"),
        ("1 3/4 yd", 1.75, "yd"),
        (" 36 ft ", 36, "ft"),
        ("4 in.", 4, "in"),
        ("2.5 metres", 2.5, "m"),
    ],
)
def test_fractions_in_lengths(text, number, unit):
    wanted = in_pint(number, unit).to("mm").magnitude
    assert parse_length(text) == pytest.approx(wanted, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "number", "unit"),
    [
        ("40 per 10 cm", 4, "1/cm"),
        ("5 per cm", 5, "1/cm"),
        ("24 per in", 24, "1/inch"),
        ("24 epi", 24, "1/inch"),
        ("12 dpi", 12, "1/inch"),
        ("5/cm", 5, "1/cm"),
        ("7 1/2 ends per in", 7.5, "1/inch"),
    ],
)
def test_densities_agree_with_pint(text, number, unit):
    wanted = UNITS.Quantity(number, unit).to("1/mm").magnitude
    assert parse_density(text) == pytest.approx(wanted, rel=1e-12)


def test_percent_is_a_share_of_one():
    assert parse_percent("8 %") == 0.08
    assert parse_percent("12.5%") == 0.125
    assert parse_percent("0 %") == 0.0


@pytest.mark.parametrize(
    ("read", "text", "code", "offset"),
    [
        (parse_length, "130", "missing-unit", 3),
        (parse_length, "100 g", "wrong-unit", 4),
        (parse_length, "5 per cm", "wrong-unit", 2),
        (parse_length, "2,5 m", "decimal-comma", 0),
        (parse_length, "0 cm", "zero", 0),
        (parse_length, "-3 cm", "negative", 0),
        (parse_length, "1000.1 m", "absurd", 0),
        (parse_length, "1e3 mm", "exponent", 0),
        (parse_length, "inf m", "not-a-number", 0),
        (parse_length, "nan", "not-a-number", 0),
        (parse_length, "1/0 in", "bad-number", 0),
        (parse_length, "1 000 mm", "bad-number", 2),
        (parse_length, "1234567890123 mm", "too-many-digits", 0),
        (parse_length, '4"', "unknown-unit", 1),
        (parse_length, "4 cm long", "stray-text", 5),
        (parse_mass, "100 cm", "wrong-unit", 4),
        (parse_density, "5", "missing-unit", 1),
        (parse_density, "5 cm", "wrong-unit", 2),
        (parse_density, "101 per mm", "absurd", 0),
        (parse_density, "5 per 0 cm", "zero", 6),
        (parse_percent, "0.08", "missing-unit", 4),
        (parse_percent, "61 %", "out-of-range", 0),
    ],
)
def test_what_is_refused(read, text, code, offset):
    with pytest.raises(NotationError) as caught:
        read(text)
    assert (caught.value.code, caught.value.offset) == (code, offset)
    assert caught.value.mend


def test_the_mend_for_a_missing_unit_names_both_readings():
    with pytest.raises(NotationError) as caught:
        parse_length("130")
    assert caught.value.mend == "write 130 cm or 130 in"


def test_the_least_that_is_taken():
    assert parse_length("5 mm", least=5) == 5.0
    assert parse_density("1 per 10 cm", least=1) == 0.01
    for read, text in ((parse_length, "4.999 mm"), (parse_density, "0.999 per 10 cm")):
        with pytest.raises(NotationError) as caught:
            read(text, least=5 if read is parse_length else 1)
        assert caught.value.code == "absurd"


def test_nothing_is_a_length_only_where_it_may_be():
    assert parse_length("0 cm", zero=True) == 0.0


@given(st.text(max_size=30))
def test_no_text_is_answered_by_anything_but_a_size_or_a_refusal(text):
    for read in (parse_length, parse_mass, parse_density, parse_percent):
        with suppress(NotationError):
            assert read(text) >= 0
