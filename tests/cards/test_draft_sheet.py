"""The draft sheet as data: views, repeats and floats are those of the project."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cards.draft.stretches import drawn, period, stretches, stretches_of, threads_of
from cards.draft_sheet import columns_of, draft_sheet, range_of, shortest_range, view, whole_range
from cards.sequence import Sequence
from tests.project.worked import project_of
from tests.sheets.draft_read import double_cloth, small_project
from tests.strategies import shafts, trees


def whole(project):
    """The view of everything that the first section has."""
    card = draft_sheet(project)
    section = card.sections[0]
    every = np.arange(card.ends.total), np.arange(section.picks.total)
    return card, section, view(card, section, *every)


def woven_by_hand(threading, treadling, tie_up):
    """The drawdown, crossing by crossing, from the words of the spec alone."""
    rising = {key: set(shafts.split()) for key, shafts in tie_up.items()}
    return [
        [
            any(shaft in rising[treadle] for treadle in pick.split("+"))
            for shaft in threading.split()
        ]
        for pick in treadling.split()
    ]


def test_the_view_is_the_draft_woven_by_hand():
    project = small_project()
    _, _, seen = whole(project)
    by_hand = woven_by_hand(
        "1 2 3 4 5 3 1 4 4 2 1",
        "1 2 3 4 2 1+4 3 3 1",
        {"1": "1 3", "2": "2 4 5", "3": "1 2", "4": "5"},
    )
    assert seen.drawdown.tolist() == by_hand
    assert seen.threading.argmax(axis=0).tolist() == [0, 1, 2, 3, 4, 2, 0, 3, 3, 1, 0]
    assert seen.threading.sum(axis=0).tolist() == [1] * 11
    assert np.flatnonzero(seen.treadling[5]).tolist() == [0, 3]


def test_the_double_cloth_of_an_old_book():
    """C. P. Brooks, Cotton Manufacturing, 3rd ed., 1892 (Gutenberg 57681), page 69."""
    card, section, _ = whole(double_cloth(2))
    seen = view(card, section, np.arange(4), np.arange(4))
    assert seen.drawdown.astype(int).tolist() == [
        [1, 0, 0, 0],
        [1, 0, 1, 1],
        [0, 0, 1, 0],
        [1, 1, 1, 0],
    ]
    assert not section.by_treadle
    assert columns_of(card, section) == (1, 2, 3, 4)
    raised = [np.flatnonzero(row + 0) + 1 for row in seen.treadling]
    assert [list(each) for each in raised] == [[1], [1, 2, 4], [2], [1, 2, 3]]


@pytest.mark.parametrize(("layers", "longest"), [(1, 3), (2, 1)])
def test_the_floats_of_the_double_cloth_are_asked_layer_by_layer(layers, longest):
    """Brooks 1892, page 69: a pick passes over three ends of four; each layer is plain."""
    (section,) = draft_sheet(double_cloth(layers)).sections
    assert section.layers == layers
    assert section.warp_float.length == section.weft_float.length == longest


@pytest.mark.parametrize(
    ("tie_up", "lifts", "longest"),
    [
        ({"1": "1 3", "2": "2 4", "3": "1 3", "4": "2 4"}, "1010 0101 1010 0101", 1),
        ({"1": "1 2", "2": "2 3", "3": "3 4", "4": "1 4"}, "1100 0110 0011 1001", 2),
        ({"1": "1 2 3", "2": "2 3 4", "3": "1 3 4", "4": "1 2 4"}, "1110 0111 1011 1101", 3),
    ],
    ids=["plain", "2/2 twill", "3/1 twill"],
)
def test_weaves_whose_floats_their_names_say(tie_up, lifts, longest):
    """A straight draw makes its lifts its drawdown; names of twills state the floats: from memory."""
    project = project_of(
        draft={"threading": "(1 2 3 4) to fill", "tie_up": tie_up, "treadling": "1 2 3 4"}
    )
    card = draft_sheet(project)
    (section,) = card.sections
    seen = view(card, section, np.arange(4), np.arange(4))
    assert ["".join(map(str, row)) for row in seen.drawdown.astype(int)] == lifts.split()
    assert section.warp_float.length == section.weft_float.length == longest


def longest_run(cells):
    """The longest stretch of equal values in a list that does not go round."""
    best = run = 1
    for before, after in pairwise(cells):
        run = run + 1 if before == after else 1
        best = max(best, run)
    return best


@given(st.lists(shafts(4), min_size=9, max_size=30), st.lists(shafts(4), min_size=2, max_size=9))
def test_floats_are_those_of_the_whole_piece(walk, treadling):
    """Oracle: runs counted cell by cell over all ends and picks, and at the place that is told."""
    threading = [1, 2, 3, 4, *walk]  # a treadle must lift some ends, and not all of them
    tie_up = {"1": "1 2", "2": "2 3", "3": "3 4", "4": "1 4"}
    project = project_of(
        draft={
            "threading": " ".join(map(str, threading)),
            "tie_up": tie_up,
            "treadling": " ".join(map(str, treadling)),
        },
        weave=[{"section": "all", "picks": str(3 * len(treadling))}],
    )
    (section,) = draft_sheet(project).sections
    cloth = project.draft.drawdown
    for told, lists in ((section.warp_float, cloth.T), (section.weft_float, cloth)):
        longest = max(longest_run(each.tolist()) for each in lists)
        if not told.endless:
            assert told.length == longest
            float_ = np.roll(lists[told.thread], -told.start)[: told.length]
            assert (float_ == (float_[0])).all()
            assert float_[0] == (told.over == (lists is not cloth))
        else:
            assert lists[told.thread].all() or not lists[told.thread].any()


def written_out(found):
    """The number of the drawn thread that each thread is like, in order."""
    alike = []
    for each in found:
        unit = list(range(each.first, each.first + each.once))
        alike += unit * each.times + unit[: each.rest]
    return alike


@given(trees(shafts(4)))
def test_stretches_stand_for_every_thread(items):
    sequence = Sequence(items)
    values = sequence.values()
    for found in (stretches(sequence), stretches_of(sequence)):
        assert [values[place] for place in written_out(found)] == values
        assert [each.first for each in found] == [
            sum(one.total for one in found[:place]) for place in range(len(found))
        ]


@given(trees(shafts(4)), st.integers(1, 60), st.integers(0, 40))
def test_what_is_drawn_fits_and_is_whole_repeats(items, room, aim):
    found = stretches(Sequence(items))
    chosen = drawn(found, room, aim)
    if chosen is None:
        assert sum(each.once for each in found) > room - 8 * len(found)
        return
    assert [each.stretch for each in chosen] == list(found)
    assert all(1 <= each.repeats <= each.stretch.times for each in chosen)
    assert len(threads_of(chosen)) == sum(each.count for each in chosen) <= room


@given(st.lists(st.integers(0, 2), max_size=24))
def test_the_period_is_the_smallest_step_that_comes_again(values):
    """Oracle: every step tried in turn."""
    steps = [
        step
        for step in range(1, len(values) // 2 + 1)
        if all(one == other for one, other in zip(values, values[step:], strict=False))
    ]
    assert period(values) == min(steps, default=len(values))


def test_a_short_side_is_whole_a_long_one_a_repeat_and_the_longest_goes_on():
    card = draft_sheet(
        project_of(
            draft={
                "threading": "4, (1 2 3) x 70, 1 2",
                "tie_up": {"1": "1 3", "2": "2 4"},
                "treadling": "(1 2) x 12",
            },
            weave=[{"section": "all", "picks": "24"}],
        )
    )
    picks = range_of(card.sections[0].picks, 50)
    assert picks.whole
    ends = range_of(card.ends, 50)
    assert not ends.whole
    assert [(each.stretch.once, each.stretch.times, each.stretch.rest) for each in ends.drawn] == [
        (1, 1, 0),
        (3, 70, 2),
    ]
    assert range_of(card.ends, 9) is None
    assert shortest_range(card.ends).count == 10
    assert whole_range(card.ends).count == 213


def test_colours_are_left_out_where_they_repeat_otherwise():
    yarns = {key: {"fibre": "cotton", "size": "Ne 8/2"} for key in ("red", "blue")}
    card = draft_sheet(
        project_of(
            yarns=yarns,
            draft={
                "threading": "(1 2 3 4) x 90",
                "tie_up": {"1": "1 3", "2": "2 4"},
                "treadling": "1 2",
            },
            warp_order="(30 red, 30 blue) x 6",
            weft_order="red",
        )
    )
    with_colours, without = range_of(card.ends, 60), range_of(card.ends, 59)
    assert with_colours.coloured
    assert with_colours.count == 60
    assert not without.coloured
    assert without.count == 24


def test_sections_woven_alike_are_drawn_once():
    yarns = {key: {"fibre": "cotton", "size": "Ne 8/2"} for key in ("red", "blue")}
    project = project_of(
        yarns=yarns,
        warp_order="red",
        weave=[
            {"section": "hem", "picks": "12", "weft": "red"},
            {"section": "stripe", "picks": "8", "weft": "blue"},
            {"section": "body", "picks": "40", "weft": "red"},
            {"section": "end", "picks": "8", "weft": "red", "treadling": "1 1 2 2"},
        ],
    )
    sections = draft_sheet(project).sections
    assert [each.names for each in sections] == [("hem", "body"), ("stripe",), ("end",)]
    assert [each.picks.total for each in sections] == [40, 8, 8]
