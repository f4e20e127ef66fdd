from contextlib import suppress
from decimal import Decimal

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cards.spec import NotationError
from cards.spec.size_notation import parse_count, parse_size
from cards.spec.yarn_notation import parse_label, parse_price, parse_put_up

UNITS = pint.UnitRegistry()


@pytest.mark.parametrize(
    ("text", "system", "count", "ply"),
    [
        # Order of count and ply by system: Taylor, Cotton Weaving and Designing, p. 200, and the
        # notes of a rug weavers' society on yarn sizes; both give 2/18 for worsted, 8/2 for cotton.
        ("Ne 8/2", "Ne", 8, 2),
        ("8/2 Ne", "Ne", 8, 2),
        ("8/2 cotton", "Ne", 8, 2),
        ("worsted 2/18", "worsted", 18, 2),
        # The others: common practice, no source.
        ("lea 16/2", "lea", 16, 2),
        ("Nm 12/2", "Nm", 12, 2),
        ("Ne 3/2", "Ne", 3, 2),
        ("tex 49 x 2", "tex", 49, 2),
        ("R 98 tex", "tex", 98, 1),
        ("denier 150", "denier", 150, 1),
        ("dram 3", "dram", 3, 1),
        ("run 5 1/2", "run", 5.5, 1),
        ("cut 20", "cut", 20, 1),
        ("skein 30", "skein", 30, 1),
        ("3360 yd/lb", "yd/lb", 3360, 1),
        ("677 m/100 g", "m/100 g", 677, 1),
        ("840 yd per 1/2 lb", "yd/lb", 1680, 1),
        # Only one of the two numbers can be a ply.
        ("worsted 18/2", "worsted", 18, 2),
        ("Nm 2/28", "Nm", 28, 2),
        ("worsted 8.5/2", "worsted", 8.5, 2),
    ],
)
def test_sizes(text, system, count, ply):
    parts = parse_size(text)
    assert (parts.system, parts.ply) == (system, ply)
    assert parts.count == pytest.approx(count, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("Ne 2/8", "ambiguous-size"),
        ("worsted 8/2", "ambiguous-size"),
        ("Nm 2/12", "ambiguous-size"),
        ("tex 49/2", "ambiguous-size"),
        ("silk 20/2", "ambiguous-size"),
        ("8/2", "missing-unit"),
        ("wool 8/2", "unknown-system"),
        ("Ne 0/2", "zero"),
        ("Ne 8,5/2", "decimal-comma"),
        ("Ne -8", "negative"),
        ("thick", "bad-size"),
        ("12/2!!", "bad-size"),
        ("Ne 30/20", "bad-size"),
        ("Nm\ufb01 12/2", "unknown-system"),
    ],
)
def test_sizes_that_are_refused(text, code):
    with pytest.raises(NotationError) as caught:
        parse_size(text)
    assert caught.value.code == code


def test_both_readings_of_an_open_size_are_named():
    with pytest.raises(NotationError) as caught:
        parse_size("worsted 8/2")
    assert "8 plies of 2" in caught.value.message
    assert "2 plies of 8" in caught.value.message


def test_a_count_that_stands_alone():
    assert parse_count("8") == 8
    assert parse_count("5 1/2") == 5.5
    for text in ("8/2", "2 x 8", "8 Ne", "0", "Ne"):
        with pytest.raises(NotationError):
            parse_count(text)


@pytest.mark.parametrize(
    ("text", "length", "mass"),
    [
        ("590 m per 100 g", "590 m", "100 g"),
        ("677 m/100 g", "677 m", "100 g"),
        ("3360 yd/lb", "3360 yard", "1 pound"),
        ("840 yd per 1/2 lb", "840 yard", "0.5 pound"),
        ("560 yd per 3 1/2 oz", "560 yard", "3.5 oz"),
    ],
)
def test_labels_agree_with_pint(text, length, mass):
    label = parse_label(text)
    assert label.length == pytest.approx(UNITS(length).to("mm").magnitude, rel=1e-12)
    assert label.mass == pytest.approx(UNITS(mass).to("g").magnitude, rel=1e-12)
    assert label.text == text


@pytest.mark.parametrize("text", ["590 m", "590 m per 100", "100 g per 590 m", "0 m/100 g", "lots"])
def test_labels_that_are_refused(text):
    with pytest.raises(NotationError):
        parse_label(text)


def test_a_put_up_is_a_mass_or_a_length():
    assert (parse_put_up("100 g").mass, parse_put_up("100 g").length) == (100.0, None)
    assert parse_put_up("560 yd").length == pytest.approx(
        UNITS("560 yard").to("mm").magnitude, rel=1e-12
    )
    with pytest.raises(NotationError):
        parse_put_up("100")


@given(st.decimals("0.01", "9999.99", places=2))
def test_prices_stay_exact(amount):
    for text, currency in [
        (f"{amount}", ""),
        (f"£{amount}", "£"),
        (f"EUR {amount}", "EUR"),
        (f"{amount} EUR", "EUR"),
    ]:
        price = parse_price(text)
        assert price.amount == amount
        assert isinstance(price.amount, Decimal)
        assert price.currency == currency


@pytest.mark.parametrize("text", ["9,80", "-2", "1e3", "cheap", "$ 3 EUR", "9 80", ""])
def test_prices_that_are_refused(text):
    with pytest.raises(NotationError):
        parse_price(text)


@given(st.text(max_size=30))
def test_any_text_is_read_or_refused(text):
    for read in (parse_size, parse_label, parse_put_up, parse_price):
        with suppress(NotationError):
            read(text)
