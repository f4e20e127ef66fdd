"""The cloth sheet as data, held against lift tables and drawings made by hand."""

from pathlib import Path

import numpy as np
import pytest

from cards.cloth_sheet import OneLayerOnly, cloth_sheet
from cards.project import work_out
from cards.spec import read_spec
from tests.project.layered_specs import built, everything, written
from tests.project.worked import project_of

SAMPLER = Path(__file__).parents[2] / "specs" / "two-layer-sampler.yaml"
STRAIGHT = "(1 2 3 4) to fill"

# Lifts for n layers of plain weave on 2n shafts, straight draw, first end and start at the right,
# layer k on shafts k and k + n, and the order in which the shuttle enters the layers: the project's
# trade notes, section 5, where they are verified by simulation; the tube's are those of Brooks,
# Cotton Manufacturing, once shafts are renumbered. What stands beside them, where the weft turns
# and whether it changes its layer there, was drawn by hand on squared paper.
TABLES = [
    ("1/123/134/3", STRAIGHT, 4, "ABBA", "left fold, right turn, left fold, right turn"),
    ("1/3/134/123", STRAIGHT, 4, "AABB", "left turn, right fold, left turn, right fold"),
    (
        "1/134/3/123", f"{STRAIGHT}, 1 2 3", 4, "ABAB",
        "left fold, right fold, left fold, right fold",
    ),
    (
        "1/124/12345/12456/145/4", "(1 2 3 4 5 6) to fill", 6, "ABCCBA",
        "left fold, right fold, left turn, right fold, left fold, right turn",
    ),
    (
        "1/125/12356/1234567/1235678/12567/156/5", "(1 2 3 4 5 6 7 8) to fill", 8, "ABCDDCBA",
        "left fold, right fold, left fold, right turn, left fold, right fold, left fold, right turn",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("lifts", "threading", "shafts", "order", "turns"), TABLES)
def test_the_cross_section_is_that_of_the_table(lifts, threading, shafts, order, turns):
    project = written(lifts, threading, shafts, layers=shafts // 2)
    card = cloth_sheet(project)
    (kind,) = card.kinds
    section = kind.section
    assert ["".join(map(str, pick.lift)) for pick in section.picks] == lifts.split("/")
    letters = [layer.letters for layer in kind.layers]
    assert "".join(letters[pick.layer] for pick in section.picks) == order
    assert ", ".join(f"{turn.side} {turn.kind}" for turn in section.turns) == turns
    assert [turn.following for turn in section.turns] == list(range(1, len(section.picks) + 1))
    assert kind.proof.faults == ()
    assert kind.proof.verdict.endswith("no fault")
    half = shafts // 2
    assert [layer.shafts for layer in kind.layers] == [((k, k + half),) for k in range(1, half + 1)]


def test_over_and_under_is_read_from_left_to_right():
    """Four ends at the left edge, first end at the right: shafts 4 3 2 1 from the left, twice."""
    project = written("1/123/134/3", STRAIGHT)
    section = cloth_sheet(project).kinds[0].section
    assert section.rows[:8].tolist() == [1, 0, 1, 0, 1, 0, 1, 0]
    shown = ["".join("^" if up else "." for up in row[:4]) for row in section.raised]
    # By hand: end 4 is leftmost; raise 1 / 1 2 3 / 1 3 4 / 3.
    assert shown == ["...^", ".^^^", "^^.^", ".^.."]


def test_an_even_tube_has_a_doubled_end_at_one_edge():
    """Of an even number of ends two lie side by side at one edge: a rule of the trade notes."""
    kind = cloth_sheet(written("1/123/3/134", STRAIGHT)).kinds[0]
    assert [turn.fault for turn in kind.section.turns] == ["", "doubled", "", "doubled"]
    assert {turn.side for turn in kind.section.turns if turn.fault} == {"right"}
    (told,) = kind.proof.faults
    assert told.startswith("Two ends side by side weave alike where the weft goes from B to A")
    assert "at the right, after picks 2, 4, 6 and" in told


def test_the_opened_cloth_lies_as_it_would_on_a_table():
    """Eight ends, 0 at the right; fold left: B is laid over to the left and shows its back."""
    lifts, threading = "1/123/134/3", "1 2 3 4 1 2 3 4"
    kind = cloth_sheet(written(lifts, threading, warp_order="8 slate")).kinds[0]
    (opened,) = kind.opened
    laid = [1, 3, 5, 7, 6, 4, 2, 0]
    shafts = [int(each) for each in threading.split()]
    one, two, three, four = ([str(shaft) in lift for shaft in shafts] for lift in lifts.split("/"))
    rows = [
        [not two[end] for end in laid[:4]] + [one[end] for end in laid[4:]],
        [not three[end] for end in laid[:4]] + [four[end] for end in laid[4:]],
    ]
    assert opened.weave.cells[:2].tolist() == rows
    # Plain weave throughout: every cell differs from its neighbours, over the fold too.
    cells = opened.weave.cells
    assert (cells[:, 1:] != cells[:, :-1]).all()
    assert (cells[1:] != cells[:-1]).all()
    assert opened.folds == ((4, "left"),)
    assert opened.layers == ((1, True), (0, False))
    assert opened.cut is None


def test_the_underside_is_what_a_mirror_shows():
    project = built(double_weave={"warps": ["slate", "sand"]})
    kind = cloth_sheet(project).kinds[0]
    bottom = kind.layers[-1].face
    assert (kind.underside.cells != bottom.cells).all()
    assert [yarn.key for yarn in kind.underside.warp] == ["sand"] * len(bottom.warp)


def test_sections_that_are_alike_are_one_kind():
    card = cloth_sheet(work_out(read_spec(SAMPLER)).project)
    assert [kind.sections for kind in card.kinds] == [
        ("slate above", "slate above again", "slate to the end"),
        ("sand above", "sand above again"),
    ]
    above, below = card.kinds
    assert above.spans == ((1, 92), (185, 276), (369, 460))
    # The layer keeps its letter when it changes its place.
    assert [layer.letters for layer in above.layers] == ["A", "B"]
    assert [layer.letters for layer in below.layers] == ["B", "A"]
    assert [pick.lift for pick in below.section.picks] == [(2,), (1, 2, 4), (4,), (2, 3, 4)]
    assert above.words == "2 separate cloths"
    assert above.opened == ()


def test_layers_woven_together_keep_their_letters():
    card = cloth_sheet(everything()["bag"])
    base = card.kinds[0]
    (layer,) = base.layers
    assert layer.letters == "A+B"
    assert layer.shafts == ((1, 3), (2, 4))
    # Lifting 13 and 24 in turn joins both layers: the trade notes, verified there.
    assert [pick.lift for pick in base.section.picks] == [(1, 3), (2, 4)]
    assert base.looks == ()
    # From the left, beside the dropped end 4: shafts 3 2 1.
    assert base.section.lanes[:3].tolist() == [0, 1, 0]


def test_how_to_look_underneath():
    """The whole top up is lift 1 3 on four shafts: the trade notes."""
    (look,) = cloth_sheet(written("1/123/134/3", STRAIGHT)).kinds[0].looks
    assert (look.raised, look.shows, look.shafts, look.down) == ("A", "B", (1, 3), (2, 4))
    looks = cloth_sheet(built(3, 6, double_weave={"join": "left"})).kinds[0].looks
    assert [(each.raised, each.shows, each.shafts) for each in looks] == [
        ("A", "B", (1, 4)),
        ("A and B", "C", (1, 2, 4, 5)),
    ]


@pytest.mark.parametrize("project", [pytest.param(p, id=n) for n, p in everything().items()])
def test_the_card_says_what_the_analysis_found(project):
    card = cloth_sheet(project)
    cloth = project.cloth
    spans = sorted(span for kind in card.kinds for span in kind.spans)
    assert spans == [
        (each.first_pick + 1, each.first_pick + each.picks) for each in cloth.stretches
    ]
    for kind in card.kinds:
        section = kind.section
        first = kind.spans[0][0] - 1
        for number, pick in enumerate(section.picks):
            assert frozenset(pick.lift) == project.draft.lifts[first + number]
            assert pick.from_right == cloth.plan.from_right[first + number]
            assert pick.yarn.key == project.draft.weft[first + number]
        raised = project.draft.drawdown[first : first + len(section.picks)]
        if project.warp.first_end == "right":
            raised = np.fliplr(raised)
        assert (section.raised == raised).all()
        # Every end above the pick's layer is up, every one below it down.
        for number, pick in enumerate(section.picks):
            assert section.raised[number][section.rows < pick.layer].all()
            assert not section.raised[number][section.rows > pick.layer].any()
        if section.cycle.whole:
            period_rows = project.draft.lifts[first : kind.spans[0][1]]
            many = len(section.picks)
            assert all(lift == period_rows[place % many] for place, lift in enumerate(period_rows))
        faults = sum(len(each.faults) for each in cloth.stretches)
        assert bool(faults) == any(each.proof.faults for each in card.kinds)


def test_alike_cloths_are_counted_in_words():
    kind = cloth_sheet(everything()["pairs"]).kinds[0]
    assert kind.words == "2 cloths, each 2 widths wide, folded at the left"
    assert [told.split(":")[0] for told in kind.piece_words] == ["A and B", "C and D"]


def test_a_single_layer_has_no_such_sheet():
    project = project_of()
    assert not project.cloth.has_layers
    with pytest.raises(OneLayerOnly, match="single layer"):
        cloth_sheet(project)
