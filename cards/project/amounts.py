"""What a spec takes, as the sums leave it: a piece woven, and warp, weft and yarn of all."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from cards.calculation.sley import Sleying
from cards.project.cloth import Cloth
from cards.project.ends import Ends
from cards.project.in_reed import InReed
from cards.project.model import Draft, ProjectYarn, Sett, Totals, Warp, Weft
from cards.project.ties import Sections, Ties

if TYPE_CHECKING:
    from cards.draft.layered_piece import LayeredPiece
    from cards.project.layered import LayeredPlan


@dataclass(frozen=True, slots=True)
class Woven:
    """A piece as it is woven, before its yarn is reckoned; `sections` are as they are written.

    `used` is the warp in mm of one piece, `fringe` that of one of its fringes.
    """

    layered: LayeredPlan | None
    built: LayeredPiece | None
    sett: Sett
    ends: Ends
    sections: Sections
    used: float
    fringe: float


@dataclass(frozen=True, slots=True)
class Amounts:
    """Warp, weft and yarn of a spec, with the draft and the cloth from which they came.

    `pressed` are the sections as they are woven on the loom with its `ties`; `width` is that of the
    ends in the reed in mm from which the cloth draws in.
    """

    yarns: tuple[ProjectYarn, ...]
    sett: Sett
    ends: Ends
    width: float
    warp: Warp
    weft: Weft
    totals: tuple[Totals, ...]
    pressed: Sections
    ties: Ties
    draft: Draft
    cloth: Cloth
    reed: InReed | None
    sleying: Sleying | None
    layered: LayeredPlan | None
    built: LayeredPiece | None
