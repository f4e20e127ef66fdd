"""Published facts on what hangs together, double cloth, floats, satins and twills.

The source stands beside each test.
"""

from collections import Counter
from itertools import permutations, product

import numpy as np
import pytest

from cards.cloth.continuity import find_faults, fold_faults
from cards.cloth.floats import longest_floats
from cards.cloth.layers import Layer, layers
from cards.cloth.pieces import find_pieces
from cards.cloth.weft_path import follow, pick_layers, shuttle_plan
from cards.draft.drawdown import drawdown
from cards.draft.shortest import shortest
from cards.project.float_lengths import longest as longest_of_project
from cards.sequence import Repeat, Sequence
from tests.one_cloth import Wanted, build
from tests.project.worked import project_of


def straight(lifts):
    """A straight draw over as many shafts as there are lifts."""
    return drawdown(range(1, len(lifts) + 1), [frozenset(lift) for lift in lifts])


def twill(first_pick, step=1):
    """The twill or satin whose every pick is the one before moved `step` ends."""
    size = len(first_pick)
    return straight(
        [
            [end + 1 for end in range(size) if first_pick[(end - step * pick) % size]]
            for pick in range(size)
        ]
    )


def satin(size, step):
    """One end bound on each pick, moving `step` ends a pick."""
    return twill([1] + [0] * (size - 1), step)


def longest(cloth):
    found = longest_floats(cloth, repeats=True)
    return max(found.warp.length, found.weft.length)


def every_end_binds(cloth):
    found = longest_floats(cloth, repeats=True)
    return not any(each.endless for each in (found.warp, found.warp_face, found.warp_back) if each)


def regular_steps(size):
    return [step for step in range(2, size - 1) if every_end_binds(satin(size, step))]


def twills(size):
    """One of each kind on `size` shafts: rotation, reversal, exchange of up and down are the same."""
    kinds = set()
    for bits in product((0, 1), repeat=size):
        if 0 < sum(bits) < size:
            turned = [bits[at:] + bits[:at] for at in range(size)]
            turned += [each[::-1] for each in turned]
            turned += [tuple(1 - bit for bit in each) for each in turned]
            kinds.add(min(turned))
    return sorted(kinds)


BROOKS = drawdown([1, 3, 2, 4], [frozenset(lift) for lift in ({1}, {1, 2, 4}, {2}, {1, 2, 3})])


def test_plain_and_basket_hang_together():
    # S. L. Rasmussen, On 3-Harness Weaving, Electronic J. Combin. 15 (2008) R1, Figure 1.
    assert len(layers(straight([{1}, {2}]))) == 1
    assert len(layers(straight([{1, 2}, {1, 2}, {3, 4}, {3, 4}]))) == 1


def test_every_grid_of_three_columns_hangs_together():
    # Rasmussen 2008: three to six rows. The counts 84, 360, 720, 720 are by brute force over the
    # published definition, no published figure.
    rows = [row for row in product((False, True), repeat=3) if 0 < sum(row) < 3]
    assert len(rows) == 6
    hanging = []
    for count in (3, 4, 5, 6):
        grids = [np.array(grid) for grid in permutations(rows, count)]
        grids = [
            grid
            for grid in grids
            if len(set(map(tuple, grid.T))) == 3 and set(grid.sum(axis=0)).isdisjoint({0, count})
        ]
        hanging.append(sum(len(layers(grid)) == 1 for grid in grids))
    assert hanging == [84, 360, 720, 720]


@pytest.mark.parametrize("shape", [(2, 2), (3, 3), (3, 4), (4, 3), (4, 4)])
def test_sums_agree_with_strong_connection_on_every_small_block(shape):
    # C. R. J. Clapham, When a fabric hangs together, Bull. London Math. Soc. 12 (1980) 161-164: no
    # disagreement. From memory. Strong connection by Warshall's transitive closure, of all blocks
    # at once.
    picks, ends = shape
    cells = np.array(list(product((False, True), repeat=picks * ends))).reshape(-1, picks, ends)
    reach = np.zeros((len(cells), picks + ends, picks + ends), dtype=bool)
    reach[:, :ends, ends:] = cells.transpose(0, 2, 1)
    reach[:, ends:, :ends] = ~cells
    for between in range(picks + ends):
        reach |= reach[:, :, between, None] & reach[:, None, between, :]
    strong = reach.all(axis=(1, 2))
    # Of the biggest blocks every seventh will do; seven shares no factor with their number.
    # (All 65,536 of them were tried once; they agree.)
    every = 7 if picks * ends == 16 else 1
    disagreements = sum(
        (len(layers(block)) == 1) != whole
        for block, whole in zip(cells[::every], strong[::every], strict=True)
    )
    assert disagreements == 0


def test_no_twill_and_no_satin_falls_apart():
    # B. Gruenbaum, G. C. Shephard, Satins and twills, Math. Mag. 53 (1980) 139-161. From memory.
    for size in range(2, 9):
        for bits in product((0, 1), repeat=size):
            if 0 < sum(bits) < size:
                assert len(layers(twill(bits))) == 1
    for size in range(5, 17):
        for step in regular_steps(size):
            assert len(layers(satin(size, step))) == 1


