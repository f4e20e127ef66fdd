"""The loom as a project uses it, put together from its description, the draft and its treadles."""

from __future__ import annotations

from cards.loom.counterbalance import usual_pairs
from cards.loom.heddles import heddles_needed
from cards.loom.shed import DEFAULT_ACTION
from cards.project.at_the_loom import LoomPlan
from cards.project.model import Draft
from cards.project.ties import Ties
from cards.spec import Loom


def loom_plan(loom: Loom, draft: Draft, ties: Ties) -> LoomPlan:
    """Return a loom of the spec with its treadles settled and the heddles that a draft needs."""
    action = loom.action or DEFAULT_ACTION
    hung = loom.pairs or usual_pairs(loom.shafts)
    return LoomPlan(
        name=loom.name or "",
        action=action,
        shafts=loom.shafts,
        heddles=heddles_needed(draft.threading, loom.shafts),
        treadles=loom.treadles,
        tied=ties.tied,
        shaft_1=loom.shaft_1,
        treadle_1=loom.treadle_1,
        together=ties.together,
        own=ties.own,
        proved=ties.proved,
        order=ties.order,
        pairs=hung if action == "sinking" else (),
        rise_lamms=loom.rise_lamms,
        picks_a_bar=loom.picks_a_bar,
        least_bars=loom.least_bars or 1,
    )
