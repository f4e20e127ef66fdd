"""What to take care of, in general words: labels, local rules and licensed practice prevail.

All cautions of the program are here, each once, with the sheets on which it matters. None of them
says that anything is safe.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from cards.loom.shed import has_ties
from cards.project import Project

WARPING, TIE_UP, TALLY, RECORD = "warping-card", "tie-up-card", "pick-tally", "record"


@dataclass(frozen=True, slots=True)
class Caution:
    """What to take care of, by its topic; `sheets` are the sheets that print it."""

    topic: str
    words: str
    sheets: frozenset[str] = frozenset()


TENSION, POSTURE = "tension", "posture"

# Common practice, no source, where no other is named.
_RULES: Final = Caution("rules", "Labels and local rules come first.", frozenset({RECORD}))
_TENSION: Final = Caution(
    TENSION,
    "Let tension off slowly, no child near: ratchet and beater hurt fingers.",
    frozenset({WARPING, TALLY}),
)
_UNDER: Final = Caution(
    "under the loom",
    "Before you lie under the loom: brake locked, shafts and beater secured, nobody on the "
    "treadles.",
    frozenset({TIE_UP}),
)
# As weavers say who write on their joints.
_POSTURE: Final = Caution(
    POSTURE,
    "Elbows clear of the breast beam, hips above the knees; get up before it hurts.",
    frozenset({TALLY}),
)
_WET: Final = Caution(
    "wet finishing",
    "Hot water scalds, wet floors are slick, wet cloth is heavy: lift it in parts.",
    frozenset({RECORD}),
)
_DYE: Final = "Wash the sample first: does the dye bleed?"
_FULLING: Final = "Fulling cannot be undone."
# Hospital units for infants refuse blankets with holes; loops and ends catch fingers likewise.
_INFANTS: Final = Caution(
    "infants",
    "For infants no holes, long floats, fringes or loose ends.",
    frozenset({RECORD}),
)
# Laws on labels differ, and so does whom they bind: only that they are to be asked for.
_SELLING: Final = Caution(
    "selling", "Before you sell, check local law on labels.", frozenset({RECORD})
)

# Fibres that do not full.
_NOT_FULLED: Final = frozenset({"cotton", "linen", "silk"})


def cautions_of(project: Project) -> tuple[Caution, ...]:
    """Return what to take care of in a project, in the order of the work."""
    found = [_RULES, _TENSION]
    if has_ties(project.loom.action) and project.loom.tied:
        found.append(_UNDER)
    found += [_POSTURE, _WET, _dye(project)]
    use = project.sett_advice.use
    if use is not None and use.use == "blanket":
        found.append(_INFANTS)
    return (*found, _SELLING)


def caution_on(project: Project, sheet: str, topic: str = "") -> str:
    """Return what a sheet prints of the cautions of a project, or of one topic, as one text."""
    there = [each for each in cautions_of(project) if sheet in each.sheets]
    return " ".join(each.words for each in there if topic in ("", each.topic))


def _dye(project: Project) -> Caution:
    fulls = any(yarn.fibre not in _NOT_FULLED for yarn in project.yarns)
    return Caution("dye", f"{_DYE} {_FULLING}" if fulls else _DYE, frozenset({RECORD}))
