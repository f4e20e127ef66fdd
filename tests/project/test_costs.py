"""Packages, yarn on hand, bills and hours, by hand in exact fractions."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cards.calculation.bill import Bill, Sum
from cards.calculation.bobbins import Bobbin, bobbins
from cards.calculation.hours import Hours, Pace, hours_of, quarter
from cards.calculation.workings import Known, Workings
from cards.calculation.yarn_need import PutUp, need_of
from cards.plan_json import plan_data
from cards.record_sheet import record_sheet
from tests.project.worked import codes, outcome_of, project_of


@given(
    st.integers(1, 5_000),
    st.integers(10, 2_000),
    st.integers(0, 30),
    st.integers(0, 3_000),
    st.integers(1, 500),
    st.decimals("0.01", "99.99", places=2),
)
def test_what_is_bought_and_left_over(metres, tex, margin, on_hand, package, price):
    """By the rule: need with margin, less what is on hand, up to whole packages."""
    need = need_of(
        metres * 1000.0, tex, margin / 100, PutUp(mass=package, price=price), float(on_hand)
    )
    mass = Fraction(metres * tex, 1000)
    wanted = mass * (100 + margin) / 100 - on_hand
    packages = max(0, -(-wanted // package))
    assert need.packages == packages
    assert need.buy == pytest.approx(float(max(wanted, 0)), abs=1e-6)
    assert need.cost == packages * price
    assert need.left == pytest.approx(float(packages * package + on_hand - mass), abs=1e-6)


def test_packages_by_length_less_what_is_on_hand():
    """1000 yd needed with 10 % and 200 yd on hand leave 900 yd: two packages of 560 yd."""
    tex, yard = 148.0, 914.4
    on_hand = 200 * yard * tex / 1e6
    need = need_of(1000 * yard, tex, 0.10, PutUp(length=560 * yard, price=Decimal("7.30")), on_hand)
    assert (need.packages, need.cost) == (2, Decimal("14.60"))
    assert need.left / tex * 1e6 / yard == pytest.approx(2 * 560 + 200 - 1000)


def test_without_a_put_up_what_is_left_is_not_known():
    need = need_of(1e6, 100.0, 0.1, PutUp(), 20.0)
    assert (need.buy, need.packages, need.left) == (pytest.approx(90.0), None, None)


def test_parts_of_a_yarn_know_nothing_of_what_is_on_hand():
    project = project_of(yarns={"natural": {"size": "Ne 8/2", "put_up": "8 oz", "on_hand": "1 kg"}})
    (warp,), (weft,) = project.warp.by_yarn, project.weft.by_yarn
    assert warp.need.on_hand == weft.need.on_hand == 0.0
    assert warp.need.packages > 0
    assert weft.need.packages > 0
    assert project.totals[0].need.packages < warp.need.packages + weft.need.packages


def test_yarn_on_hand_by_length_and_by_mass():
    yarns = {"natural": {"size": "Ne 8/2", "on_hand": "3360 yd"}}
    # Ne 8/2 has 3360 yd to the pound.
    assert project_of(yarns=yarns).totals[0].need.on_hand == pytest.approx(453.59237, rel=1e-6)


sums = st.lists(
    st.tuples(st.sampled_from(["EUR", "USD", "£", ""]), st.decimals("0.01", "500", places=2)),
    min_size=1,
    max_size=5,
)


@given(sums, st.none() | st.decimals("0.01", "90", places=2))
def test_sums_of_a_bill(amounts, hours):
    yarn = tuple(Sum(amount, currency) for currency, amount in amounts)
    cost = Sum(hours, "EUR") if hours is not None else None
    bill = Bill(yarn, (), hours=cost, budget=Sum(Decimal(100), "EUR"))
    every = {currency for currency, _ in amounts} | ({"EUR"} if cost else set())
    if len(every) > 1:
        assert bill.total is None
        assert bill.over is None
        return
    whole = sum((amount for _, amount in amounts), Decimal(0)) + (hours or 0)
    assert bill.total == Sum(whole, next(iter(every)))
    assert bill.over == (whole - 100 if every == {"EUR"} else None)


def test_several_currencies_have_a_sum_each_and_no_total():
    yarns = {
        "slate": {"size": "Ne 8/2", "put_up": "50 g", "price": "EUR 4.10"},
        "sand": {"size": "Ne 8/2", "put_up": "50 g", "price": "USD 5.05"},
        "rust": {"size": "Ne 8/2", "put_up": "50 g"},
    }
    project = project_of(
        yarns=yarns, warp_order="(2 slate, 2 sand) to fill", weft_order="slate, rust"
    )
    bought = {total.yarn.key: total.need.packages for total in project.totals}
    assert project.bill.yarn == (
        Sum(bought["slate"] * Decimal("4.10"), "EUR"),
        Sum(bought["sand"] * Decimal("5.05"), "USD"),
    )
    assert project.bill.missing == ("rust",)
    assert project.bill.total is None


def test_yarn_of_which_there_is_enough_costs_nothing_and_brings_no_currency():
    yarns = {
        "slate": {"size": "Ne 8/2", "put_up": "50 g", "price": "EUR 4.10"},
        "sand": {"size": "Ne 8/2", "put_up": "50 g", "price": "USD 5.05", "on_hand": "2 kg"},
    }
    project = project_of(yarns=yarns, warp_order="slate", weft_order="sand")
    assert [each.currency for each in project.bill.yarn] == ["EUR"]
    assert project.cost == project.bill.total.amount


def known(value):
    return Known(value, "given")


@given(
    st.integers(0, 2000), st.integers(0, 2000), st.integers(0, 20_000),
    st.tuples(st.integers(1, 500), st.integers(1, 500), st.integers(1, 2000)),
)  # fmt: skip
def test_hours(wound, dressed, picks, paces):
    pace = Pace(*map(known, paces))
    hours = hours_of(wound, dressed, picks, pace, Workings())
    parts = [Fraction(wound, paces[0]), Fraction(dressed, paces[1]), Fraction(picks, paces[2])]
    assert hours.total == pytest.approx(float(sum(parts)))
    # A quarter more or less is as near as anybody knows.
    assert abs(hours.counted - float(sum(parts))) <= 3 * 0.25
    assert hours.counted * 4 == int(hours.counted * 4)


def test_quarters_and_their_cost_are_exact():
    yarns = {"natural": {"size": "Ne 8/2", "put_up": "8 oz", "price": "USD 10"}}
    pace = {"winding": "100", "dressing": "50", "weaving": "500"}
    loom = {"action": "rising", "shafts": "4", "treadles": "6", "pace": pace}
    project = project_of(yarns=yarns, loom=loom, costs={"hour": "USD 12.50"})
    hours = project.hours
    assert isinstance(hours, Hours)
    counted = [quarter(each) for each in (hours.winding, hours.dressing, hours.weaving)]
    assert hours.winding == project.warp.wound / 100
    assert project.bill.hours.amount == Decimal("12.50") * Decimal(sum(counted))
    packages = project.totals[0].need.packages
    assert project.bill.total.amount == packages * 10 + project.bill.hours.amount


def test_picks_of_all_layers_and_of_the_sample_take_time():
    pace = {"weaving": "100"}
    loom = {"action": "rising", "shafts": "4", "treadles": "6", "pace": pace}
    project = project_of(loom=loom, cloth={"width": "27 in", "length": "20 in", "pieces": "2"})
    weft = project.weft
    assert weft.sample_picks > 0
    assert project.hours.weaving == (2 * weft.picks_each + weft.sample_picks) / 100


@given(st.integers(1, 4000), st.integers(20, 800), st.integers(5, 60))
def test_bobbins(metres, tex, grams):
    mass = Fraction(metres * tex, 1000)
    assert bobbins(metres * 1000.0, tex, Bobbin(grams)) == -(-mass // grams)


def test_the_plan_as_data_keeps_its_keys_and_has_the_new_ones():
    yarns = {"natural": {"size": "Ne 8/2", "put_up": "8 oz", "price": "USD 10", "on_hand": "5 oz"}}
    data = plan_data(outcome_of(yarns=yarns, costs={"budget": "USD 90"}))
    (yarn,) = data["yarns"]
    assert yarn["on_hand_g"] == pytest.approx(5 * 28.349523125)
    assert yarn["left_over_g"] >= 0
    assert data["cost"] == yarn["cost"] == data["bill"]["total"]["cost"]
    assert data["bill"]["over_budget"] == data["cost"] - 90
    assert data["hours"]["pace"]["weaving_picks"]["origin"] == "assumed"
    assert data["hours"]["pace"]["weaving_picks"]["source"] == "common practice, no source"
    assert [each["size"] for each in data["most"]] == ["length", "width", "pieces"]


def test_one_dye_lot():
    yarn = {"size": "Ne 8/2", "put_up": "8 oz", "on_hand": "8 oz", "lot": "A 7"}
    outcome = outcome_of(yarns={"natural": yarn})
    note = next(each for each in outcome.findings if each.code == "dye-lots")
    assert "lot A 7" in note.mend
    enough = outcome_of(yarns={"natural": yarn | {"on_hand": "5 lb"}})
    assert not {"dye-lots", "on-hand-too-little"} & set(codes(enough))


def _cost_on_record(project):
    figures = [each for group in record_sheet(project).groups for each in group.rows]
    (cost,) = [each for each in figures if each.name == "cost"]
    return cost.kept.planned


def test_the_record_names_no_cost_that_leaves_something_out():
    priced = {"fibre": "cotton", "size": "Ne 8/2", "put_up": "8 oz", "price": "10 EUR"}
    orders = {"warp_order": "sand", "weft_order": "slate"}
    other = {key: priced[key] for key in ("fibre", "size", "put_up")}
    costs = {"hour": "12 EUR"}
    full = project_of(yarns={"sand": priced, "slate": priced}, costs=costs, **orders)
    assert _cost_on_record(full) == f"EUR {full.bill.total.amount:.2f}"
    part = project_of(yarns={"sand": priced, "slate": other}, costs=costs, **orders)
    assert _cost_on_record(part) == ""
    costs = {"hour": "12 CHF"}
    abroad = project_of(yarns={"sand": priced, "slate": priced}, costs=costs, **orders)
    assert _cost_on_record(abroad).endswith(f" + CHF {abroad.bill.hours.amount:.2f}")
