"""The comparison as data: names of weaves, finished sizes, marks of rows, alignment."""

import json
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cards.compare_data import compare_data
from cards.compare_rows import Cell, _marked
from cards.compare_sheet import SEVERAL, compare_sheet
from cards.compare_table import compare_table, tail
from cards.compared import cloth_words, compared_of, finished_of, troubles, yarns_apart
from cards.figures import Figures
from cards.plan_json import plan_data
from cards.project import work_out
from cards.project.candidates import work_out_candidates
from cards.spec import read_spec
from cards.weave_names import weave_name
from tests.project.worked import outcome_of
from tests.worked_specs import FOLDER, LAYERED, SPECS

THROW = FOLDER / "throw-three-ways.yaml"


def compared(path=THROW):
    return [compared_of(each.name, each.outcome) for each in work_out_candidates(read_spec(path))]


def row(card, name):
    return next(row for part in card.parts for row in part.rows if row.name == name)


@pytest.mark.parametrize("shift", [1, -1])
@pytest.mark.parametrize(
    ("runs", "name"),
    [("10", "plain weave"), ("1100", "2/2 twill"), ("1000", "1/3 twill"), ("110", "2/1 twill"),
     ("11010", ""), ("1110001", "4/3 twill")],
)  # fmt: skip
def test_a_weave_is_named_by_what_its_ends_do(runs, name, shift):
    once = np.array([each == "1" for each in runs])
    cells = np.array(
        [[once[(pick + shift * end) % len(runs)] for end in range(40)] for pick in range(40)]
    )
    assert weave_name(cells) == name
    # A single end drawn otherwise, and there is no such weave.
    cells[:, 20] = cells[:, 19]
    assert weave_name(cells) == ""


@given(st.integers(0, 6), st.integers(0, 6), st.integers(0, 2**36 - 1))
def test_any_small_drawdown_is_named_or_not(picks, ends, bits):
    cells = np.array([bool(bits >> each & 1) for each in range(picks * ends)], dtype=bool)
    assert isinstance(weave_name(cells.reshape(picks, ends)), str)


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_the_finished_size_is_what_the_spec_asks_for(path):
    """Ends and picks are whole, and a fringe may need a few more: a twentieth is too much."""
    reading = read_spec(path)
    outcome = work_out(reading)
    cloth = reading.spec.cloth
    sizes = finished_of(compared_of("x", outcome))
    assert len(sizes) == max(1, len(reading.spec.pieces))
    for size, kind in zip(sizes, reading.spec.pieces or [None], strict=True):
        asked = (kind.length if kind else None) or cloth.length
        assert size.length == pytest.approx(asked, rel=0.05)
        assert size.width == pytest.approx(cloth.width or cloth.circumference / 2, rel=0.05)
    assert sum(size.number for size in sizes) == outcome.project.pieces


def test_folds_lie_between_equal_widths():
    found = {
        path.stem: finished_of(compared_of("x", work_out(read_spec(path))))[0] for path in LAYERED
    }
    for name, number in (("double-width-throw", 1), ("triple-width-banner", 2)):
        size = found[name]
        edges = [0.0, *size.folds, size.width]
        steps = [right - left for left, right in pairwise(edges)]
        assert steps == pytest.approx([size.width / (number + 1)] * (number + 1))
    tube = found["cushion-cover"]
    assert tube.folds == (0.0, tube.width)
    assert (found["two-runners"].folds, found["two-runners"].sheets) == ((), 2)


def test_words_for_the_cloth():
    assert [each.cloth for each in compared()] == [("2/2 twill",)] * 4
    runners = work_out(read_spec(FOLDER / "two-runners.yaml")).project
    assert cloth_words(runners) == ["2 layers at once: 2 separate cloths"]


def test_least_and_most_are_those_of_what_is_printed():
    cells = _marked(Cell((f"{each:.0f}",), each) for each in (3.4, 9.0, 2.6, 8.9))
    assert [cell.mark for cell in cells] == ["least", "most", "least", "most"]
    alike = _marked(Cell((f"{each:.0f}",), each) for each in (3.4, 2.6))
    assert [cell.mark for cell in alike] == ["", ""]
    gap = _marked([Cell(("–",)), Cell(("3",), 3.0), Cell(("5",), 5.0)])
    assert [cell.mark for cell in gap] == ["", "least", "most"]


