"""What a weaver on a counterbalance should know: sheds of which more shafts rise than sink."""

from __future__ import annotations

from cards.loom.counterbalance import open_uneven_sheds, remedies_for
from cards.project.at_the_loom import LoomPlan
from cards.project.model import Draft
from cards.project.problems import Problems

# More lifts than this are not named one by one.
_MOST_NAMED = 8

REMEDY_WORDS = {
    "sink over two treadles": "spread the shafts that sink over two treadles pressed together",
    "shed regulator": "use a shed regulator",
    "pulleys and horses": "hang the shafts from pulleys or horses, not rollers",
    "lower tension": "lower the tension of the warp",
    "shallow shuttle": "use a shallow shuttle",
    "clear with a batten": "clear the shed with a batten and set it on edge",
    "another loom": "weave it on another loom",
}


def check_counterbalance(loom: LoomPlan, draft: Draft, problems: Problems) -> None:
    """Warn of the uneven sheds of a sinking-shed loom, with the lifts; never refuse them."""
    if loom.action != "sinking":
        return
    uneven = open_uneven_sheds(draft.lifts, loom.shafts, loom.pairs, loom.threaded)
    if not uneven:
        return
    lifts = [" ".join(map(str, sorted(each.lift))) for each in uneven[:_MOST_NAMED]]
    more = f" and {len(uneven) - _MOST_NAMED} more" if len(uneven) > _MOST_NAMED else ""
    problems.warning(
        "uneven-sheds",
        "these lifts hang unevenly on a sinking-shed loom, more shafts go one way than the other: "
        f"{'; '.join(lifts)}{more}",
        "; ".join(REMEDY_WORDS[remedy] for remedy in remedies_for(uneven)),
        "loom",
        "action",
    )
