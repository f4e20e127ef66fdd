"""The bill of a project: the yarn that must be bought, and her hours if they cost anything."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal

from cards.calculation.bill import Bill, Sum
from cards.calculation.hours import Hours
from cards.project.model import Totals
from cards.spec import Price, Spec

_CENT = Decimal("0.01")


def bill_of(spec: Spec, totals: Sequence[Totals], hours: Hours) -> Bill:
    """Return the bill of a project; a yarn that need not be bought costs nothing."""
    sums: dict[str, Decimal] = {}
    priced = [each for each in totals if each.yarn.put_up.price is not None]
    # Yarn of which there is enough does not bring a currency of its own in.
    for total in [each for each in priced if each.need.packages] or priced[:1]:
        currency = total.yarn.currency
        sums[currency] = sums.get(currency, Decimal(0)) + (total.need.cost or Decimal(0))
    own = spec.costs.hour
    return Bill(
        yarn=tuple(Sum(amount, currency) for currency, amount in sums.items()),
        missing=tuple(total.yarn.key for total in totals if total.need.cost is None),
        hour=_sum(own),
        hours=_cost_of_hours(own, hours),
        budget=_sum(spec.costs.budget),
    )


def _sum(price: Price | None) -> Sum | None:
    return None if price is None else Sum(price.amount, price.currency)


def _cost_of_hours(price: Price | None, hours: Hours) -> Sum | None:
    if price is None:
        return None
    # Quarters are exact, in binary and in tenths; half a cent is rounded up, as shops do.
    cost = price.amount * Decimal(hours.counted)
    return Sum(cost.quantize(_CENT, ROUND_HALF_UP), price.currency)
