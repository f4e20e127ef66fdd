"""The steps from packages and hours to what is to be paid, in each currency by itself."""

from __future__ import annotations

from collections.abc import Sequence

from cards.calculation.bill import Bill, Sum
from cards.calculation.hours import Hours, quarter
from cards.calculation.workings import Inputs, Workings
from cards.project.model import Totals


def record_bill(bill: Bill, totals: Sequence[Totals], hours: Hours, work: Workings) -> None:
    """Write the sums of a bill into the workings; yarns go by the letters on their patches."""
    _record_hours(hours, work)
    work.begin("cost")
    for amount in bill.yarn:
        _record_yarn(amount, totals, bill, work)
    if bill.hours is None or bill.hour is None:
        _record_budget(bill, work)
        return
    work.worked(
        "cost of the hours",
        "hours × price of an hour",
        (("hours", hours.counted, "hours"), ("price of an hour", float(bill.hour.amount), "cost")),
        float(bill.hours.amount),
        "cost",
        currency=bill.hours.currency,
    )
    _record_total(bill, bill.hours, work)
    _record_budget(bill, work)


def _record_hours(hours: Hours, work: Workings) -> None:
    """Write the hours in all, each of them in whole quarters, as they are paid and planned."""
    work.begin("hours")
    parts = (("winding", hours.winding), ("dressing", hours.dressing), ("weaving", hours.weaving))
    inputs: Inputs = tuple((name, quarter(each), "hours") for name, each in parts if each)
    formula = " + ".join(name for name, _, _ in inputs)
    work.worked("hours in all", formula, inputs, hours.counted, "hours")


def _record_yarn(amount: Sum, totals: Sequence[Totals], bill: Bill, work: Workings) -> None:
    """Write the cost of all yarn in one currency; of a single one it is written already."""
    bought: Inputs = tuple(
        (f"cost of {total.yarn.letter}", float(total.need.cost), "cost")
        for total in totals
        if total.need.packages
        and total.need.cost is not None
        and total.yarn.currency == amount.currency
    )
    if len(bought) < 2:
        return
    named = f" in {amount.currency}" if len(bill.yarn) > 1 and amount.currency else ""
    without = [total.yarn.name for total in totals if total.yarn.key in bill.missing]
    work.worked(
        f"cost of all yarn{named}",
        " + ".join(name for name, _, _ in bought),
        bought,
        float(amount.amount),
        "cost",
        note=f"without {', '.join(without)}: no price" if without else "",
        currency=amount.currency,
    )


def _record_total(bill: Bill, hours: Sum, work: Workings) -> None:
    total = bill.total
    if total is None or len(bill.yarn) != 1:
        return
    work.worked(
        "cost of yarn and hours",
        "cost of yarn + cost of the hours",
        (
            ("cost of yarn", float(bill.yarn[0].amount), "cost"),
            ("cost of the hours", float(hours.amount), "cost"),
        ),
        float(total.amount),
        "cost",
        currency=total.currency,
    )


def _record_budget(bill: Bill, work: Workings) -> None:
    """Write what is left of the budget, where the sums can be held against it."""
    if bill.budget is None or bill.total is None or bill.over is None:
        return
    over = bill.over > 0
    work.worked(
        "over the budget" if over else "left of the budget",
        "cost − budget" if over else "budget − cost",
        (("budget", float(bill.budget.amount), "cost"), ("cost", float(bill.total.amount), "cost")),
        float(abs(bill.over)),
        "cost",
        currency=bill.total.currency,
    )