def test_double_cloth_of_brooks():
    # C. P. Brooks, Cotton Manufacturing, 3rd ed., 1892 (Gutenberg 57681), mirror page 69. Ends and
    # picks of the face 1 and 3, of the back 2 and 4, counted from 1.
    assert BROOKS.astype(int).tolist() == [[1, 0, 0, 0], [1, 0, 1, 1], [0, 0, 1, 0], [1, 1, 1, 0]]
    assert layers(BROOKS) == (Layer((0, 2), (0, 2)), Layer((1, 3), (1, 3)))
    for layer in layers(BROOKS):
        weave = BROOKS[np.ix_(layer.picks, layer.ends)]
        assert weave.tolist() in ([[1, 0], [0, 1]], [[0, 1], [1, 0]])


def test_double_cloth_picks_pass_over_three_and_one():
    # Same page: face picks pass over three ends of four, back picks under three of four.
    assert (~BROOKS).sum(axis=1).tolist() == [3, 1, 3, 1]


def test_three_plain_cloths():
    # J. T. Taylor, Cotton Weaving and Designing, 6th ed., 1909 (Gutenberg 57031), mirror page 200:
    # every pick made with all ends of the cloths above it lifted. Shafts 6, repeat 6 x 6, 3 layers.
    lifts = []
    for place in (0, 1):
        for cloth in range(3):
            above = {shaft for shaft in range(1, 7) if (shaft - 1) % 3 < cloth}
            lifts.append(above | {cloth + 1 + 3 * place})
    cloth = straight(lifts)
    assert cloth.shape == (6, 6)
    assert layers(cloth) == (
        Layer((0, 3), (0, 3)),
        Layer((1, 4), (1, 4)),
        Layer((2, 5), (2, 5)),
    )


def test_longest_float_of_satins():
    # "Satins and sateens (part 2)", June 2017; netcomposites.com glossary "weave" (8-harness: over
    # seven, under one).
    assert longest(satin(5, 2)) == 4
    assert longest(satin(8, 3)) == 7


def test_two_and_one_twill():
    # Taylor, mirror page 152: the weft passes under one end and over two.
    found = longest_floats(twill([1, 0, 0]), repeats=True)
    assert (found.weft_back.length, found.weft_face.length) == (1, 2)


def test_floats_of_a_double_cloth_are_counted_in_each_layer():
    # Brooks, mirror page 69: three if read flat; one in each layer, because it is plain.
    assert longest(BROOKS) == 3
    for layer in layers(BROOKS):
        assert longest(BROOKS[np.ix_(layer.picks, layer.ends)]) == 1


def test_floats_of_simple_weaves():
    # Weave names state their floats. From memory.
    assert longest(twill([1, 0])) == 1
    assert longest(twill([1, 1, 0, 0])) == 2
    assert longest(twill([1, 1, 1, 0])) == 3


# Rows add up to OEIS A056357 (Gruenbaum and Shephard 1980, Theorem 2). How each row divides is by
# brute force over the classification of Hoskins, Praeger and Street, Twills with bounded float
# length, Bull. Austral. Math. Soc. 28 (1983) 255-281, no published figure.
@pytest.mark.parametrize(
    ("size", "kinds", "by_float"),
    [
        (3, 1, [0, 1]),
        (4, 3, [1, 1, 1]),
        (5, 3, [0, 1, 1, 1]),
        (6, 7, [1, 2, 2, 1, 1]),
        (7, 8, [0, 2, 2, 2, 1, 1]),
        (8, 17, [1, 4, 5, 3, 2, 1, 1]),
    ],
)
def test_twills_by_longest_float(size, kinds, by_float):
    found = Counter(longest(twill(bits)) for bits in twills(size))
    assert sum(found.values()) == kinds
    assert [found[length] for length in range(1, size)] == by_float


def test_counters_of_regular_satins():
    # A. Wolfensberger, Theory of Silk Weaving, 2nd ed., 1921 (Gutenberg 14600), mirror page 33: the
    # smaller of each pair. A step is no satin when some end is never bound.
    published = {
        5: [2],
        6: [],
        7: [2, 3],
        8: [3],
        9: [2, 4],
        10: [3],
        11: [2, 3, 4, 5],
        12: [5],
        13: [2, 3, 4, 5, 6],
        14: [3, 5],
        15: [2, 4, 7],
        16: [3, 5, 7],
    }
    found = {size: [s for s in regular_steps(size) if 2 * s <= size] for size in published}
    assert found == published


def test_order_of_a_five_end_satin():
    # Wolfensberger, mirror page 33: counter 2 binds ends 1, 3, 5, 2, 4.
    assert (satin(5, 2).argmax(axis=1) + 1).tolist() == [1, 3, 5, 2, 4]


