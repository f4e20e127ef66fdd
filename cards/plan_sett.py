"""The advice on the sett as data, a part of `loomfolio plan --json`: densities in 100 mm."""

from __future__ import annotations

from typing import Any

from cards.project.model import Project
from cards.project.sett_advice import LayerAdvice, Threads

Data = dict[str, Any]


def advice_data(project: Project) -> list[Data]:
    """Return the advice for each layer of the main weave, top first; none if nothing interlaces."""
    advice = project.sett_advice
    return [_layer(project, layer) for layer in advice.layers]


def _layer(project: Project, layer: LayerAdvice) -> Data:
    advice = project.sett_advice
    use, most = advice.use, layer.ends.most * 100
    wraps = layer.by_wraps
    return {
        "layer": layer.layer,
        "sections": list(advice.weaves[0].sections),
        "ends": _threads(layer.ends),
        "picks": _threads(layer.picks),
        "cover_factor": layer.cover,
        "by_wraps_per_100mm": None if wraps is None else wraps * 100,
        "use": use.use if use else None,
        "use_share": [use.low, use.usual, use.high] if use else None,
        "advised_per_100mm": [use.low * most, use.usual * most, use.high * most] if use else None,
        "far_off": layer in advice.far_off,
    }


def _threads(threads: Threads) -> Data:
    interlacing = threads.interlacing
    return {
        "in_repeat": interlacing.threads,
        "intersections": float(interlacing.intersections),
        "repeats": interlacing.whole,
        "yarns": [{"yarn": each.key, "threads": each.threads} for each in threads.yarns],
        "diameter_mm": threads.diameter,
        "chosen_per_100mm": threads.density * 100,
        "closest_per_100mm": threads.most * 100,
        "share_of_closest": threads.share,
        "cover_factor": threads.cover,
    }
