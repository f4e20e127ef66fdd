"""The draft sheet on paper: whoever reads it by its conventions weaves the cloth of the project."""

from itertools import product

import pytest

from layouts.drawing import Disc, Path, Text
from layouts.folio import frame_of
from layouts.sheet_list import SHEETS
from layouts.typeface import cap_height
from tests.project.worked import project_of
from tests.sheets.draft_read import (
    ALL,
    SHEET,
    double_cloth,
    figures,
    filled_places,
    middles,
    small_project,
    tie_middles,
    words_of,
)
from tests.sheets.looks import faults, flat


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


def tie_numbers(figure):
    """Return what is printed in a tie-up: the number at each middle of a tie, in tenths of mm."""
    return {
        (round(mark.x, 1), round(mark.y - cap_height(mark.size) / 2, 1)): int(mark.text)
        for mark in figure.marks
        if isinstance(mark, Text)
    }


@pytest.mark.parametrize("ways", ALL[::3], ids=lambda ways: "-".join(ways.values()))
def test_a_tie_up_in_numbers_has_each_tie_as_the_number_of_its_shaft(ways):
    """Oracle: the tie-up as the spec has it; what does not rise sinks."""
    tie_up = {1: {1, 3}, 2: {2, 4, 5}, 3: {1, 2}, 4: {5}}
    numbered = small_project(conventions=ways | {"tie_up_as": "numbers"})
    found = figures(numbered)
    printed = tie_numbers(found["Tie-up"][0])
    assert not any(tie_middles(found["Tie-up"][0]))
    (entered, _), (_, pressed) = (filled_places(found[n][0]) for n in ("Threading", "Treadling"))
    xs = [round(pressed.x + (at + 0.5) * pressed.cell_width, 1) for at in range(4)]
    read = {
        treadle: {number for (x, _), number in printed.items() if x == across}
        for treadle, across in enumerate(xs, start=1)
    }
    every = {1, 2, 3, 4, 5}
    rise = ways["tie_up"] == "rise"
    assert read == {key: shafts if rise else every - shafts for key, shafts in tie_up.items()}
    # A number stands in the row of its shaft: level with the ends that are on it.
    rows = sorted({y for _, y in entered}, reverse=ways["threading"] == "above")
    assert all(abs(rows[number - 1] - y) < 0.11 for (_, y), number in printed.items())
    (page,) = SHEETS[SHEET](numbered, frame_of(numbered, "A4")).pages
    said = " ".join(mark.text for mark in flat(page.marks) if isinstance(mark, Text))
    assert f"a number in the tie-up: the shaft {ways['tie_up']}s" in said
    assert faults(page, frame_of(numbered, "A4")) == []


@pytest.mark.parametrize(
    ("tradition", "threading", "mark"),
    [
        # Threading above, tie-up at the top right: a weaver's article on reading drafts.
        ("american", "above", Disc),
        # Threading below, tie-up at the lower right, ties sink: a weaver's article.
        ("scandinavian", "below", Path),
        # The rest from memory.
        ("british", "above", Disc),
        ("german", "above", Disc),
    ],
)
def test_the_tie_up_stands_where_the_tradition_has_it(tradition, threading, mark):
    found = figures(small_project(conventions=tradition))
    names = ("Drawdown", "Threading", "Tie-up", "Treadling")
    box = {name: figure_box(found[name][0]) for name in names}
    cloth, entered, tied = box["Drawdown"], box["Threading"], box["Tie-up"]
    assert tied[0] > entered[2]
    assert tied[1::2] == pytest.approx(entered[1::2])
    assert tied[::2] == pytest.approx(box["Treadling"][::2])
    assert box["Treadling"][1::2] == pytest.approx(cloth[1::2])
    assert (entered[3] < cloth[1]) == (threading == "above")
    assert (entered[1] > cloth[3]) == (threading == "below")
    assert sum(isinstance(each, mark) for each in found["Tie-up"][0].marks) > 4


def figure_box(figure):
    """Return left, top, right and bottom of the grid of a figure, its heaviest path of strokes."""
    grid = [mark for mark in figure.marks if isinstance(mark, Path) and len(mark.steps) > 4][-1]
    xs, ys = [step[1] for step in grid.steps], [step[2] for step in grid.steps]
    return min(xs), min(ys), max(xs), max(ys)


def test_sections_that_differ_in_their_weft_alone_name_it():
    yarns = {
        key: {"fibre": "cotton", "size": "Ne 8/2", "name": f"cotton, {key}"}
        for key in ("red", "blue")
    }
    weave = [
        {"section": "border", "picks": "12", "weft": "red"},
        {"section": "border", "picks": "8", "weft": "1 red, 1 blue"},
    ]
    said = words_of(project_of(yarns=yarns, warp_order="red", weave=weave))
    assert "Weft: R cotton, red." in said
    assert "Weft: R cotton, red; B cotton, blue." in said
    assert "Weft:" not in words_of(project_of(yarns=yarns, warp_order="red", weft_order="blue"))


@pytest.mark.parametrize(("layers", "shown"), [(1, True), (2, False)])
def test_only_a_single_cloth_is_shown_in_colours(layers, shown):
    """In a double cloth a crossing of the lower layer lies on top and is hidden all the same."""
    yarns = {
        key: {"fibre": "cotton", "size": "Ne 8/2", "colour": colour}
        for key, colour in (("red", "#aa0000"), ("blue", "#0000aa"))
    }
    project = double_cloth(layers, yarns=yarns, warp_order="red", weft_order="blue")
    assert ("The cloth in its colours" in figures(project)) == shown


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


def test_many_yarns_with_long_names_leave_room_for_the_draft():
    name = "hand-dyed singles from the second flock, walnut over madder, lot"
    yarns = {
        f"y{n}": {"fibre": "cotton", "size": "Ne 8/2", "name": f"{name} {n}"} for n in range(30)
    }
    order = ", ".join(f"{2 + n % 2} {key}" for n, key in enumerate(yarns))
    project = project_of(
        yarns=yarns, given={"ends": "600"}, warp_order=f"({order}) to fill", weft_order=order
    )
    for paper in ("A4", "A5", "5 x 8 in"):
        frame = frame_of(project, paper)
        for page in SHEETS[SHEET](project, frame).pages:
            assert faults(page, frame) == []
