"""Heddles moved between shafts, held against exact solvers and against all plans there are."""

import itertools
import random
import time

import networkx as nx
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from cards.loom.heddle_moves import HeddleMove, heddle_moves


def shafts_of(most, heddles):
    return st.integers(2, most).flatmap(
        lambda n: st.tuples(*[st.lists(st.integers(0, heddles), min_size=n, max_size=n)] * 2)
    )


def weight(moves):
    """Heddles, moves and way: in this order a plan is to be small."""
    way = sum(move.heddles * abs(move.source - move.target) for move in moves)
    return sum(move.heddles for move in moves), len(moves), way


def uneven(needed, there):
    over = {at: has - need for at, (need, has) in enumerate(zip(needed, there, strict=True), 1)}
    spare = {at: each for at, each in over.items() if each > 0}
    lack = {at: -each for at, each in over.items() if each < 0}
    return spare, lack


def every_plan(needed, there):
    """All plans that move what can be of use: every number from every shaft to every other."""
    spare, lack = uneven(needed, there)
    wanted = min(sum(spare.values()), sum(lack.values()))
    pairs = list(itertools.product(spare, lack))
    for amounts in itertools.product(*(range(min(spare[i], lack[j]) + 1) for i, j in pairs)):
        moves = [HeddleMove(i, j, n) for (i, j), n in zip(pairs, amounts, strict=True) if n]
        gone = all(sum(m.heddles for m in moves if m.source == i) <= n for i, n in spare.items())
        come = all(sum(m.heddles for m in moves if m.target == j) <= n for j, n in lack.items())
        if sum(amounts) == wanted and gone and come:
            yield moves


@settings(max_examples=150, deadline=None)
@given(shafts_of(5, 4))
def test_no_plan_of_all_that_there_are_is_better(both):
    needed, there = both
    found = heddle_moves(needed, there)
    assert found.proved
    assert weight(found.moves) == min(map(weight, every_plan(needed, there)))


def by_milp(needed, there):
    """Weight of the best plan by scipy's solver (HiGHS) for mixed integer programs."""
    spare, lack = uneven(needed, there)
    pairs = list(itertools.product(spare, lack))
    if not pairs:
        return 0, 0, 0
    most = np.array([min(spare[i], lack[j]) for i, j in pairs], dtype=float)
    far = np.array([abs(i - j) for i, j in pairs], dtype=float)
    number = len(pairs)
    wanted = min(sum(spare.values()), sum(lack.values()))
    # A move weighs more than any way that all heddles can go.
    move = 1.0 + wanted * far.max()
    rows, least, top = [], [], []
    for side, rooms in ((0, spare), (1, lack)):
        for at, room in rooms.items():
            rows.append([pair[side] == at for pair in pairs] + [0] * number)
            whole = sum(rooms.values()) == wanted
            least.append(room if whole else 0)
            top.append(room)
    for place in range(number):
        row = np.zeros(2 * number)
        row[place], row[number + place] = 1, -most[place]
        rows.append(row)
        least.append(-np.inf)
        top.append(0)
    found = milp(
        np.concatenate((far, np.full(number, move))),
        constraints=LinearConstraint(np.array(rows, dtype=float), least, top),
        integrality=np.ones(2 * number),
        bounds=Bounds(0, np.concatenate((most, np.ones(number)))),
    )
    assert found.success
    moves = [
        HeddleMove(i, j, round(n))
        for (i, j), n in zip(pairs, found.x[:number], strict=True)
        if n > 0.5
    ]
    return weight(moves)


@settings(max_examples=40, deadline=None)
@given(shafts_of(9, 30))
def test_an_exact_solver_finds_no_better_plan(both):
    needed, there = both
    found = heddle_moves(needed, there)
    assert found.proved
    assert weight(found.moves) == by_milp(needed, there)


@given(shafts_of(12, 60))
@settings(max_examples=60, deadline=None)
def test_as_many_heddles_are_moved_as_a_flow_can_bring(both):
    """The greatest flow from spare to lacking heddles, by networkx."""
    needed, there = both
    spare, lack = uneven(needed, there)
    graph = nx.DiGraph()
    graph.add_nodes_from(["spare", "lack"])
    graph.add_edges_from(("spare", ("from", at), {"capacity": n}) for at, n in spare.items())
    graph.add_edges_from((("to", at), "lack", {"capacity": n}) for at, n in lack.items())
    graph.add_edges_from((("from", i), ("to", j)) for i in spare for j in lack)
    found = heddle_moves(needed, there)
    assert sum(move.heddles for move in found.moves) == nx.maximum_flow_value(
        graph, "spare", "lack"
    )


@given(shafts_of(40, 80))
@settings(max_examples=60, deadline=None)
def test_every_shaft_has_enough_in_the_end(both):
    needed, there = both
    found = heddle_moves(needed, there)
    after = list(there)
    for move in found.moves:
        assert move.heddles > 0
        assert there[move.source - 1] > needed[move.source - 1]
        after[move.source - 1] -= move.heddles
        after[move.target - 1] += move.heddles
    for at, need in enumerate(needed):
        # A shaft that gave keeps what it needs; heddles are added only where too few are left.
        assert after[at] + found.added[at] >= need
        assert not found.added[at] or after[at] + found.added[at] == need
    assert sum(found.added) == max(0, sum(needed) - sum(there))


@given(st.lists(st.integers(0, 500), min_size=2, max_size=40), st.data())
def test_nothing_is_moved_where_nothing_is_short(needed, data):
    there = [need + data.draw(st.integers(0, 50)) for need in needed]
    found = heddle_moves(needed, there)
    assert found.moves == ()
    assert not any(found.added)
    assert found.proved


def test_a_large_uneven_loom_does_not_take_for_ever():
    """Half of 40 shafts short of odd numbers: a plan is found, and it is told if none is proved."""
    rng = random.Random(7)  # noqa: S311
    needed = [rng.randint(20, 40) for _ in range(40)]
    start = time.perf_counter()
    found = heddle_moves(needed, [30] * 40)
    assert time.perf_counter() - start < 20
    moved = sum(move.heddles for move in found.moves)
    spare, lack = uneven(needed, [30] * 40)
    assert moved == min(sum(spare.values()), sum(lack.values()))


def test_shafts_and_numbers_go_together():
    with pytest.raises(ValueError, match="zip"):
        heddle_moves((1, 2), (1,))
