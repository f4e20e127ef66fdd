"""The project as data: the public contract of `loomfolio plan --json`.

Lengths are mm, masses g. Ends and picks are counted from 0 in the order in which they are threaded
and woven; shafts and treadles keep their own numbers, from 1. `draft` describes one piece.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import numpy as np
from numpy.typing import NDArray

from cards.plan_allowances import allowances_data
from cards.plan_cloth import cloth_data, shuttle_shares, shuttles_data
from cards.plan_costs import asked_data, bill_data, bobbins_data, hours_data, most_data
from cards.plan_loom import loom_data, other_looms
from cards.plan_sett import advice_data
from cards.plan_sley import sley_data
from cards.project.model import Outcome, Project, Sett, Warp, YarnShare
from cards.sequence import Sequence
from cards.spec import Finding

Data = dict[str, Any]


def plan_data(outcome: Outcome, *, drawdown: bool = True) -> Data:
    """Return the plan of an outcome; after an error, the findings and what could be worked out."""
    data: Data = {"findings": [_finding(each) for each in outcome.findings]}
    project = outcome.project
    if project is not None:
        data |= _project(project, drawdown=drawdown)
        data["looms"] = other_looms(outcome.others, treadling=drawdown)
    elif outcome.warp is not None:
        data["warp"] = _warp(outcome.warp)
    return data


def _finding(finding: Finding) -> Data:
    return {
        "level": finding.level,
        "code": finding.code,
        "message": finding.message,
        "mend": finding.mend,
        "file": finding.place.file,
        "line": finding.place.line,
        "column": finding.place.column,
    }


def _project(project: Project, *, drawdown: bool) -> Data:
    info = project.info
    return {
        "project": {
            "title": info.title,
            "code": info.code,
            "candidate": project.candidate or None,
            "fingerprint": project.source.fingerprint,
        },
        "units": project.units,
        "warp": _warp(project.warp),
        "weft": _weft(project),
        "yarns": [
            {
                "yarn": total.yarn.key,
                "name": total.yarn.name,
                "letter": total.yarn.letter,
                "tex": total.yarn.tex,
                "length_mm": total.need.length,
                "mass_g": total.need.mass,
                "buy_g": total.need.buy,
                "on_hand_g": total.need.on_hand,
                "packages": total.need.packages,
                "left_over_g": total.need.left,
                "cost": _money(total.need.cost),
                "currency": total.yarn.currency,
            }
            for total in project.totals
        ],
        "cost": _money(project.cost),
        "bill": bill_data(project),
        "hours": hours_data(project),
        "bobbins": bobbins_data(project),
        "asked": asked_data(project),
        "most": most_data(project),
        "cloth_weight_g_m2": project.cloth_weight.total,
        "allowances": allowances_data(project),
        "sett": {**_sett(project.sett), "advice": advice_data(project)},
        "sley": sley_data(project),
        "loom": loom_data(project),
        "draft": _draft(project, drawdown=drawdown),
        "cloth": cloth_data(project, threads=drawdown),
        "pieces": [_kind(kind, drawdown=drawdown) for kind in project.kinds if kind.piece],
    }


def _kind(kind: Project, *, drawdown: bool) -> Data:
    """Return what one kind of piece has of its own, where pieces on the warp are not alike."""
    return {
        "piece": kind.piece,
        "number": kind.weft.pieces,
        "finished_width_mm": kind.warp.finished_width,
        "cloth_weight_g_m2": kind.cloth_weight.total,
        "weft": _weft(kind),
        "draft": _draft(kind, drawdown=drawdown),
        "cloth": cloth_data(kind, threads=drawdown),
    }


def _weft(project: Project) -> Data:
    weft = project.weft
    return {
        "picks": weft.picks,
        "pieces": weft.pieces,
        "picks_per_piece": weft.picks_each,
        "picks_given": weft.picks_given,
        "sample_picks": weft.sample_picks,
        "by_yarn": [_share(share, "picks") for share in weft.by_yarn],
        "by_shuttle": shuttle_shares(project),
        "sections": [
            {
                "section": section.name,
                "first_pick": section.first_pick,
                "picks": section.picks,
                "start_mm": section.start,
                "length_mm": section.length,
                "finished_mm": section.finished,
            }
            for section in weft.sections
        ],
    }


def _warp(warp: Warp) -> Data:
    return {
        "ends": warp.ends,
        "ends_given": warp.ends_given,
        "floating_selvedges": warp.floating,
        "spare_ends_per_yarn": warp.spare_ends,
        "width_in_reed_mm": warp.width_in_reed,
        "finished_width_mm": warp.finished_width,
        "width_given": warp.width_given,
        "length_mm": warp.length,
        "length_given": warp.length_given,
        "first_end": warp.first_end,
        "order": _order(warp.order),
        "by_yarn": [_share(share, "ends") for share in warp.by_yarn],
    }


def _order(order: Sequence[str]) -> list[Data]:
    """Return the order with repeats written out, neighbouring ends of one yarn as one entry."""
    entries: list[Data] = []
    for key in order.values():
        if entries and entries[-1]["yarn"] == key:
            entries[-1]["ends"] += 1
        else:
            entries.append({"yarn": key, "ends": 1})
    return entries


def _share(share: YarnShare, threads: str) -> Data:
    need = share.need
    return {
        "yarn": share.yarn.key,
        threads: share.threads,
        f"extra_{threads}": share.extra,
        "length_mm": need.length,
        "mass_g": need.mass,
        "buy_g": need.buy,
        "packages": need.packages,
        "cost": _money(need.cost),
    }


def _money(amount: Decimal | None) -> float | None:
    return None if amount is None else float(amount)


def _sett(sett: Sett) -> Data:
    return {
        "layers": sett.layers,
        "layer_per_100mm": sett.ends_layer * 100,
        "total_per_100mm": sett.ends_total * 100,
        "picks_layer_per_100mm": sett.picks_layer * 100,
        "picks_total_per_100mm": sett.picks_total * 100,
    }


def _draft(project: Project, *, drawdown: bool) -> Data:
    draft = project.draft
    data: Data = {"shafts": draft.shafts}
    if drawdown:
        data |= {
            "threading": list(draft.threading),
            "lifts": [sorted(lift) for lift in draft.lifts],
            "treadling": [sorted(pressed) for pressed in draft.treadling],
            **shuttles_data(project.cloth),
            "weft": list(draft.weft),
            "drawdown": _rows(draft.drawdown),
        }
    return data


def _rows(cells: NDArray[np.bool_]) -> list[str]:
    """Return a string of 0 and 1 for every pick."""
    digits = np.where(cells, np.uint8(ord("1")), np.uint8(ord("0")))
    return [row.tobytes().decode("ascii") for row in digits]
