"""The sleying as data, a part of `loomfolio plan --json`. Lengths are mm, reeds in 100 mm."""

from __future__ import annotations

from typing import Any

from cards.calculation.first_dent import checks_of, empty_dents, first_dent
from cards.calculation.reed_choice import ReedChoice
from cards.calculation.sley import Sleying
from cards.project.in_reed import InReed
from cards.project.model import Project

Data = dict[str, Any]


def sley_data(project: Project) -> Data | None:
    """Return how the ends lie in the reed, None where the loom has none."""
    sleying, reed = project.sleying, project.in_reed
    if sleying is None or reed is None:
        return None
    first = first_dent(sleying.dents, sleying.reed)
    empty = empty_dents(sleying.dents, sleying.reed, reed.length) if reed.length else None
    return {
        "reed_per_100mm": float(sleying.reed * 100),
        "pattern": list(sleying.pattern),
        "dents": sleying.dents,
        "true_sett_per_100mm": float(sleying.true_sett * 100),
        "sett_error": sleying.error,
        "width_mm": sleying.width_mm,
        "width_error": sleying.width_error,
        "first_dent": {
            "middle": first.middle,
            "count": first.count,
            "edge_from_middle_mm": first.edge_mm,
        },
        "empty_dents": list(empty) if empty else None,
        "per_dent": [list(run) for run in sleying.runs()],
        "edges": _edges(project, sleying, reed),
        "checks": [
            {"share": float(each.share), "dents": each.dents, "ends": each.ends}
            for each in checks_of(sleying)
        ],
        "reeds": [_choice(choice) for choice in reed.choices],
    }


def _edges(project: Project, sleying: Sleying, reed: InReed) -> list[Data]:
    first = project.warp.first_end
    other = "left" if first == "right" else "right"
    pairs = zip((first, other), (sleying.first, sleying.last), reed.folds, strict=True)
    return [
        {
            "side": side,
            "kind": edge.kind,
            "fold": fold,
            "dents_from_edge": list(edge.dents),
            "line": fold and reed.line,
            "floating": reed.floating,
        }
        for side, edge, fold in pairs
    ]


def _choice(choice: ReedChoice) -> Data:
    return {
        "reed_per_100mm": float(choice.reed * 100),
        "pattern": list(choice.pattern),
        "true_sett_per_100mm": float(choice.true_sett * 100),
        "sett_error": float(choice.error),
        "layers_whole": choice.whole,
    }
