"""The draft sheet as data and as drawn: what a reader of the page would weave is the project's."""

import re
from itertools import pairwise, product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cards.draft.stretches import drawn, period, stretches, stretches_of, threads_of
from cards.draft_sheet import columns_of, draft_sheet, range_of, shortest_range, view, whole_range
from cards.sequence import Sequence
from layouts.drawing import Cells, Disc, Figure, Path, Text
from layouts.folio import SHEETS, frame_of
from layouts.sheets.draft_chart import LARGEST_CELL, SMALLEST_CELL
from layouts.sheets.draft_part import OVERLAP
from tests.project.worked import project_of
from tests.sheets.looks import faults, flat
from tests.strategies import shafts, trees

SHEET = "draft-sheet"


def small_project(**changes):
    """A draft without any symmetry, so that no wrong turn can go unnoticed."""
    return project_of(
        **{
            "loom": {"action": "rising", "shafts": "5", "treadles": "6"},
            "draft": {
                "threading": "1 2 3 4 5 3 1 4 4 2 1",
                "tie_up": {"1": "1 3", "2": "2 4 5", "3": "1 2", "4": "5"},
                "treadling": "1 2 3 4 2 1+4 3 3 1",
            },
            "weave": [{"section": "all", "picks": "9"}],
        }
        | changes
    )


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


# The cloth read off the page, as one reads who knows the conventions and nothing else.


def figures(project, paper="A4"):
    frame = frame_of(project, paper)
    found = {}
    for page in SHEETS[SHEET](project, frame).pages:
        for mark in page.marks:
            if isinstance(mark, Figure):
                found.setdefault(mark.title, []).append(mark)
    return found


def filled_places(figure):
    """Return the middles of all filled cells of a figure, and its mark of cells."""
    (mark,) = [each for each in figure.marks if isinstance(each, Cells)]
    rows, columns = np.nonzero(mark.filled)
    xs = mark.x + (columns + 0.5) * mark.cell_width
    ys = mark.y + (rows + 0.5) * mark.cell_height
    return {(round(x, 2), round(y, 2)) for x, y in zip(xs, ys, strict=True)}, mark


def middles(mark):
    rows, columns = mark.filled.shape
    xs = [round(mark.x + (at + 0.5) * mark.cell_width, 2) for at in range(columns)]
    ys = [round(mark.y + (at + 0.5) * mark.cell_height, 2) for at in range(rows)]
    return xs, ys


def tie_middles(figure):
    """Return the middles of discs and crosses of a tie-up; grids are paths of level strokes."""
    discs = {(round(m.x, 2), round(m.y, 2)) for m in figure.marks if isinstance(m, Disc)}
    crosses = set()
    for mark in figure.marks:
        if isinstance(mark, Path) and len(mark.steps) == 4 and mark.steps[0][1] != mark.steps[1][1]:
            xs, ys = [s[1] for s in mark.steps], [s[2] for s in mark.steps]
            if mark.steps[0][2] != mark.steps[1][2]:
                crosses.add((round(sum(xs) / 4, 2), round(sum(ys) / 4, 2)))
    return discs, crosses


ALL = [
    dict(zip(("threading", "first_end", "tie_up", "treadling", "filled"), choice, strict=True))
    for choice in product(
        ("above", "below"), ("right", "left"), ("rise", "sink"), ("down", "up"), ("warp", "weft")
    )
]


@pytest.mark.parametrize("ways", ALL, ids=lambda ways: "-".join(ways.values()))
def test_the_drawn_cloth_is_the_project_whatever_the_conventions(ways):
    project = small_project(conventions=ways)
    found = figures(project)
    (drawdown,) = found["Drawdown"]
    filled, mark = filled_places(drawdown)
    xs, ys = middles(mark)
    in_order = xs[::-1] if ways["first_end"] == "right" else xs
    from_first = ys[::-1] if ways["treadling"] == "up" else ys
    read = [
        [((x, y) in filled) == (ways["filled"] == "warp") for x in in_order] for y in from_first
    ]
    assert read == project.draft.drawdown.tolist()


@pytest.mark.parametrize("ways", ALL, ids=lambda ways: "-".join(ways.values()))
def test_threading_tie_up_and_treadling_as_drawn_weave_the_drawn_cloth(ways):
    """Follow every crossing by its place on the page: up to the threading, across to the tie-up."""
    found = figures(small_project(conventions=ways))
    (entered, _), (pressed, _), (filled, cloth) = (
        filled_places(found[name][0]) for name in ("Threading", "Treadling", "Drawdown")
    )
    discs, crosses = tie_middles(found["Tie-up"][0])
    tied = discs if ways["tie_up"] == "rise" else crosses
    assert not (crosses if ways["tie_up"] == "rise" else discs)
    shaft_at = dict(entered)
    xs, ys = middles(cloth)
    for x, y in product(xs, ys):
        columns = [across for across, along in pressed if along == y]
        # Of two treadles pressed at once, either may raise a shaft; it sinks only if both sink it.
        met = [(column, shaft_at[x]) in tied for column in columns]
        over = any(met) if ways["tie_up"] == "rise" else not all(met)
        assert ((x, y) in filled) == (over == (ways["filled"] == "warp"))


@pytest.mark.parametrize("ways", ["american", "scandinavian", "british", "german"])
def test_the_legend_says_how_to_read_it(ways):
    project = small_project(conventions=ways)
    frame = frame_of(project)
    (page,) = SHEETS[SHEET](project, frame).pages
    said = " ".join(mark.text for mark in flat(page.marks) if isinstance(mark, Text))
    asked = project.conventions
    assert f"filled: the {asked.filled} is on top" in said
    assert f"a mark in the tie-up: the shaft {asked.tie_up}s" in said
    first_pick = {"down": "top", "up": "bottom"}[asked.treadling]
    assert f"First end at the {asked.first_end}, first pick at the {first_pick}." in said


