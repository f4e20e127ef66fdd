from contextlib import suppress
from decimal import Decimal

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cards.calculation.yarn_size import count_of, tex_of
from cards.spec import NotationError
from cards.spec.size_notation import parse_count, parse_folded, parse_size, size_text
from cards.spec.size_systems import SYSTEMS, WHOLE, SizeParts
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
        ("3200 yd/oz", "yd/oz", 3200, 1),
        ("6770 m/kg", "m/kg", 6770, 1),
        ("210 m/50 g", "m/50 g", 210, 1),
        ("525 m per 250 g", "m/100 g", 210, 1),
        ("Galashiels cut 30", "Galashiels", 30, 1),
        ("Yorkshire skein 30", "skein", 30, 1),
        ("Nf 20", "Nf", 20, 1),
        ("French 20", "Nf", 20, 1),
        ("dtex 167", "dtex", 167, 1),
        ("dtex 167 x 2", "dtex", 167, 2),
        ("150 den", "denier", 150, 1),
        ("jute 40", "jute", 40, 1),
        ("40 lb/spyndle", "jute", 40, 1),
        ("50 grain/20 yd", "grain/20 yd", 50, 1),
        ("50 grains per 120 yd", "grain/120 yd", 50, 1),
        # Singles to the folded yarn and the folded yarn itself: ISO 1139, from memory.
        ("34 tex x 2", "tex", 34, 2),
        ("34 tex × 2 × 3", "tex", 34, 6),
        ("R 98 tex/2", "tex", 98, 1),
        ("R 167 dtex", "dtex", 167, 1),
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
        ("50 grain", "ambiguous-size"),
        ("grain 50", "ambiguous-size"),
        ("grains 50/2", "ambiguous-size"),
        ("denier 150/2", "ambiguous-size"),
        ("34 tex x 0", "bad-size"),
        ("34 tex x 1000", "bad-size"),
        ("3360 yd/lb x 2", "stray-text"),
        ("nan tex", "bad-size"),
        ("1e9 tex", "exponent"),
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
    for text, readings in (
        ("tex 49/2", ("tex 49 each", "tex 49 in all")),
        ("50 grain", ("20 yd", "120 yd")),
    ):
        with pytest.raises(NotationError) as caught:
            parse_size(text)
        assert all(reading in caught.value.message for reading in readings)


@pytest.mark.parametrize(
    ("text", "singles"),
    [
        ("Ne 40 + 20", [("Ne", 40, 1), ("Ne", 20, 1)]),
        ("40 + 20 Ne", [("Ne", 40, 1), ("Ne", 20, 1)]),
        ("Ne 20 + 30/2 + 40/3", [("Ne", 20, 1), ("Ne", 30, 2), ("Ne", 40, 3)]),
        ("Ne 20 + tex 30", [("Ne", 20, 1), ("tex", 30, 1)]),
        ("tex 30 + 20 x 2", [("tex", 30, 1), ("tex", 20, 2)]),
        ("worsted 2/18+24", [("worsted", 18, 2), ("worsted", 24, 1)]),
        ("1000 m/100 g + Nm 30", [("m/100 g", 1000, 1), ("Nm", 30, 1)]),
    ],
)
def test_unlike_singles(text, singles):
    found = parse_folded(text)
    assert [(each.system, each.ply) for each in found] == [(s, p) for s, _, p in singles]
    assert [each.count for each in found] == pytest.approx([count for _, count, _ in singles])


@given(st.sampled_from(SYSTEMS), st.decimals("0.001", "99999", places=3), st.integers(1, 60))
def test_a_size_is_written_so_that_it_reads_back(system, count, ply):
    size = SizeParts(system, float(count), 1 if system in WHOLE else ply)
    written = size_text(size)
    try:
        (back,) = parse_folded(written)
    except NotationError as error:
        # A length that no yarn has, or a number that no system takes.
        assert error.code == "absurd", written  # noqa: PT017
        return
    assert (back.system, back.ply) == (size.system, size.ply), written
    assert back.count == pytest.approx(size.count, rel=1e-8)


@given(st.sampled_from(SYSTEMS), st.floats(1, 5000), st.integers(1, 6))
def test_text_to_tex_to_count_to_text(system, tex, ply):
    ply = 1 if system in WHOLE else ply
    written = size_text(SizeParts(system, count_of(system, tex, ply), ply))
    (back,) = parse_folded(written)
    again = tex_of(back.system, back.count, back.ply)
    assert again == pytest.approx(tex, rel=1e-7)
    assert size_text(SizeParts(system, count_of(system, again, ply), ply)) == written


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        # What pint makes of a unit of the same name.
        ("tex 30", "30 tex"),
        ("dtex 300", "300 dtex"),
        ("denier 150", "150 denier"),
        ("jute 8", "8 jute"),
        ("Ne 20", "1 / (20 number_english)"),
        ("Nm 20", "1 / (20 number_meter)"),
        ("3360 yd/lb", "1 / (3360 yard / pound)"),
        ("210 yd/oz", "1 / (210 yard / ounce)"),
        ("6770 m/kg", "1 / (6770 m / kg)"),
        ("210 m/50 g", "50 g / (210 m)"),
        ("50 grain/20 yd", "50 grain / (20 yard)"),
        ("50 grain/120 yd", "50 grain / (120 yard)"),
        ("dram 3", "3 dram / (1000 yard)"),
        ("Galashiels 20", "1 / (20 * 200 yard / pound)"),
        ("skein 20", "1 / (20 * 256 yard / pound)"),
        ("Nf 20", "500 g / (20 * 1000 m)"),
        ("Ne 20 + tex 30", "1 / (20 number_english) + 30 tex"),
    ],
)
def test_sizes_agree_with_pint(text, unit):
    tex = sum(tex_of(each.system, each.count, each.ply) for each in parse_folded(text))
    assert tex == pytest.approx(UNITS.parse_expression(unit).to("tex").magnitude, rel=1e-9)


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
    for read in (parse_size, parse_folded, parse_label, parse_put_up, parse_price):
        with suppress(NotationError):
            read(text)
