"""Random small drafts to be exercised, and the exercises of a spec by their kinds."""

from hypothesis import strategies as st

from cards.exercises import exercises_of
from tests.project.worked import outcome_of


@st.composite
def drafts(draw, actions=("rising", "sinking", "countermarch", "table"), most=4, together=1):
    """Return the keys of a spec: any threading, tie-up and treadling on few shafts."""
    shafts = draw(st.integers(2, most))
    treadles = draw(st.integers(2, 4))
    every = draw(st.permutations(range(1, shafts + 1)))
    threading = [*every, *draw(st.lists(st.integers(1, shafts), min_size=2, max_size=7))]
    ties = st.sets(st.integers(1, shafts), min_size=1, max_size=max(1, shafts - 1))
    tie_up = {str(each): " ".join(map(str, sorted(draw(ties)))) for each in range(1, treadles + 1)}
    pressed = st.sets(st.integers(1, treadles), min_size=1, max_size=together)
    steps = draw(st.lists(pressed, min_size=4, max_size=10))
    action = draw(st.sampled_from(actions))
    loom = {"action": action, "shafts": str(shafts)}
    if action != "table":
        loom |= {"treadles": str(treadles), "treadles_at_once": str(together)}
    return {
        "loom": loom,
        "cloth": {"width": "6 in", "length": "8 in"},
        "draft": {
            "threading": f"({' '.join(map(str, threading))}) to fill",
            "tie_up": tie_up,
            "treadling": " ".join("+".join(map(str, sorted(each))) for each in steps),
        },
        "conventions": {
            "tie_up": draw(st.sampled_from(["rise", "sink"])),
            "filled": draw(st.sampled_from(["warp", "weft"])),
        },
    }


def exercise_of(keys, kind, **more):
    """Return the exercise of a kind that a spec gives, or None if there is nothing to ask."""
    project = outcome_of(**keys, exercises=[{"exercise": kind, **more}]).project
    made = exercises_of(project) if project is not None else ()
    return made[0] if made else None