def test_treadle_1_lies_where_the_loom_has_it():
    loom = {"action": "rising", "shafts": "5", "treadles": "6", "treadle_1": "right"}
    left, right = figures(small_project()), figures(small_project(loom=loom))
    _, one = filled_places(left["Treadling"][0])
    _, other = filled_places(right["Treadling"][0])
    assert (other.filled == one.filled[:, ::-1]).all()


# Oracles.


def double_cloth(layers):
    return project_of(
        loom={"action": "table", "shafts": "4"},
        expect={"layers": str(layers)},
        draft={"threading": "(1 3 2 4) to fill", "lifts": "1; 1 2 4; 2; 1 2 3"},
    )


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


# Repeats.


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


# On paper.


def unlike(count, most=8, seed=5):
    """A threading on all shafts that walks about and never repeats itself for long."""
    random = np.random.default_rng(seed)
    walk = np.cumsum(random.choice((1, most - 1), count - most)) % most + 1
    return [*range(1, most + 1), *walk.tolist()]


def large_project(ends=200, picks=130, most=8, **changes):
    tie_up = {
        str(n): " ".join(str((n + k) % most + 1) for k in range(3)) for n in range(1, most + 1)
    }
    return project_of(
        loom={"action": "rising", "shafts": str(most), "treadles": str(most)},
        draft={
            "threading": " ".join(map(str, unlike(ends, most))),
            "tie_up": tie_up,
            "treadling": " ".join(map(str, unlike(picks, most, seed=8))),
        },
        weave=[{"section": "all", "picks": str(picks)}],
        **changes,
    )


@pytest.mark.parametrize("ways", ["american", "german"])
def test_tiles_together_have_every_crossing_and_overlap(ways):
    project = large_project(conventions=ways)
    frame = frame_of(project, "A4")
    cloth = project.draft.drawdown
    seen = np.zeros(cloth.shape, dtype=int)
    for page in SHEETS[SHEET](project, frame).pages:
        assert faults(page, frame) == []
        words = " ".join(mark.text for mark in flat(page.marks) if isinstance(mark, Text))
        spans = re.findall(r"ends (\d+) to (\d+), picks (\d+) to (\d+)\.", words)
        drawn_here = [
            mark
            for figure in page.marks
            if isinstance(figure, Figure) and figure.title == "Drawdown"
            for mark in figure.marks
            if isinstance(mark, Cells)
        ]
        assert len(spans) == len(drawn_here)
        for span, mark in zip(spans, drawn_here, strict=True):
            first, last, low, high = (int(each) for each in span)
            across = -1 if project.conventions.first_end == "right" else 1
            along = -1 if project.conventions.treadling == "up" else 1
            part = cloth[low - 1 : high, first - 1 : last]
            assert (mark.filled[::along, ::across] == part).all()
            assert SMALLEST_CELL <= mark.cell_width <= LARGEST_CELL
            seen[low - 1 : high, first - 1 : last] += 1
    assert seen.min() == 1
    across_tiles = [place for place in range(cloth.shape[1]) if seen[0, place] == 2]
    assert len(across_tiles) % OVERLAP == 0
    assert len(across_tiles) >= OVERLAP


@pytest.mark.parametrize("paper", ["A4", "Letter", "A5", "5 x 8 in", "Legal"])
@pytest.mark.parametrize(("ends", "picks", "most"), [(200, 130, 8), (90, 60, 24), (60, 44, 24)])
@pytest.mark.parametrize("action", ["rising", "dobby"])
def test_large_drafts_are_good_to_look_at(paper, ends, picks, most, action):
    project = large_project(ends, picks, most)
    if action == "dobby":
        lifts = [sorted(lift) for lift in project.draft.lifts]
        project = project_of(
            loom={"action": "dobby", "shafts": str(most)},
            draft={
                "threading": " ".join(map(str, unlike(ends, most))),
                "lifts": "; ".join(" ".join(map(str, lift)) for lift in lifts),
            },
        )
    frame = frame_of(project, paper)
    for page in SHEETS[SHEET](project, frame).pages:
        assert faults(page, frame) == []


@pytest.mark.parametrize("ways", ALL[::5], ids=lambda ways: "-".join(ways.values()))
@pytest.mark.parametrize("paper", ["A4", "A5"])
def test_every_tradition_is_good_to_look_at(ways, paper):
    yarns = {key: {"fibre": "cotton", "size": "Ne 8/2"} for key in ("red", "blue", "green")}
    project = project_of(
        yarns=yarns,
        conventions=ways,
        given={"ends": "756"},
        warp_order="(3 red, 1 blue, 2 green, 1 blue) to fill",
        weft_order="1 red, 2 green",
    )
    frame = frame_of(project, paper)
    for page in SHEETS[SHEET](project, frame).pages:
        assert faults(page, frame) == []


def test_a_draft_of_hundreds_of_tiles_shows_the_first_and_says_so():
    project = large_project(1100, 900)
    (page, *more) = SHEETS[SHEET](project, frame_of(project, "A5")).pages
    marks = flat(each for one in (page, *more) for each in one.marks)
    words = " ".join(mark.text for mark in marks if isinstance(mark, Text))
    assert len(more) <= 1
    assert "All 1100 ends" not in words
    assert re.search(r"would take \d{3,} tiles of this paper; only the first is drawn", words)
