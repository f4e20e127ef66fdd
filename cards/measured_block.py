"""What was measured, as a block in spec notation to paste into the next spec, and as data.

Shares are written to a hundredth of a percent, lengths to a millimetre or a hundredth of an inch;
what was planned stands beside each as a comment.
"""

from __future__ import annotations

from typing import Any, Final

from cards.calculation.measured import Found
from cards.figures import INCH, plain
from cards.project import Project
from cards.project.read_back import ReadBack
from cards.units import Units

_INDENT: Final = "  "


def measured_block(project: Project, measured: ReadBack) -> str:
    """Return the block, ending in a newline; what is not known is in it as a comment."""
    info = project.info
    of = f"{info.code}, {info.title}" if info.code else info.title
    lines = [f"# Measured on {of}"]
    if len(project.every_kind) > 1:
        lines.append(
            f"# Sizes are of one piece of “{project.piece}”; what is another for a kind of"
        )
        lines.append("# piece belongs to its own allowances under pieces.")
    known = [found for found in measured.found if found.value is not None]
    for place, found in enumerate(known):
        before = known[place - 1].key if place else ()
        lines += _keys(before, found.key)
        value = written(found, found.value or 0.0, project.units)
        lead = _INDENT * (len(found.key) - 1)
        lines.append(f"{lead}{found.key[-1]}: {value}  # {_planned(found, project.units)}")
    lines += [
        f"# {'.'.join(found.key)}: {found.why}" for found in measured.found if found.value is None
    ]
    return "".join(f"{line}\n" for line in lines)


def _keys(before: tuple[str, ...], key: tuple[str, ...]) -> list[str]:
    """Return the lines that open the mappings in which a key stands and the one before did not."""
    return [
        f"{_INDENT * (depth - 1)}{key[depth - 1]}:"
        for depth in range(1, len(key))
        if before[:depth] != key[:depth] or len(before) <= depth
    ]


def _planned(found: Found, units: Units) -> str:
    planned = written(found, found.planned.value, units)
    words = f"planned {planned}, {found.planned.origin}"
    return f"{words}; {found.why.rpartition('; ')[2]}" if "; it grew" in found.why else words


def written(found: Found, value: float, units: Units) -> str:
    """Return a figure as it stands in a spec."""
    if found.unit == "fraction":
        return f"{plain(value * 100)} %"
    return f"{plain(value / 10, 1)} cm" if units == "metric" else f"{plain(value / INCH)} in"


def measured_data(project: Project, measured: ReadBack) -> dict[str, Any]:
    """Return the same as data: lengths mm, shares as fractions of one, masses g."""
    return {
        "project": {"title": project.info.title, "code": project.info.code},
        "warp_used_per_piece_mm": measured.used,
        "measured": [
            {
                "key": ".".join(found.key),
                "name": found.name,
                "unit": found.unit,
                "value": found.value,
                "planned": found.planned.value,
                "planned_origin": found.planned.origin,
                "from": found.why,
            }
            for found in measured.found
        ],
        "yarns": [
            {"yarn": key, "before_g": before, "after_g": after, "used_g": before - after}
            for key, (before, after) in measured.masses.items()
        ],
    }