@pytest.mark.parametrize(("size", "steps"), [(7, [2, 3, 4, 5]), (5, [2, 3]), (6, [])])
def test_steps_of_satins(size, steps):
    # M. Petrini, "Satins and sateens", parts 1 and 2, 2017.
    assert regular_steps(size) == steps


def test_repeat_of_a_regular_twill():
    # "Regular twills", textileschool.com/543: 2 up 3 down 1 up 2 down repeats on 8 ends and 8 picks.
    bits = [1, 1, 0, 0, 0, 1, 0, 0]
    cloth = np.tile(twill(bits), (3, 3))
    for threads in (cloth, cloth.T):
        group = shortest([tuple(each) for each in threads.tolist()])
        assert isinstance(group, Sequence)
        (item,) = group.items
        assert isinstance(item, Repeat)
        assert (item.once, item.times) == (8, 3)


def tube(ends, start, turns=4):
    """A tube of two layers with one shuttle: top, bottom, top, bottom; its pieces and its faults."""
    lifts = [frozenset(lift) for lift in ({1}, {1, 2, 3}, {3}, {1, 3, 4})]
    cells = drawdown(([1, 2, 3, 4] * ends)[:ends], lifts * turns)
    found = layers(cells)
    path = follow(pick_layers(found), shuttle_plan([0] * len(cells), start))
    return find_pieces(path), fold_faults(find_faults(cells, found, path))


@pytest.mark.parametrize("start", ["right", "left"])
@pytest.mark.parametrize("ends", range(20, 28))
def test_a_tube_of_even_ends_has_one_doubled_end_in_each_turn(ends, start):
    # weavingspace.co.uk, "Tubular double weave": a seamless plain tube needs an odd number of ends;
    # an even number doubles one end at each turn of the weft, at the edge where the shuttle starts.
    # How often was found by simulation: two in four picks, which are two turns.
    (piece,), faults = tube(ends, start)
    assert piece.kind == "tube"
    if ends % 2 == 0:
        assert {(fault.side, fault.kind) for fault in faults} == {(start, "doubled")}
        # The weft passes that edge after every other pick, not after the last.
        assert [fault.pick for fault in faults] == list(range(1, 15, 2))
    else:
        # Odd alone is not enough: these sheds fit one start and double both edges for the other.
        assert {fault.side for fault in faults} in (set(), {"left", "right"})
        assert (faults == ()) == (start == "left")


@pytest.mark.parametrize(("cloths", "ends"), [(3, 30), (4, 40)])
def test_cloths_folded_into_one_are_as_many_widths(cloths, ends):
    # Taylor, mirror page 200 and Figs 341-342: any number of cloths, four of them give four times
    # the width of the loom; six shafts for three plain cloths, and a repeat of six picks and ends.
    draft = build(Wanted(ends, cloths, join="left"))
    (piece,) = draft.pieces
    assert (piece.kind, len(piece.layers)) == ("flat", cloths)
    assert len(draft.lifts) == max(draft.threading) == 2 * cloths
    assert draft.threading == tuple(range(1, 2 * cloths + 1)) * 5
    # Down through the cloths and back: 1, 2, 3, 3, 2, 1, computed, no published figure.
    down = tuple(range(cloths))
    assert draft.pick_layers == down + down[::-1]


def test_floats_of_a_project_are_counted_in_each_layer():
    # Brooks, mirror page 69, as in the drawdown above: three if read flat, one in each plain layer.
    project = project_of(
        draft={"threading": "(1 3 2 4) to fill", "lifts": "1; 1 2 4; 2; 1 2 3"},
        expect={"layers": "2"},
    )
    assert longest(project.draft.drawdown[:4, :4]) == 3
    for system in ("warp", "weft"):
        found = longest_of_project(project.cloth, project.warp, project.weft, system)
        assert found.threads == 1


@pytest.mark.parametrize(("picks", "ends", "blocks"), [(3, 2, 6), (4, 2, 14), (4, 3, 906)])
def test_blocks_in_which_every_thread_is_bound(picks, ends, blocks):
    # OEIS A283654: blocks of 0 and 1 without a constant row or column. Repeated for ever, a thread
    # of a constant row or column floats without end.
    found = 0
    for bits in product((False, True), repeat=picks * ends):
        each = longest_floats(np.array(bits).reshape(picks, ends), repeats=True)
        sides = (each.warp_face, each.warp_back, each.weft_face, each.weft_back)
        found += not any(side is not None and side.endless for side in sides)
    assert found == blocks


def test_twills_of_exact_period():
    # OEIS A000046 (Gruenbaum and Shephard, The geometry of fabrics, 1984): on 2 to 8 shafts.
    def repeats_on(bits):
        rows = [tuple(each) for each in np.tile(twill(bits), (3, 1)).tolist()]
        (item,) = shortest(rows).items
        return item.once == len(bits)

    assert [sum(map(repeats_on, twills(size))) for size in range(2, 9)] == [1, 1, 2, 3, 5, 8, 14]
