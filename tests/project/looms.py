"""The same project on another loom, for tests: its spec read, its loom changed, worked out."""

from dataclasses import replace

from cards.project import work_out
from cards.spec import read_spec
from tests.worked_specs import SPECS

__all__ = ["LOOMS", "SPECS", "on_loom", "outcome_on"]

LOOMS = ("rising", "sinking", "countermarch", "table", "dobby")


def outcome_on(path, action, **changes):
    """Return what a spec comes to on a loom of that action; `changes` are further keys of it."""
    reading = read_spec(path)
    loom = reading.spec.loom
    if loom.treadles is None and "treadles" not in changes:
        changes["treadles"] = 10
    loom = loom.model_copy(update={"action": action} | changes)
    return work_out(replace(reading, spec=reading.spec.model_copy(update={"loom": loom})))


def on_loom(path, action, **changes):
    project = outcome_on(path, action, **changes).project
    assert project is not None
    return project
