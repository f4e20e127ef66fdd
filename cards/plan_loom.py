"""The loom as data, a part of `loomfolio plan --json`: what is tied, threaded and pressed.

Shafts and treadles keep their own numbers, from 1.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from cards.loom.heddles import HeddlePlan
from cards.project.model import Project

Data = dict[str, Any]


def loom_data(project: Project) -> Data:
    """Return the loom that a project is worked out for.

    `tie_up` is what each treadle raises and sinks when it is pressed alone, `cords` the ties that
    make it do so. `heddles_there` is None where the spec does not say what hangs on the shafts.
    """
    loom = project.loom
    return {
        "name": loom.name,
        "action": loom.action,
        "shafts": loom.shafts,
        "heddles": list(loom.heddles),
        **_heddles(project.heddle_plan),
        "treadles": loom.treadles,
        "tie_up": [
            {"treadle": each.number, "rise": list(each.rise), "sink": list(each.sink)}
            for each in loom.moved
        ],
        "cords": sum(each.cords for each in loom.tied),
        "pressed_together": loom.together,
        "own_treadles": loom.own,
        "proved": loom.proved,
        "treadle_order": loom.order,
        "look_treadles": list(loom.looks),
        "shaft_1": loom.shaft_1,
        "treadle_1": loom.treadle_1,
    }


def _heddles(plan: HeddlePlan) -> Data:
    """Return the heddles shaft by shaft, shaft 1 first, and the moves before threading."""
    edges = [each.edges for each in plan.shafts]
    return {
        "heddles_there": list(plan.there) if plan.there is not None else None,
        "heddle_sides": [
            {"left": each.left, "middle": each.middle, "right": each.right} for each in plan.shafts
        ],
        "heddles_spare": [
            {"left": each[0], "right": each[1]} if each is not None else None for each in edges
        ],
        "heddle_moves": [
            {"from": move.source, "to": move.target, "heddles": move.heddles} for move in plan.moves
        ],
        "heddle_moves_fewest": plan.fewest,
        "heddles_to_add": [each.added for each in plan.shafts],
    }


def other_looms(projects: Iterable[Project], *, treadling: bool) -> list[Data]:
    """Return the other looms of a spec, with the treadles pressed at each pick if asked for."""
    found = []
    for project in projects:
        data = loom_data(project)
        if treadling:
            data["treadling"] = [sorted(pressed) for pressed in project.draft.treadling]
        found.append(data)
    return found
