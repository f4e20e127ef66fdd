"""Findings about yarn on hand and money: too little, too dear, or of several dye lots."""

from __future__ import annotations

from collections.abc import Sequence

from cards.calculation.bill import Bill, Sum
from cards.figures import money
from cards.project.model import MostOf, Totals
from cards.project.problems import Problems


def check_costs(
    totals: Sequence[Totals],
    bill: Bill,
    asked: MostOf | None,
    problems: Problems,
) -> None:
    """Tell yarn on hand that is too little, packages that join it, and a budget too small.

    `asked` is the size that is to be the most; where its value is 0 nothing can be woven.
    """
    nothing = asked is not None and not asked.value
    for total in totals:
        if total.need.on_hand and total.need.buy:
            _too_little(total, asked if nothing else None, problems)
            _dye_lots(total, problems)
    if bill.budget is not None:
        _check_budget(totals, bill, bill.budget, problems, nothing=nothing)
    if nothing and asked is not None and not problems.has_errors:
        message = f"not even the least {_size(asked)} can be woven: {asked.limit}"
        problems.error("nothing-fits", message, "there must be more of it", "cloth", "most")


def _size(most: MostOf) -> str:
    return "piece" if most.size in {"length", "pieces"} else "width"


def _too_little(total: Totals, asked: MostOf | None, problems: Problems) -> None:
    """Tell how much is missing; an error where the most was asked for and nothing comes of it."""
    need, yarn, figures = total.need, total.yarn, problems.figures
    short = figures.both("mass", need.buy)
    path = ("yarns", yarn.key, "on_hand")
    bought = f"buy {short}"
    if need.packages:
        bought = f"buy {need.packages} × {yarn.put_up_text}"
    if asked is not None:
        least = f"even the least {_size(asked)}"
        message = f"{yarn.name}: what is on hand does not make {least}, for {short} are missing"
        problems.error("on-hand-too-little", message, bought, *path)
        return
    message = f"{yarn.name}: there is {short} less on hand than is needed with the buying margin"
    mend = f"{bought}; or let `most: length` in the cloth find how long it may be"
    problems.note("on-hand-too-little", message, mend, *path)


def _dye_lots(total: Totals, problems: Problems) -> None:
    yarn = total.yarn
    if not total.need.packages:
        return
    message = f"packages of {yarn.name} may be of another dye lot than what is on hand"
    mend = f"ask for lot {yarn.lot}" if yarn.lot else "take some of it to the shop to compare"
    problems.note(
        "dye-lots", message, f"{mend}; else keep the two apart", "yarns", yarn.key, "on_hand"
    )


def _check_budget(
    totals: Sequence[Totals], bill: Bill, budget: Sum, problems: Problems, *, nothing: bool
) -> None:
    tell = problems.error if nothing else problems.warning
    path = ("costs", "budget")
    limit = money(budget.amount, budget.currency)
    for total in totals:
        price = total.yarn.put_up.price
        same = total.yarn.currency == budget.currency
        if total.need.packages and same and price is not None and price > budget.amount:
            package = f"one package of {total.yarn.name} costs {money(price, budget.currency)}"
            message = f"{package}, and the budget is {limit}"
            tell("budget-too-small", message, "allow more, or take another yarn", *path)
            return
    total_sum, over = bill.total, bill.over
    if total_sum is None or over is None:
        message, mend = _unknown(totals, bill)
        problems.warning("budget-unknown", message, mend, *path)
    elif over > 0:
        what = "yarn and hours cost" if bill.hours is not None else "the yarn costs"
        message = f"{what} {money(total_sum.amount, total_sum.currency)}, the budget is {limit}"
        mend = "allow more, or let `most: length` in the cloth find how long it may be"
        tell("budget-too-small", message, mend, *path)


def _unknown(totals: Sequence[Totals], bill: Bill) -> tuple[str, str]:
    """Return why cost and budget cannot be compared, and what to do."""
    message = "the cost cannot be held against the budget"
    if bill.missing:
        names = {total.yarn.key: total.yarn.name for total in totals}
        return f"{message}: {names[bill.missing[0]]} has no price", "add its put-up and its price"
    return f"{message}: not all is in one currency", "write all in the currency of the budget"
