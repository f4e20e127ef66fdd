"""The worked specs that come with the program."""

from functools import cache
from pathlib import Path

from cards.project import work_out_on_all
from cards.spec import read_spec

FOLDER = Path(__file__).parents[1] / "specs"
# The looms and yarns that they share, which is no spec.
LOOMS = FOLDER / "looms.yaml"
SPECS = sorted(path for path in FOLDER.glob("*.yaml") if path != LOOMS)
LAYERED = [
    FOLDER / f"{name}.yaml"
    for name in (
        "cushion-cover",
        "double-width-throw",
        "triple-width-banner",
        "two-layer-sampler",
        "two-runners",
    )
]


@cache
def worked_out(path):
    """Return a worked spec worked out on all its looms; once for all tests that only read it."""
    return work_out_on_all(read_spec(path))
