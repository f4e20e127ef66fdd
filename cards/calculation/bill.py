"""What is to be paid: yarn by currency, hours, and both together where they can be added.

Sums of several currencies are never added up: nobody knows the rate of the day. Amounts are exact
decimals, as the prices are written.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class Sum:
    """An amount and its currency as written, empty if it was not."""

    amount: Decimal
    currency: str


@dataclass(frozen=True, slots=True)
class Bill:
    """What is to be paid.

    `yarn` has a sum for each currency, in the order of the yarns. `missing` are the keys of yarns
    that must be bought and whose cost is not known. `hour` and `hours` are the price of an hour
    and the cost of all, None where an hour costs nothing; `budget` is the most that may be spent.
    """

    yarn: tuple[Sum, ...]
    missing: tuple[str, ...]
    hour: Sum | None = None
    hours: Sum | None = None
    budget: Sum | None = None

    @property
    def total(self) -> Sum | None:
        """Return everything together; None where a cost is missing or currencies differ."""
        parts = [each for each in (*self.yarn, self.hours) if each is not None]
        if self.missing or len({each.currency for each in parts}) != 1:
            return None
        return Sum(sum((each.amount for each in parts), Decimal(0)), parts[0].currency)

    @property
    def over(self) -> Decimal | None:
        """Return by how much the total is over the budget, None where they cannot be compared."""
        total, budget = self.total, self.budget
        if total is None or budget is None or total.currency != budget.currency:
            return None
        return total.amount - budget.amount