def test_the_data_are_those_of_the_plan_of_each_candidate():
    made = compared()
    for each, data in zip(made, compare_data(made)["candidates"], strict=True):
        plan = plan_data(each.outcome, drawdown=False)
        warp = plan["warp"]
        assert data["candidate"] == each.name
        assert (data["ends"], data["width_in_reed_mm"], data["warp_length_mm"]) == (
            warp["ends"], warp["width_in_reed_mm"], warp["length_mm"],
        )  # fmt: skip
        assert data["warp_yarn_mm"] == sum(share["length_mm"] for share in warp["by_yarn"])
        assert data["weft_yarn_mm"] == sum(share["length_mm"] for share in plan["weft"]["by_yarn"])
        assert data["buy_g"] == sum(yarn["buy_g"] for yarn in plan["yarns"])
        assert data["yarn_cost"] == [{"amount": plan["cost"], "currency": "EUR"}]
        assert data["sett_layer_per_100mm"] == plan["sett"]["layer_per_100mm"]
        assert data["fits"] is True
        assert data["errors"] == []
    json.dumps(compare_data(made))


def test_setts_of_the_throw_by_hand():
    """About 60 to 70 % of the closest: D = K √(yd/lb), a 2/2 twill D × 4/6.

    Ashenhurst with K of the notes: 0.90 for worsted and alpaca; for cotton the 0.90 by which
    8/2 gives 52 ends to the inch. Yards per pound: Nm × 496.05, Ne × 840.
    """
    sizes = {"fine wool": 16 / 2 * 496.05, "cotton": 8 / 2 * 840, "alpaca": 12 / 2 * 496.05}
    data = {each["candidate"]: each for each in compare_data(compared())["candidates"]}
    for name, yards in sizes.items():
        most = 0.90 * yards**0.5 * 4 / 6
        inch = data[name]["sett_layer_per_100mm"] * 0.254
        assert 0.60 <= inch / most <= 0.70, name


def test_a_candidate_that_does_not_fit_says_by_how_much():
    wide = outcome_of(loom={"action": "rising", "shafts": "4", "treadles": "6", "width": "20 in"})
    over = wide.warp.width_in_reed - 508
    words = troubles(compared_of("x", wide), Figures("metric"))
    assert words == [f"{over / 10:.1f} cm too wide for the loom"]
    nothing = outcome_of(sett=None)
    assert len(troubles(compared_of("x", nothing), Figures("metric"))) >= 1
    data = compare_data([compared_of("x", nothing), compared_of("y", wide)])["candidates"]
    assert [each["fits"] for each in data] == [False, False]
    assert "ends" not in data[0]
    assert data[1]["ends"] == wide.warp.ends
    with pytest.raises(ValueError, match="none"):
        compare_sheet([compared_of("x", nothing)])


def test_what_projects_have_in_common_heads_the_sheet():
    one = compare_sheet(compared())
    assert (one.heading.title, one.heading.code) == ("Headland throw", "FW-021")
    others = [compared_of("a", work_out(read_spec(path))) for path in SPECS[:2]]
    both = compare_sheet(others)
    assert (both.heading.title, both.heading.code) == (SEVERAL, "")


def test_prices_missing_and_in_two_currencies():
    yarn = {"fibre": "cotton", "size": "Ne 8/2", "put_up": "8 oz"}
    prices = ({"price": "EUR 9"}, {"price": "USD 7"}, {})
    made = [
        compared_of(str(place), outcome_of(yarns={"natural": {**yarn, **price}}))
        for place, price in enumerate(prices)
    ]
    card = compare_sheet(made)
    euros = [cell.number for cell in row(card, "cost of yarn, EUR").cells]
    dollars = [cell.number for cell in row(card, "cost of yarn, USD").cells]
    needed = made[0].project.totals[0].need.packages
    assert euros == [9.0 * needed, None, None]
    assert dollars == [None, 7.0 * needed, None]
    assert [cell.lines for cell in row(card, "no price for").cells] == [
        ("–",),
        ("–",),
        ("natural",),
    ]


@pytest.mark.parametrize("width", [45, 60, 80, 100, 160, 240])
def test_no_line_of_the_table_is_too_long_and_none_is_lost(width):
    made = compared()
    table = compare_table(compare_sheet(made), width)
    assert max(map(len, table.splitlines())) <= width
    for each in made:
        for figure in (each.project.warp.ends, f"{each.project.warp.width_in_reed / 10:.1f}"):
            assert str(figure) in table
    # The heads of the rows stand again in every further table.
    assert table.count("length of the warp") == table.count("The finished cloth") >= 1


