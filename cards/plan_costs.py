"""Money, hours and bobbins as data, for the plan."""

from __future__ import annotations

from typing import Any

from cards.calculation.bill import Sum
from cards.calculation.bobbins import bobbins
from cards.calculation.workings import Known
from cards.cost_words import weft_lengths
from cards.project.model import MostOf, Project

Data = dict[str, Any]


def bill_data(project: Project) -> Data:
    """Return sums by currency, the cost of hours, and the total where there is one."""
    bill = project.bill
    return {
        "yarn": [_sum(each) for each in bill.yarn],
        "missing": list(bill.missing),
        "hour": _sum(bill.hour),
        "hours": _sum(bill.hours),
        "total": _sum(bill.total),
        "budget": _sum(bill.budget),
        "over_budget": None if bill.over is None else float(bill.over),
    }


def _sum(amount: Sum | None) -> Data | None:
    return None if amount is None else {"cost": float(amount.amount), "currency": amount.currency}


def hours_data(project: Project) -> Data:
    """Return the hours as reckoned, as they are counted in quarters, and the pace."""
    hours = project.hours
    return {
        "winding": hours.winding,
        "dressing": hours.dressing,
        "weaving": hours.weaving,
        "total": hours.total,
        "counted": hours.counted,
        "pace": {
            "winding_ends": _pace(hours.pace.winding),
            "dressing_ends": _pace(hours.pace.dressing),
            "weaving_picks": _pace(hours.pace.weaving),
        },
    }


def _pace(pace: Known) -> Data:
    return {
        "an_hour": pace.value,
        "origin": pace.origin,
        "source": pace.source,
        "low": pace.low,
        "high": pace.high,
    }


def bobbins_data(project: Project) -> Data:
    """Return what a bobbin holds, and how many each weft yarn fills."""
    bobbin = project.bobbin
    return {
        "mass_g": bobbin.mass,
        "length_mm": bobbin.length,
        "origin": bobbin.origin,
        "by_yarn": [
            {"yarn": yarn.key, "bobbins": bobbins(length, yarn.tex, bobbin)}
            for yarn, length in weft_lengths(project)
        ],
    }


def most_data(project: Project) -> list[Data]:
    """Return the most of each size; lengths and widths in mm."""
    return [_most(each) for each in project.most]


def asked_data(project: Project) -> Data | None:
    """Return the size that was to be the most, None where all sizes were written."""
    return None if project.asked is None else _most(project.asked)


def _most(most: MostOf) -> Data:
    value = int(most.value) if most.size == "pieces" else most.value
    key = "pieces" if most.size == "pieces" else f"{most.size.partition(',')[0]}_mm"
    return {"size": most.size, key: value, "limit": most.limit}
