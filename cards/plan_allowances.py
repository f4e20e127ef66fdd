"""The allowances of a plan, as data and as lines of a table."""

from __future__ import annotations

from typing import Any

from cards.calculation.workings import Step
from cards.figures import Figures, plain
from cards.project.model import Project


def allowances_data(project: Project) -> list[dict[str, Any]]:
    """Return every allowance: shares as fractions of one, lengths mm, with range and source.

    `low` and `high` are None where no range is known.
    """
    return [
        {
            "name": step.name,
            "value": step.value,
            "low": step.low,
            "high": step.high,
            "unit": step.unit,
            "origin": step.origin,
            "source": step.note,
        }
        for step in project.allowances
    ]


def allowance_rows(project: Project) -> list[tuple[str, str]]:
    """Return a line for every allowance: its value, given or assumed, and the usual range."""
    figures = Figures(project.units)
    rows = []
    for step in project.allowances:
        words = f"{allowance(step, step.value, figures)}, {step.origin}"
        usual = usual_range(step, figures)
        rows.append((step.name, f"{words} (usual {usual})" if usual else words))
    return rows


def allowance(step: Step, value: float, figures: Figures) -> str:
    """Return a figure of an allowance as a weaver reads it.

    >>> step = Step("draw-in", "given", (), 0.075, 0.075, "fraction")
    >>> allowance(step, step.value, Figures("metric"))
    '7.5 %'
    """
    if step.unit == "fraction":
        return f"{plain(value * 100)} %"
    if step.unit == "mm":
        return f"{plain(value / 10, 1)} cm" if figures.metric else figures.width(value)
    return f"{plain(value)} an hour" if step.unit == "per hour" else plain(value)


def usual_range(step: Step, figures: Figures) -> str:
    """Return the range seen in practice, or nothing where none is known or it is one figure."""
    if step.low is None or step.high is None or step.low == step.high:
        return ""
    low, high = (allowance(step, each, figures) for each in (step.low, step.high))
    number, unit, _ = low.partition(" ")
    behind = low.removeprefix(number)
    return f"{number}–{high}" if unit and high.endswith(behind) else f"{low}–{high}"
