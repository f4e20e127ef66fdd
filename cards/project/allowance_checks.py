"""Findings about allowances that the weaver gave: those far from what is usual."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Final

from cards.calculation.workings import Step
from cards.figures import plain
from cards.project.problems import Problems

Path = tuple[str, ...]

# Where in a spec each allowance is given.
_PATHS: Final[Mapping[str, Path]] = {
    "take-up of the warp": ("allowances", "take_up"),
    "relaxation off the loom": ("allowances", "relaxation"),
    "draw-in": ("allowances", "draw_in"),
    "shrinkage in length": ("allowances", "shrinkage", "length"),
    "shrinkage in width": ("allowances", "shrinkage", "width"),
    "take-up of the weft": ("allowances", "weft_take_up"),
    "joins and bobbin ends": ("allowances", "joins"),
    "margin on the warp": ("allowances", "warp_margin"),
    "buying margin": ("allowances", "buy_margin"),
    "header": ("allowances", "header"),
    "sample": ("allowances", "sample"),
    "spare ends of each yarn": ("allowances", "spare_ends"),
    "loom waste": ("loom", "waste"),
    "gap between pieces": ("cloth", "gap"),
    "twist loss of the fringe": ("cloth", "fringe", "twist"),
    "warp in a knot": ("cloth", "fringe", "knot"),
    "winding: pace": ("loom", "pace", "winding"),
    "dressing the loom: pace": ("loom", "pace", "dressing"),
    "weaving: pace": ("loom", "pace", "weaving"),
}

# Nought is a mistake here; elsewhere it says that there is none, or that another figure has it.
_NEVER_NOUGHT: Final = frozenset({"take-up of the warp", "take-up of the weft"})


def check_ranges(steps: Iterable[Step], problems: Problems) -> None:
    """Note every given allowance over double the highest usual figure, or under half the lowest."""
    for step in steps:
        low, high = step.low, step.high
        if not step.allowance or step.origin != "given" or low is None or high is None:
            continue
        if not step.value and step.name not in _NEVER_NOUGHT:
            continue
        if low / 2 <= step.value <= 2 * high:
            continue
        shown, lowest, highest = (_figure(step, each, problems) for each in (step.value, low, high))
        more = "more" if step.value > high else "less"
        problems.note(
            "outside-range",
            f"{step.name}: {shown} is much {more} than the usual {lowest} to {highest} "
            f"({step.note})",
            "correct it, or leave it so if you measured it",
            *_PATHS[step.name],
        )


def _figure(step: Step, value: float, problems: Problems) -> str:
    if step.unit == "fraction":
        return f"{plain(value * 100)} %"
    return problems.figures.width(value) if step.unit == "mm" else plain(value)