def test_figures_of_a_row_stand_in_line():
    made = compared()
    lines = compare_table(compare_sheet(made), 160).splitlines()
    line = next(each for each in lines if "cost of yarn" in each)
    other = next(each for each in lines if "length of the warp" in each)
    points = [place for place, letter in enumerate(line) if letter == "."]
    steps = {right - left for left, right in pairwise(points)}
    assert len(points) == len(made)
    assert len(steps) == 1
    assert len([letter for letter in other if letter == "."]) == len(made)


@given(st.integers(0, 99_999), st.sampled_from(["", ".5", ".25", " ½", "⅞"]))
def test_the_tail_of_a_figure_is_what_follows_its_whole_number(whole, end):
    assert tail(f"{whole}{end}") == end


def test_yarns_that_are_not_alike_are_told_apart_without_their_colour():
    """Three specs whose only yarn is the first, with the same letter; two of them are one yarn."""
    yarn = {"fibre": "cotton", "size": "Ne 8/2", "put_up": "8 oz"}
    made = [
        compared_of(str(place), outcome_of(yarns={"natural": {**yarn, "colour": colour}}))
        for place, colour in enumerate(("#112233", "#445566", "#112233"))
    ]
    assert len({each.project.totals[0].yarn.letter for each in made}) == 1
    told = [each.project.totals[0].yarn for each in yarns_apart(made)]
    assert told[0] == told[2]
    assert told[0].letter != told[1].letter
    assert told[0].hatch != told[1].hatch
    many = [
        compared_of(
            str(place), outcome_of(yarns={"natural": {**yarn, "colour": f"#0000{place:02x}"}})
        )
        for place in range(40)
    ]
    letters = [each.project.totals[0].yarn.letter for each in yarns_apart(many)]
    assert len(set(letters)) == 40
    assert all(len(letter) <= 2 for letter in letters)


def test_what_is_compared_keeps_no_drawdown():
    assert {each.project.draft.drawdown.size for each in compared()} == {0}


def test_work_is_paid_though_a_price_of_yarn_is_missing():
    costs = {"hour": "EUR 20"}
    yarn = {"fibre": "cotton", "size": "Ne 8/2", "put_up": "8 oz"}
    priced = {"natural": {**yarn, "price": "EUR 9"}}
    made = [
        compared_of("a", outcome_of(costs=costs, yarns=priced)),
        compared_of("b", outcome_of(costs=costs)),
    ]
    card = compare_sheet(made)
    work = row(card, "cost of work, EUR").cells
    assert [cell.number for cell in work] == [20 * each.project.hours.counted for each in made]
    assert row(card, "yarn and work, EUR").cells[1].number is None
    assert row(card, "cost of yarn, EUR").cells[1].number is None


def test_every_figure_of_a_row_has_the_unit_that_stands_in_its_head():
    """A mass of less than a pound stands beside one of several; both are ounces."""
    small = outcome_of(cloth={"width": "5 in", "length": "9 in"})
    card = compare_sheet([compared_of("a", small), compared_of("b", outcome_of())])
    masses = row(card, "yarn to buy")
    assert masses.unit == "oz"
    for cell in masses.cells:
        assert float(cell.lines[0]) == pytest.approx(cell.number / 28.349523125, abs=0.1)


def test_enough_on_hand_is_no_package_and_work_is_only_where_it_is_paid():
    shelf = {"size": "Ne 8/2", "on_hand": "5 kg"}
    sold = {"size": "Ne 8/2", "put_up": "8 oz", "price": "$9"}
    candidates = (
        compared_of("shelf", outcome_of(yarns={"natural": shelf})),
        compared_of("shop", outcome_of(yarns={"natural": sold})),
        compared_of("paid", outcome_of(yarns={"natural": sold}, costs={"hour": "$10"})),
    )
    card = compare_sheet(candidates)
    packages = [cell.lines for cell in row(card, "packages").cells]
    assert packages[0] == ("enough on hand",)
    assert packages[1] == packages[2] != packages[0]
    work = [cell.lines for cell in row(card, "yarn and work, $").cells]
    assert work[:2] == [("–",), ("–",)]
    assert work[2] != ("–",)
