"""All names that a pattern may write, with what they stand for, to read in a terminal."""

from __future__ import annotations

from cards.named_figures import plan_names
from cards.plan_names import BOTH, PlanFigure
from cards.project import Project

# Names of which the second part says of what they are.
_OWN = ("yarn", "piece", "section", "bout")

_BELOW = (
    f"With .{BOTH} at the end of a name, a figure with a unit has the other units in brackets.\n"
    "{{ and }} stand for real braces."
)


def names_table(project: Project) -> str:
    """Return a line for every name: the name in braces, its figure, what that is."""
    figures = plan_names(project).shown
    name = max(len(each.name) for each in figures) + len("{}")
    text = max(len(each.text) for each in figures)
    groups: dict[tuple[str, ...], list[str]] = {}
    for each in figures:
        braced = f"{{{each.name}}}"
        line = f"{braced.ljust(name)}  {each.text.ljust(text)}  {each.words}"
        groups.setdefault(_group(each), []).append(line)
    return "\n\n".join(["\n".join(lines) for lines in groups.values()] + [_BELOW])


def names_data(project: Project) -> list[dict[str, str]]:
    """Return every name as data: its figure in the units of the project, in both, and in words."""
    return [
        {"name": each.name, "text": each.text, "both": each.both or each.text, "words": each.words}
        for each in plan_names(project).shown
    ]


def _group(figure: PlanFigure) -> tuple[str, ...]:
    """Return which figures stand together: those of one yarn, of one section, of the warp."""
    parts = figure.name.split(".")
    number = 2 if parts[0] in _OWN else 1
    return tuple(parts[:number])
