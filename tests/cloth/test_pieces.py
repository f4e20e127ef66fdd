import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cards.cloth.layers import Layer
from cards.cloth.pieces import Piece, find_pieces, stitched_layers
from cards.cloth.weft_path import follow, shuttle_plan


def pieces_of(layers, shuttles=None, start="right"):
    return find_pieces(follow(layers, shuttle_plan(shuttles or [0] * len(layers), start)))


# What the orders make: common practice, no source.
@pytest.mark.parametrize(
    ("layers", "shuttles", "start", "wanted"),
    [
        ([0, 0, 0, 0], None, "right", [Piece("flat", (0,))]),
        ([0, 1] * 4, [0, 1] * 4, "right", [Piece("flat", (0,)), Piece("flat", (1,))]),
        ([0, 1] * 4, None, "right", [Piece("tube", (0, 1), ("left", "right"))]),
        ([0, 1] * 4, None, "left", [Piece("tube", (0, 1), ("right", "left"))]),
        ([0, 1, 1, 0] * 3, None, "right", [Piece("flat", (0, 1), ("left",))]),
        ([0, 1, 1, 0] * 3, None, "left", [Piece("flat", (0, 1), ("right",))]),
        ([0, 0, 1, 1] * 3, None, "right", [Piece("flat", (0, 1), ("right",))]),
        ([0, 1, 2, 2, 1, 0] * 3, None, "right", [Piece("flat", (0, 1, 2), ("left", "right"))]),
        # Two tubes, one within the other.
        (
            [0, 3, 1, 2] * 4,
            [0, 0, 1, 1] * 4,
            "right",
            [Piece("tube", (0, 3), ("left", "right")), Piece("tube", (1, 2), ("left", "right"))],
        ),
        # A tube of four widths, pleated.
        (
            [0, 1, 2, 3] * 4,
            None,
            "right",
            [Piece("tube", (0, 1, 2, 3), ("left", "right", "left", "right"))],
        ),
        # The middle width joined above and below at opposite sides, the lowest comes second.
        ([0, 2, 1, 1, 2, 0] * 3, None, "right", [Piece("flat", (0, 2, 1), ("left", "right"))]),
    ],
)
def test_what_is_taken_off_the_loom(layers, shuttles, start, wanted):
    assert pieces_of(layers, shuttles, start) == tuple(wanted)


@pytest.mark.parametrize(
    ("layers", "shuttles", "note"),
    [
        (
            [0, 1] * 6 + [0, 1] * 6,
            [0] * 12 + [0, 1] * 6,
            "layers 1 and 2 make a pocket: joined at both sides over one stretch, open beyond it",
        ),
        (
            [0, 1, 1, 0] * 3 + [0, 1] * 6 + [0, 1, 1, 0] * 3,
            [0] * 12 + [0, 1] * 6 + [0] * 12,
            "layers 1 and 2 are joined at the left but for a slit",
        ),
        (
            [0, 1, 1, 0] * 3 + [0, 1] * 6,
            [0] * 12 + [0, 1] * 6,
            "layers 1 and 2 are joined at the left over a part of their length",
        ),
        (
            ([0, 1, 1, 0] * 2 + [0] * 4) * 4,
            None,
            "layers 1 and 2 are joined at the left only now and then",
        ),
        (
            [0, 1, 1, 0, 0, 2, 2, 0] * 3,
            None,
            "layer 1 is joined at the left to layers 2 and 3 in turn",
        ),
    ],
)
def test_odd_cases_are_named(layers, shuttles, note):
    (piece,) = pieces_of(layers, shuttles)
    assert (piece.kind, piece.folds, piece.note) == ("odd", (), note)


def test_folds_that_cross_lock_the_wefts():
    # Layers 1 and 3 are joined at the left, and so are 2 and 4.
    found = pieces_of([0, 2, 2, 0, 1, 3, 3, 1] * 2, [0, 0, 0, 0, 1, 1, 1, 1] * 2)
    assert [piece.layers for piece in found] == [(0, 2), (1, 3)]
    assert {piece.note for piece in found} == {
        "its folds cross others at the left, so the wefts lock"
    }
    # Side by side, or one within the other, they do not.
    for one, two in (((0, 1), (2, 3)), ((0, 3), (1, 2))):
        layers = [*one, *one[::-1], *two, *two[::-1]] * 2
        found = pieces_of(layers, [0, 0, 0, 0, 1, 1, 1, 1] * 2)
        assert [piece.kind for piece in found] == ["flat", "flat"]


def test_stitched_layers_are_told_by_the_layers_meant():
    found = (Layer((0, 1, 2, 3), (0, 1, 2, 3)), Layer((4, 5), (4, 5)))
    stitched = stitched_layers(found, [0, 1, 0, 1, 2, 2])
    assert stitched == {0: (0, 1)}
    path = follow([0, 0, 0, 0, 1, 1], shuttle_plan([0, 0, 0, 0, 1, 1], "right"))
    assert find_pieces(path, stitched=stitched) == (
        Piece("odd", (0,), (), "layers 1 and 2 are stitched together"),
        Piece("flat", (1,)),
    )


@given(
    st.lists(st.integers(0, 4), min_size=1, max_size=5).flatmap(
        lambda order: st.tuples(st.just(order * 4), st.integers(1, 2))
    ),
    st.sampled_from(["left", "right"]),
)
def test_pieces_against_networkx(case, start):
    layers, count = case
    shuttles = [pick % count for pick in range(len(layers))]
    graph = nx.MultiGraph()
    graph.add_nodes_from(layers)
    last, side, pure = {}, {}, {}
    for layer, shuttle in zip(layers, shuttles, strict=True):
        if shuttle in last:
            edge = last[shuttle], layer
            where = side[shuttle]
            if edge[0] != edge[1] and not graph.has_edge(*edge, key=where):
                graph.add_edge(*edge, key=where)
            pure.setdefault((edge[0], where), set()).add(edge[1])
            pure.setdefault((edge[1], where), set()).add(edge[0])
        last[shuttle] = layer
        side[shuttle] = "left" if side.get(shuttle, start) == "right" else "right"
    found = pieces_of(layers, shuttles, start)
    assert {frozenset(piece.layers) for piece in found} == {
        frozenset(part) for part in nx.connected_components(graph)
    }
    for piece in found:
        part = graph.subgraph(piece.layers)
        regular = all(len(pure.get((n, s), ())) <= 1 for n in part for s in ("left", "right"))
        if piece.kind == "odd":
            assert not regular or "cross" in piece.note
            continue
        assert regular
        assert part.number_of_edges() == len(piece.folds)
        ring = piece.kind == "tube"
        assert len(piece.folds) == len(piece.layers) - (not ring)
        around = [*piece.layers, piece.layers[0]] if ring else piece.layers
        for one, two, fold in zip(around, around[1:], piece.folds, strict=False):
            assert graph.has_edge(one, two, key=fold)
