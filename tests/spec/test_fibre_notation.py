from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cards.spec import NotationError
from cards.spec.fibre_notation import BLEND, FIBRES, parse_fibre


@pytest.mark.parametrize("name", [*FIBRES, BLEND])
def test_a_fibre_alone(name):
    assert parse_fibre(name).names == (name,)
    assert parse_fibre(name.upper()).text == name


def test_a_blend_keeps_its_shares_and_order():
    fibre = parse_fibre({"Linen": "40 %", "cotton": "60 %"})
    assert fibre.names == ("linen", "cotton")
    assert fibre.text == "40 % linen, 60 % cotton"


@given(st.lists(st.integers(1, 400), min_size=2, max_size=7), st.integers(-40, 40))
def test_only_shares_that_make_up_the_whole_are_taken(parts, off):
    # In tenths of a percent, written out; `off` of them too many or too few.
    whole = [part * 1000 // sum(parts) for part in parts]
    whole[0] += 1000 - sum(whole) + off
    if min(whole) < 1 or max(whole) > 1000:
        return
    blend = {name: f"{part / 10} %" for name, part in zip(FIBRES, whole, strict=False)}
    if off:
        with pytest.raises(NotationError) as caught:
            parse_fibre(blend)
        assert caught.value.code == "blend-not-whole"
        assert f"{100 + off / 10:g} %" in caught.value.message
    else:
        assert sum(share for _, share in parse_fibre(blend).shares) == pytest.approx(1)


@pytest.mark.parametrize(
    ("value", "code", "path"),
    [
        ({"cotton": "100 %"}, "bad-blend", ()),
        ({}, "bad-blend", ()),
        ({"cotton": "50 %", "lynen": "50 %"}, "unknown-choice", ("lynen",)),
        ({"cotton": "50 %", "blend": "50 %"}, "unknown-choice", ("blend",)),
        ({"cotton": "110 %", "silk": "-10 %"}, "out-of-range", ("cotton",)),
        ({"cotton": "nan %", "silk": "50 %"}, "not-a-number", ("cotton",)),
        ({"cotton": {"cotton": "5 %"}, "silk": "50 %"}, "wrong-shape", ("cotton",)),
        ({"cotton": "100 %", "silk": "0 %"}, "zero", ("silk",)),
        ("cotton, linen", "blend-without-shares", ()),
        ("60 % cotton and 40 % linen", "blend-without-shares", ()),
        (["cotton", "linen"], "blend-without-shares", ()),
        ([["cotton"]], "wrong-shape", ()),
        ("wool", "unknown-choice", ()),
    ],
)
def test_fibres_that_are_refused(value, code, path):
    with pytest.raises(NotationError) as caught:
        parse_fibre(value)
    assert (caught.value.code, caught.value.path) == (code, path)


values = st.recursive(
    st.text(max_size=20) | st.sampled_from([*FIBRES, "60 %", "40 %"]),
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.dictionaries(st.sampled_from([*FIBRES, "x", ""]), inner, max_size=4)
    ),
    max_leaves=8,
)


@given(values)
def test_anything_is_read_or_refused(value):
    with suppress(NotationError):
        parse_fibre(value)
