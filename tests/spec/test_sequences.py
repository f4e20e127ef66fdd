import pytest
from hypothesis import given
from hypothesis import strategies as st

from cards.sequence import Repeat, Run, Sequence
from cards.spec import NotationError
from cards.spec.sequences import parse_lifts, parse_order, parse_threading, parse_treadling
from tests.strategies import (
    lifts,
    presses,
    sequences,
    shafts,
    trees,
    without_offsets,
    yarn_names,
)


def pressed(press):
    return "+".join(map(str, sorted(press)))


def lifted(lift):
    return " ".join(map(str, sorted(lift))) or "0"


def tree_text(items, write, joint):
    return joint.join(
        write(item.value)
        if isinstance(item, Run)
        else f"({tree_text(item.items, write, joint)}) x {item.times}"
        for item in items
    )


@given(sequences(shafts(40), str) | sequences(shafts(40), str, ", "))
def test_threadings_mean_what_was_written(plain):
    text, meant = plain
    assert parse_threading(text).values() == meant


@given(sequences(presses(), pressed))
def test_treadlings_mean_what_was_written(plain):
    text, meant = plain
    assert parse_treadling(text).values() == meant


@given(sequences(lifts(), lifted, "; "))
def test_lifts_mean_what_was_written(plain):
    text, meant = plain
    assert parse_lifts(text).values() == meant


@given(sequences(yarn_names(), "1 {}".format))
def test_orders_mean_what_was_written(plain):
    text, meant = plain
    assert parse_order(text).values() == meant


@given(trees(shafts()))
def test_the_grouping_is_kept_as_written(items):
    tree = parse_threading(tree_text(items, str, " "))
    assert without_offsets(tree) == Sequence(items)


@given(trees(lifts()))
def test_the_grouping_of_lifts_is_kept_as_written(items):
    tree = parse_lifts(tree_text(items, lifted, ";"))
    assert without_offsets(tree) == Sequence(items)


@given(trees(shafts()))
def test_every_run_knows_where_it_stands(items):
    text = tree_text(items, str, ", ")
    for run in parse_threading(text).runs():
        assert text[run.offset :].startswith(str(run.value))


def test_the_example_of_a_threading_that_fills():
    tree = parse_threading("(1 2 3 4) to fill, 3 2 1")
    assert tree.fill is not None
    assert tree.filled(11).values() == [1, 2, 3, 4, 1, 2, 3, 4, 3, 2, 1]


def test_beside_a_bracket_the_semicolon_is_optional():
    assert parse_lifts("(1; 2) x 2 3; (4)").values() == parse_lifts("(1;2) x 2; 3 (4);").values()
    assert [set(lift) for lift in parse_lifts("0; 1 3").values()] == [set(), {1, 3}]


def test_a_yarn_alone_stands_for_every_end():
    assert parse_order("slate").filled(3).values() == ["slate"] * 3


def test_yarns_without_numbers_stand_for_one_each():
    assert parse_order("slate sand slate").values() == ["slate", "sand", "slate"]
    assert parse_order("(slate sand) x 2").values() == ["slate", "sand"] * 2


def test_counts_are_runs():
    tree = parse_order("24 slate, (2 sand, 2 slate) to fill")
    assert tree.items[0] == Run("slate", 24, 0)
    assert isinstance(tree.items[1], Repeat)


@pytest.mark.parametrize(
    ("read", "text", "code", "offset"),
    [
        (parse_threading, "(1 2", "unbalanced-brackets", 0),
        (parse_threading, "1 2)", "unbalanced-brackets", 3),
        (parse_threading, "(1 2 x 3", "unbalanced-brackets", 0),
        (parse_threading, "1 () x 3", "empty-group", 2),
        (parse_threading, "", "empty-sequence", 0),
        (parse_threading, " , ", "empty-sequence", 0),
        (parse_threading, "(1) x 0", "repeat-of-zero", 4),
        (parse_threading, "(1 2) x 1000000", "sequence-too-long", 6),
        (parse_threading, "(1 2) x 50001", "sequence-too-long", 6),
        (parse_threading, "(" * 21 + "1" + ")" * 21, "nested-too-deep", 20),
        (parse_threading, "(1) to fill (2) to fill", "two-fills", 16),
        (parse_threading, "((1) to fill) x 2", "fill-inside-group", 5),
        (parse_threading, "1 x 2", "repeat-without-brackets", 2),
        (parse_threading, "1 2.5", "not-a-whole-number", 2),
        (parse_threading, "0", "no-such-shaft", 0),
        (parse_threading, "41", "no-such-shaft", 0),
        (parse_threading, "1-4", "stray-character", 1),
        (parse_threading, "1;2", "stray-character", 1),
        (parse_threading, "1 slate", "stray-character", 2),
        (parse_treadling, "1+", "stray-character", 0),
        (parse_treadling, "+1", "stray-character", 0),
        (parse_treadling, "1 2+2", "twice-in-a-pick", 4),
        (parse_treadling, "41", "no-such-treadle", 0),
        (parse_lifts, "1;;2", "stray-character", 2),
        (parse_lifts, "(1);;2", "stray-character", 4),
        (parse_lifts, "(;1)", "stray-character", 1),
        (parse_lifts, "1; 0 2", "nothing-and-something", 3),
        (parse_order, "24", "count-without-yarn", 0),
        (parse_order, "24 (1 slate)", "count-without-yarn", 0),
        (parse_order, "0 slate", "count-of-zero", 0),
        (parse_order, "2 sand, slate, 2 sand", "count-missing", 8),
        (parse_order, "100001 slate", "sequence-too-long", 0),
    ],
)
def test_what_is_refused(read, text, code, offset):
    with pytest.raises(NotationError) as caught:
        read(text)
    assert (caught.value.code, caught.value.offset) == (code, offset)
    assert caught.value.mend


def test_the_longest_sequence_is_read():
    assert parse_threading("(1 2) x 50000").length == 100_000


@given(st.text(alphabet="123 ()x+;,.tofilslate0", max_size=40))
def test_any_text_is_read_or_refused(text):
    for read in (parse_threading, parse_treadling, parse_lifts, parse_order):
        try:
            length, offset = read(text).length, 0
        except NotationError as error:
            length, offset = 0, error.offset
        assert 0 <= length <= 100_000
        assert 0 <= offset <= len(text)
