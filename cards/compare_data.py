"""The comparison as data: what `loomfolio compare --json` gives, an entry for each candidate.

Lengths are mm, masses g, densities threads per 100 mm, as in the plan of each candidate.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from cards.calculation.bill import Sum
from cards.compare_rows import closeness, loom_of, mean_weight, warp_yarn, weft_yarn
from cards.compared import Compared, finished_of
from cards.project import Project

Data = dict[str, Any]


def compare_data(compared: Sequence[Compared]) -> Data:
    """Return every candidate in order, with its errors and, where it was worked out, its plan."""
    return {"candidates": [_candidate(each) for each in compared]}


def _candidate(compared: Compared) -> Data:
    outcome, project = compared.outcome, compared.project
    data: Data = {
        "candidate": compared.name,
        "errors": [
            {"code": each.code, "message": each.message}
            for each in outcome.findings
            if each.level == "error"
        ],
        "warnings": compared.warnings,
        "fits": project is not None and not outcome.has_errors,
    }
    return data if project is None else data | _plan(compared, project)


def _plan(compared: Compared, project: Project) -> Data:
    warp, sett, bill = project.warp, project.sett, project.bill
    return {
        "title": project.info.title,
        "units": project.units,
        "sizes": [
            {
                "piece": each.name or None,
                "number": each.number,
                "width_mm": each.width,
                "length_mm": each.length,
                "fringe_mm": each.fringe,
            }
            for each in finished_of(compared)
        ],
        "cloth": "; ".join(compared.cloth),
        "cloth_weight_g_m2": mean_weight(project),
        "layers": sett.layers,
        "sett_layer_per_100mm": sett.ends_layer * 100,
        "sett_share": closeness(project),
        "picks_layer_per_100mm": sett.picks_layer * 100,
        "ends": warp.ends,
        "floating_selvedges": warp.floating,
        "width_in_reed_mm": warp.width_in_reed,
        "warp_length_mm": warp.length,
        "warp_yarn_mm": warp_yarn(project),
        "weft_yarn_mm": weft_yarn(project),
        "yarns": [
            {
                "yarn": total.yarn.key,
                "name": total.yarn.name,
                "size": total.yarn.size,
                "mass_g": total.need.mass,
                "buy_g": total.need.buy,
                "packages": total.need.packages,
            }
            for total in project.totals
        ],
        "buy_g": sum(total.need.buy for total in project.totals),
        "yarn_cost": [_sum(each) for each in bill.yarn],
        "no_price": list(bill.missing),
        "hours": project.hours.counted,
        "work_cost": _sum(bill.hours) if bill.hours else None,
        "cost": _sum(bill.total) if bill.total else None,
        "loom": loom_of(project),
        "loom_width_mm": project.loom_width,
    }


def _sum(money: Sum) -> Data:
    return {"amount": float(money.amount), "currency": money.currency}
