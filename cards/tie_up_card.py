"""The tie-up card: it lies on the floor while the loom is tied up, or stands where it is pegged.

Each kind of loom has its own: cords for a loom with treadles, bars for a dobby, the lifts for a
loom whose shafts are raised by hand or that has too few treadles.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from cards.cautions import TIE_UP, caution_on
from cards.different_lifts import DifferentLift, different_lifts
from cards.dobby_bars import BarPlan, bar_plan
from cards.heading import Heading, card_name, loom_heading_of
from cards.hung_shafts import HungShafts, hung_shafts
from cards.layer_marks import LayerMark, lettered_marks
from cards.loom.shed import has_ties
from cards.project.model import Project
from cards.tied_treadles import CordPlan, cord_plan
from cards.treadle_styles import Walk, walk_of

Kind = Literal["cords", "bars", "levers", "pedals", "heddle", "lifts"]

_KINDS: dict[str, Kind] = {
    "dobby": "bars",
    "table": "levers",
    "direct": "pedals",
    "rigid heddle": "heddle",
}

_TITLES: dict[Kind, str] = {
    "bars": "Pegging plan",
    "levers": "Lever card",
    "pedals": "Treadle card",
    "heddle": "Heddle positions",
}


@dataclass(frozen=True, slots=True)
class TieUpCard:
    """All that the tie-up card says; what does not suit the `kind` of loom is None or empty.

    `title` is what weavers call it on such a loom. `kind` is "lifts" for a loom with too few
    treadles. `treadles` is how many it has, if known. `used` are the shafts that are threaded; the
    others hang free and are not tied. `caution` is what to take care of.
    `layers` are empty for a cloth of one layer.
    """

    title: str
    heading: Heading
    kind: Kind
    action: str
    shafts: int
    used: tuple[int, ...]
    treadles: int | None
    shaft_1: str
    treadle_1: str
    layers: tuple[LayerMark, ...]
    caution: str = ""
    cords: CordPlan | None = None
    walk: Walk | None = None
    hung: HungShafts | None = None
    lifts: tuple[DifferentLift, ...] = ()
    bars: BarPlan | None = None

    def layer_of(self, shaft: int) -> LayerMark | None:
        """Return the layer that hangs on a shaft, None where there are none or several."""
        found = [each for each in self.layers if shaft in each.shafts]
        return found[0] if len(found) == 1 else None


def tie_up_card(project: Project) -> TieUpCard:
    """Return the tie-up card of a project, for its loom."""
    loom = project.loom
    action = loom.action
    cords = walk = None
    if has_ties(action) and loom.tied:
        cords, walk = cord_plan(project, action), walk_of(project)
    kind: Kind = "cords" if cords else _KINDS.get(action, "lifts")
    title = _TITLES.get(kind, "Tie-up card")
    return TieUpCard(
        title=title,
        heading=loom_heading_of(project, title if cords else card_name(project, title)),
        kind=kind,
        action=action,
        shafts=loom.shafts,
        used=tuple(sorted(loom.threaded)),
        treadles=loom.treadles,
        shaft_1=loom.shaft_1,
        treadle_1=loom.treadle_1,
        layers=lettered_marks(project),
        caution=caution_on(project, TIE_UP),
        cords=cords,
        walk=walk,
        hung=hung_shafts(project) if action == "sinking" else None,
        lifts=() if kind in ("cords", "bars") else different_lifts(project),
        bars=bar_plan(project) if kind == "bars" else None,
    )
