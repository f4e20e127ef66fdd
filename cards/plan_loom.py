"""The loom as data, a part of `loomfolio plan --json`: what is tied, threaded and pressed.

Shafts and treadles keep their own numbers, from 1.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from cards.project.model import Project

Data = dict[str, Any]


def loom_data(project: Project) -> Data:
    """Return the loom that a project is worked out for.

    `tie_up` is what each treadle raises and sinks when it is pressed alone, `cords` the ties that
    make it do so.
    """
    loom = project.loom
    return {
        "name": loom.name,
        "action": loom.action,
        "shafts": loom.shafts,
        "heddles": list(loom.heddles),
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


def other_looms(projects: Iterable[Project], *, treadling: bool) -> list[Data]:
    """Return the other looms of a spec, with the treadles pressed at each pick if asked for."""
    found = []
    for project in projects:
        data = loom_data(project)
        if treadling:
            data["treadling"] = [sorted(pressed) for pressed in project.draft.treadling]
        found.append(data)
    return found
