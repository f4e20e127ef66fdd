"""The sley card and the table of setts as data, against the plan and against the project."""

from fractions import Fraction
from itertools import accumulate

import pytest

from cards.plan_json import plan_data
from cards.project import work_out
from cards.sett_table import sett_table
from cards.sley_card import sley_card
from cards.spec import read_spec
from tests.project.layered_specs import in_inches
from tests.project.worked import outcome_of, project_of
from tests.worked_specs import SPECS

LOOM = {"action": "rising", "shafts": "8", "treadles": "8"}


@pytest.fixture(params=SPECS, ids=lambda path: path.stem)
def outcome(request):
    return work_out(read_spec(request.param))


def test_the_card_has_the_figures_of_the_plan(outcome):
    card, plan = sley_card(outcome.project), plan_data(outcome, drawdown=False)
    sley, warp = plan["sley"], plan["warp"]
    assert (card.ends, card.dents) == (warp["ends"], sley["dents"])
    assert card.pattern == tuple(sley["pattern"])
    assert card.reed * 100 == pytest.approx(sley["reed_per_100mm"])
    assert card.true_sett * 100 == pytest.approx(sley["true_sett_per_100mm"])
    assert card.width == warp["width_in_reed_mm"]
    first = sley["first_dent"]
    assert (card.first.middle, card.first.count) == (first["middle"], first["count"])
    assert card.first.edge_mm == pytest.approx(card.width / 2)
    assert list(card.empty) == sley["empty_dents"]
    assert [(each.side, each.fold) for each in card.edges] == [
        (each["side"], each["fold"]) for each in sley["edges"]
    ]


def test_the_boxes_lead_from_the_first_end_to_the_last(outcome):
    card = sley_card(outcome.project)
    reached = list(accumulate(card.per_dent))
    assert sum(each.dents for each in card.stretches) == card.dents
    assert card.stretches[-1].ends_so_far == card.ends
    for each in card.stretches:
        assert each.ends_so_far == reached[each.dents_so_far - 1]
    kinds = [each.kind for each in card.stretches]
    assert kinds == sorted(kinds, key=["first", "body", "last"].index)
    body = [each for each in card.stretches if each.kind == "body"]
    assert len({(each.dents, each.ends) for each in body[:-1]}) <= 1
    assert len(body) <= 48


def test_whole_layers_are_told_of_dents_that_hold_them(outcome):
    project, card = outcome.project, sley_card(outcome.project)
    if project.cloth.lanes < 2:
        assert card.lanes == ()
        return
    for lane, layer in zip(project.cloth.main.lanes, project.cloth.main.layers, strict=True):
        assert [end for end in range(card.ends) if card.lanes[end] == lane] == list(layer.ends)
    first, last = (len(edge.edge.dents) for edge in card.edges)
    inner = range(first, card.dents - last - (1 if card.remainder else 0))
    whole = all(
        len({[card.lanes[end] for end in card.ends_in(dent)].count(lane)
             for lane in set(card.lanes)}) == 1
        for dent in inner
    )  # fmt: skip
    assert card.whole[0] == whole


def test_layers_that_are_parted_are_told():
    # 24 ends an inch of two layers in a reed of 8: three in a dent.
    parted = sley_card(in_inches({"join": "none"}, loom=LOOM | {"reed": "8 per in"}))
    assert parted.pattern == (3,)
    assert parted.whole == (False, True)
    folded = sley_card(in_inches({"join": "left"}, loom=LOOM | {"reed": "12 per in"}))
    assert folded.whole == (True, False)


def test_floating_selvedges_and_lines_are_no_ends():
    plain = sley_card(project_of(loom=LOOM | {"reed": "12 per in"}))
    floating = sley_card(
        project_of(loom=LOOM | {"reed": "12 per in"}, selvedges={"floating": "yes"})
    )
    assert floating.per_dent == plain.per_dent
    assert floating.stretches == plain.stretches
    assert floating.floating == 2
    assert all(edge.floating for edge in floating.edges)
    lined = sley_card(
        in_inches({"join": "left"}, loom=LOOM | {"reed": "12 per in"}, sley={"fold_line": "yes"})
    )
    assert [edge.line for edge in lined.edges] == [False, True]
    assert sum(lined.per_dent) == lined.ends


def test_a_card_needs_a_reed():
    project = project_of()
    for card in (sley_card, sett_table):
        with pytest.raises(ValueError, match="no reed"):
            card(project)


def test_the_table_has_every_reed_and_marks_the_nearest_sett():
    reeds = ["8 per in", "12 per in", "15 per in", "50 per 10 cm"]
    project = outcome_of(loom=LOOM | {"reeds": reeds}).project
    card = sett_table(project)
    inch = Fraction(254, 10)
    assert [float(reed * inch) for reed in card.reeds] == pytest.approx([8, 12, 12.7, 15])
    assert card.wanted * inch == 24
    assert card.used * inch == 12
    for place in range(len(card.reeds)):
        away = [abs(row.setts[place] - card.wanted) for row in card.rows]
        assert all(away[row] == min(away) for row in card.nearest[place])
    # The sett that is really woven is in the table.
    assert any(
        row.pattern == project.sleying.pattern
        and row.setts[card.reeds.index(card.used)] == project.sleying.true_sett
        for row in card.rows
    )


def test_the_table_without_a_list_has_the_reed_of_the_loom():
    card = sett_table(project_of(loom=LOOM | {"reed": "12 per in"}))
    assert [reed * 254 / 10 for reed in card.reeds] == [12]
