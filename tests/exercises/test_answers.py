"""Answers against a student who tries everything: just what she finds is right.

The student (`tests/exercises/student.py`) uses numpy and the sheet that she is given.
"""

import re
from dataclasses import replace

import networkx as nx
import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from cards.exercises import Picture, exercises_of
from cards.exercises.exercise import CannotExercise
from cards.exercises.fault_words import how_it_looks
from cards.exercises.part import part_of
from cards.exercises.threading_error import threading_error_exercise
from cards.spec import SpecExercise
from tests.exercises import student
from tests.exercises.drafts import drafts, exercise_of
from tests.project.worked import project_of
from tests.worked_specs import FOLDER, SPECS, worked_out

SLOW = settings(
    max_examples=40,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
SEEDS = st.integers(0, 30).map(str)


def action_of(keys):
    return keys["loom"]["action"]


def answered(exercise):
    return {place: set(right) for place, right in exercise.answer.right}


@SLOW
@given(drafts(), SEEDS, st.integers(1, 4))
def test_every_shaft_that_weaves_the_end_is_right_and_no_other(keys, seed, blanks):
    exercise = exercise_of(keys, "threading", seed=seed, blanks=str(blanks))
    assume(exercise is not None)
    assert student.find_shafts(exercise.given, action_of(keys)) == answered(exercise)
    assert exercise.blanks == blanks == len(student.ends_asked(exercise.given))
    solved = exercise.answer.shown
    for end, shafts in answered(exercise).items():
        assert student.shafts(solved)[end] + 1 in shafts
    told = [each for each in exercise.answer.remarks if each.startswith("Shafts")]
    assert len(told) == len({tuple(each) for each in answered(exercise).values() if len(each) > 1})


@SLOW
@given(drafts(), SEEDS, st.one_of(st.none(), st.integers(1, 16)))
def test_the_drawdown_is_lifts_times_threading(keys, seed, blanks):
    more = {} if blanks is None else {"blanks": str(blanks)}
    exercise = exercise_of(keys, "drawdown", seed=seed, **more)
    assume(exercise is not None)
    picture = exercise.given
    cloth = student.find_cloth(picture, action_of(keys))
    assert (exercise.answer.shown.drawdown.marks == cloth).all()
    asked = picture.drawdown.asked
    assert asked.sum() == exercise.blanks == (blanks or asked.size)
    assert not picture.drawdown.marks[asked].any()
    assert (picture.drawdown.marks[~asked] == cloth[~asked]).all()


@SLOW
@given(drafts(actions=("rising", "sinking"), together=2), SEEDS)
def test_ties_are_asked_just_where_every_solution_agrees(keys, seed):
    exercise = exercise_of(keys, "tie-up", seed=seed)
    assume(exercise is not None)
    picture = exercise.given
    asked, right = picture.tie_up.asked, answered(exercise)
    for shaft, columns in student.find_ties(picture, action_of(keys)).items():
        assert columns
        for treadle in range(len(picture.columns)):
            found = {bool(each[treadle]) for each in columns}
            assert asked[shaft, treadle] == (len(found) == 1)
            if asked[shaft, treadle]:
                assert right[shaft, treadle] == found
                assert {bool(exercise.answer.shown.tie_up.marks[shaft, treadle])} == found


@SLOW
@given(drafts(actions=("rising", "sinking"), together=2), SEEDS, st.integers(1, 4))
def test_every_press_that_weaves_the_pick_is_right_and_no_other(keys, seed, blanks):
    exercise = exercise_of(keys, "treadling", seed=seed, blanks=str(blanks))
    assume(exercise is not None and exercise.given.by_treadle)
    most = max(exercise.answer.shown.treadling.marks.sum(axis=1))
    found = student.find_presses(exercise.given, action_of(keys), int(most))
    assert found == answered(exercise)
    for pick, presses in answered(exercise).items():
        columns = np.flatnonzero(exercise.answer.shown.treadling.marks[pick])
        assert frozenset(exercise.given.columns[each] for each in columns) in presses


@SLOW
@given(drafts(actions=("table",)), SEEDS)
def test_a_lift_plan_is_asked_where_an_end_tells_it(keys, seed):
    exercise = exercise_of(keys, "treadling", seed=seed)
    assume(exercise is not None)
    picture, solved = exercise.given, exercise.answer.shown
    threaded = set(student.shafts(picture).tolist())
    for shaft in range(picture.shafts):
        assert picture.treadling.asked[:, shaft].all() == (shaft in threaded)
        for end in np.flatnonzero(student.shafts(picture) == shaft):
            column = picture.drawdown.marks[:, end]
            assert (solved.treadling.marks[:, shaft] == column).all()


@SLOW
@given(drafts(), SEEDS)
def test_an_error_shows_and_has_one_least_explanation(keys, seed):
    exercise = exercise_of(keys, "threading error", seed=seed)
    assume(exercise is not None)
    picture = exercise.given
    assert (picture.drawdown.marks != student.find_cloth(picture, action_of(keys))).any()
    found = student.find_errors(picture, action_of(keys))
    wanted = answered(exercise)
    assert {tuple(sorted(each)) for each in found} == {tuple(sorted(wanted))}
    # Shafts on which the warp has no end are no threading that anybody made.
    threaded = {int(each) for each in re.findall(r"\d+", keys["draft"]["threading"])}
    up, cloth = student.lifts(picture, action_of(keys)), picture.drawdown.marks
    for end, shafts in wanted.items():
        alike = {each for each in threaded if (up[:, each - 1] == cloth[:, end]).all()}
        assert shafts == alike
        assert {each[end] for each in found} & threaded <= shafts
    wrong = student.shafts(exercise.answer.shown)
    right = student.shafts(picture)
    assert set(np.flatnonzero(wrong != right).tolist()) == set(wanted)


def test_an_error_is_not_asked_where_none_would_show():
    """At picks that raise all shafts or none, no end on a wrong one of them shows."""
    wanted = SpecExercise.model_validate({"exercise": "threading error"})
    part = part_of(project_of(), wanted.part)
    every = frozenset(range(1, 5))
    part = replace(part, lifts=tuple(every if each % 2 else frozenset() for each in part.picks))
    with pytest.raises(CannotExercise, match="no single error"):
        threading_error_exercise(1, wanted, part, "seed")


@SLOW
@given(drafts(), SEEDS)
def test_colours_are_those_of_the_yarn_on_top(keys, seed):
    yarns = {
        "dark": {"fibre": "cotton", "size": "Ne 8/2", "colour": "#203040"},
        "light": {"fibre": "cotton", "size": "Ne 8/2", "colour": "#e0d0c0"},
    }
    keys = keys | {"yarns": yarns, "warp_order": "dark", "weft_order": "1 dark, 2 light"}
    exercise = exercise_of(keys, "colour", seed=seed)
    assume(exercise is not None)
    picture = exercise.given
    cloth = student.find_cloth(picture, action_of(keys))
    warp, weft = ([yarn.key for yarn in side] for side in (picture.warp, picture.weft))
    on_top = np.where(cloth, np.array(warp)[np.newaxis, :], np.array(weft)[:, np.newaxis])
    assert {place: {on_top[place]} for place, _ in exercise.answer.right} == answered(exercise)
    assert len(exercise.answer.right) == cloth.size


def test_the_same_spec_gives_the_same_exercise_and_another_seed_another():
    def blanks(**more):
        project = project_of(exercises=[{"exercise": "threading", "blanks": "4", **more}])
        return student.ends_asked(exercises_of(project)[0].given)

    assert blanks() == blanks()
    assert blanks(seed="1") == blanks(seed="1")
    assert len({tuple(blanks(seed=str(each))) for each in range(12)}) > 6


KINDS = ["threading", "drawdown", "tie-up", "treadling", "colour", "threading error"]


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_nothing_of_the_answer_is_given(path, kind):
    """Cells that are asked bear no mark, and the rest is just what the answer sheet has."""
    action = worked_out(path).project.loom.action
    for exercise in of_spec(path, kind):
        given_, solved = exercise.given, exercise.answer.shown
        assert isinstance(given_, Picture)
        if kind == "threading error":
            assert (given_.drawdown.marks != student.find_cloth(given_, action)).any()
            continue
        for name in ("threading", "tie_up", "treadling", "drawdown"):
            one, two = getattr(given_, name), getattr(solved, name)
            if one is None:
                continue
            assert not one.marks[one.asked].any()
            assert (one.marks[~one.asked] == two.marks[~one.asked]).all()
        assert not given_.coloured


def of_spec(path, *kinds):
    project = worked_out(path).project
    wanted = tuple(SpecExercise.model_validate({"exercise": kind}) for kind in kinds)
    return exercises_of(replace(project, exercises=wanted))


def number(text):
    """Return the number at the head of a figure such as `126.17 in`."""
    return float(re.match(r"[\d.]+", text)[0])


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_a_calculation_can_be_worked_by_what_it_gives(path):
    """Redo the lines with Python's own arithmetic, from the figures on the sheet of the student."""
    (exercise,) = of_spec(path, "calculation")
    assert exercise.blanks == len(exercise.given.lines)
    solved = {line.number: line for line in exercise.answer.shown.lines}
    for line in exercise.given.lines:
        assert not line.result
        assert not line.used
        found = redone(line.figures, solved)
        answer = number(solved[line.number].result)
        assert found == pytest.approx(answer, rel=2e-4)


def redone(figures, solved):
    head, _, least = figures.partition(", at least ")
    head = re.sub(r"result of (\d+)", lambda match: used(solved[int(match[1])]), head)
    head = re.sub(r"\b(?:per )?(?:cm|in|ends|picks|pieces|m|yd)\b", "", head)
    head = head.replace("×", "*").replace("÷", "/").replace("−", "-")
    assert re.fullmatch(r"[\d.()+*/ -]+", head), head
    value = eval(head)  # noqa: S307 -- only figures and signs, as is looked up above
    return max(value, number(least)) if least and least != "nothing" else value


def used(line):
    return str(number(line.used or line.result))


def test_figures_beside_the_blanks_give_no_result_away():
    for path in SPECS:
        (exercise,) = of_spec(path, "calculation")
        results = {line.result for line in exercise.answer.shown.lines}
        for line in exercise.given.lines:
            printed = re.findall(r"[\d.]+ (?:cm|in)", line.figures)
            own = exercise.answer.shown.lines[line.number - 1].result
            assert not results - {own} & set(printed)


def test_the_answer_sheet_says_which_exercise_shows_it():
    path = FOLDER / "twill-scarf.yaml"
    threading, drawdown = of_spec(path, "threading", "drawdown")
    assert (
        "Exercise 2 shows what is asked here: hand it out afterwards." in threading.answer.remarks
    )
    assert "Exercise 1 shows what is asked here: hand it out afterwards." in drawdown.answer.remarks
    (alone,) = of_spec(path, "threading")
    assert not any("hand it out" in remark for remark in alone.answer.remarks)


def test_how_an_error_looks_is_said_in_the_trades_words():
    """Plain weave: an end on the other kind of shaft lies with both neighbours (from memory)."""
    part = part_of(project_of(), SpecExercise.model_validate({"exercise": "drawdown"}).part)
    assert part.threading[:4] == (1, 2, 3, 4)
    words = how_it_looks(part, (1, 2, 3, 4, 2, *part.threading[5:]), (4,))
    assert "Ends 4 to 6 rise together" in words
    assert "the weft passes 3 ends at once, where 1 was the most" in words


def test_an_end_on_a_shaft_of_the_other_layer_weaves_there():
    """With the sheds of two plain layers, top on shafts 1 and 3, an end on 2 or 4 is below.

    That it does not bind them is found by networkx: ends and picks hang together where each lies
    over the other somewhere along a way of crossings (Clapham 1980).
    """
    path = FOLDER / "two-layer-sampler.yaml"
    project = worked_out(path).project
    part = part_of(project, SpecExercise.model_validate({"exercise": "drawdown"}).part)
    assert part.layers == 2
    right = part.threading
    assert right[4] in (1, 3)
    for shaft in {1, 2, 3, 4} - {right[4]}:
        wrong = (*right[:4], shaft, *right[5:])
        words = how_it_looks(part, wrong, (4,))
        assert ("weaves in another layer" in words) == (shaft in (2, 4))
        assert len(hang_together(part.woven(wrong))) == 2
        assert "binds" not in words


def test_what_binds_the_layers_is_said_so():
    """An end that lies over picks of the lower layer and under picks of the upper one binds them."""
    part = part_of(
        worked_out(FOLDER / "two-layer-sampler.yaml").project,
        SpecExercise.model_validate({"exercise": "drawdown"}).part,
    )
    # A fifth shaft that rises at one pick of each layer only.
    lifts = tuple(
        lift | {5} if pick % 4 in (0, 3) else lift for pick, lift in enumerate(part.lifts)
    )
    part = replace(part, lifts=lifts)
    wrong = (*part.threading[:4], 5, *part.threading[5:])
    assert len(hang_together(part.over)) == 2
    found = hang_together(part.woven(wrong))
    assert (len(found) < 2) == ("binds layers" in how_it_looks(part, wrong, (4,)))
    assert len(found) == 1


def hang_together(cloth):
    """Return the layers of a drawdown, those with ends and picks, by networkx."""
    graph = nx.DiGraph()
    for (pick, end), over in np.ndenumerate(cloth):
        pair = (("end", end), ("pick", pick))
        graph.add_edge(*(pair if over else pair[::-1]))
    found = nx.strongly_connected_components(graph)
    return [each for each in found if {kind for kind, _ in each} == {"end", "pick"}]
