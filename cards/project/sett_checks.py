"""Notes a sett that is far from what the cloth is for, and what the weaver's reeds give instead."""

from __future__ import annotations

from fractions import Fraction

from cards.calculation.reed_choice import ReedChoice, rank_reeds
from cards.calculation.sett import LEAST_SHARE, MOST_SHARE, UseRange
from cards.calculation.sley import pattern_text
from cards.figures import Figures
from cards.project.cloth import Cloth
from cards.project.in_reed import InReed
from cards.project.model import Sett
from cards.project.problems import Problems
from cards.project.sett_advice import LayerAdvice, SettAdvice
from cards.spec import Spec

# Layers that are as close as this are spoken of once.
_SAME = 0.005


def check_sett(
    spec: Spec,
    advice: SettAdvice,
    sett: Sett,
    cloth: Cloth,
    reed: InReed | None,
    problems: Problems,
) -> None:
    """Note the layers whose sett is far off; nothing where other layers came out than expected."""
    layers = cloth.lanes if cloth.has_layers else 1
    if layers != sett.layers:
        return
    path = ("sett",) if spec.sett is not None else ("given", "ends")
    told: list[LayerAdvice] = []
    for layer in advice.far_off:
        if any(abs(layer.ends.share - other.ends.share) < _SAME for other in told):
            continue
        told.append(layer)
        which = f"layer {layer.layer + 1}: " if layers > 1 else ""
        message, mend = _words(advice.use, layer, sett, reed, problems.figures)
        problems.note(
            "sett-far-off", f"{which}{message}", f"{mend}; or weave a sample and keep it", *path
        )


def _words(
    use: UseRange | None, layer: LayerAdvice, sett: Sett, reed: InReed | None, figures: Figures
) -> tuple[str, str]:
    """Return why a sett is far off, and which would not be."""
    ends = layer.ends
    low, high = (use.low, use.high) if use else (LEAST_SHARE, MOST_SHARE)
    wanting = f"`use: {use.use}`" if use else "any cloth"
    message = (
        f"{figures.density(ends.density)} is {ends.share:.0%} of {figures.density(ends.most)}, the "
        f"closest that this weave and yarn allow; {wanting} wants "
        f"{low:.0%} to {high:.0%}"
    )
    first, last = (figures.density(share * ends.most) for share in (low, high))
    mend = f"take {first.split(' ')[0]} to {last}"
    if use is None:
        return message, f"{mend}, or say what it is for, such as `use: scarf` in the cloth"
    if reed is not None:
        mend += _reeds_words(figures, reed, use.usual * ends.most, layer, sett)
    return message, mend


def _reeds_words(
    figures: Figures, reed: InReed, density: float, layer: LayerAdvice, sett: Sett
) -> str:
    """Return what the best two of the weaver's reeds give near a sett of one layer."""
    words = []
    for choice in near_reeds(reed, density, layer, sett)[:2]:
        given = figures.density(of_one_layer(choice, layer, sett))
        words.append(
            f"a reed of {figures.reed(float(choice.reed))} gives {given} with "
            f"{pattern_text(choice.pattern)}"
        )
    return "".join(f"; {each}" for each in words)


def of_one_layer(choice: ReedChoice, layer: LayerAdvice, sett: Sett) -> float:
    """Return the ends to a mm that a reed gives one layer."""
    return float(choice.true_sett) * layer.ends.density / sett.ends_total


def near_reeds(
    reed: InReed, density: float, layer: LayerAdvice, sett: Sett
) -> tuple[ReedChoice, ...]:
    """Return the weaver's reeds for a sett of one layer, the best first; their setts are of all."""
    total = density * sett.ends_total / layer.ends.density
    reeds: dict[Fraction, None] = dict.fromkeys(choice.reed for choice in reed.choices)
    return rank_reeds(total, reeds, sett.in_a_round)
