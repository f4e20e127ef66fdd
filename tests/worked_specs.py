"""The worked specs that come with the program."""

from pathlib import Path

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
