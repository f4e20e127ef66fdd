"""The steps from the sett of one layer to that of all layers together, for the workings."""

from __future__ import annotations

from cards.calculation.workings import Workings
from cards.project.model import Sett


def record_layers(sett: Sett, work: Workings) -> None:
    """Write how many ends and picks of all layers lie in a length."""
    work.begin("ends")
    work.worked(
        "sett of all layers",
        "ends of all layers for each of one × sett of one layer",
        (
            ("ends of all layers for each of one", float(sett.warp_share), "number"),
            ("sett of one layer", sett.ends_layer, "per mm"),
        ),
        sett.ends_total,
        "per mm",
    )
    work.begin("picks")
    work.worked(
        "picks on the loom",
        "picks of all layers for each of one × picks of one layer",
        (
            ("picks of all layers for each of one", float(sett.weft_share), "number"),
            ("picks of one layer", sett.picks_layer, "per mm"),
        ),
        sett.picks_total,
        "per mm",
    )
