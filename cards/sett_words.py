"""The advice on a sett in words, every formula with its figures, to follow with a pencil."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Final

from cards.calculation.cloth_weight import ClothWeight
from cards.calculation.sett import diameter
from cards.calculation.yarn_size import yards_per_pound
from cards.draft.interlacing import Interlacing
from cards.figures import INCH, Figures, plain
from cards.project.model import Project, ProjectYarn
from cards.project.sett_advice import LayerAdvice, Threads

# Threads and intersections of a repeat, and a weave that has as many.
_LIKE: Final[dict[tuple[int, Fraction], str]] = {
    (3, Fraction(2)): "as in a 2/1 twill",
    (4, Fraction(2)): "as in a 2/2 twill",
    (5, Fraction(2)): "as in a five-end satin",
}


def interlacing_words(interlacing: Interlacing, threads: str = "ends") -> str:
    """Return how often a weave interlaces, such as `2 ends, 2 intersections: plain`."""
    number = plain(float(interlacing.intersections))
    words = f"{interlacing.threads} {threads}, {number} intersections"
    if not interlacing.whole:
        return f"{words}, counted over the whole width"
    if interlacing.intersections == interlacing.threads:
        return f"{words}: plain"
    # A point twill has a repeat of its own, and interlaces as the plain one does.
    for (few, least), name in _LIKE.items():
        if interlacing.intersections / interlacing.threads == least / few:
            return f"{words}, {name}"
    return words


def closest_words(project: Project, figures: Figures) -> list[str]:
    """Return how near the sett is to the closest, once for all layers that are alike."""
    words: dict[str, list[int]] = {}
    of_one = ", of one layer" if project.sett.layers > 1 else ""
    for layer in project.sett_advice.layers:
        ends = layer.ends
        said = f"{ends.share:.0%} of {figures.both('density', ends.most)}{of_one}"
        words.setdefault(said, []).append(layer.layer + 1)
    if len(words) < 2:
        return list(words)
    return [f"layer {', '.join(map(str, numbers))}: {said}" for said, numbers in words.items()]


def percent(share: float) -> str:
    """Return a share as it is printed on a sheet, such as `78 %`."""
    return f"{share * 100:.0f} %"


def per_unit(figures: Figures, per_mm: float) -> str:
    """Return threads to a cm or inch, without the unit."""
    return figures.density(per_mm).split(" ")[0]


def yarn_words(yarn: ProjectYarn, figures: Figures) -> str:
    """Return the size of a yarn in its own notation and as tex and length to a mass."""
    parts = [yarn.size, f"{plain(yarn.tex, 1)} tex", figures.both("size", yarn.tex)]
    if yarn.wraps is not None and not yarn.estimated:
        parts.append(figures.density(yarn.wraps).replace(" ", " wraps ", 1))
    return ", ".join(dict.fromkeys(parts))


def diameter_words(yarn: ProjectYarn, figures: Figures) -> str:
    """Return how many of a yarn lie side by side, by Ashenhurst's rule, with its constant."""
    constant = yarn.ashenhurst
    origin = "yours" if constant.origin == "given" else f"for {yarn.fibre or 'a firm yarn'}"
    per_inch = constant.value * yards_per_pound(yarn.tex) ** 0.5
    over = " ÷ 2.54" if figures.metric else ""
    return (
        f"{per_unit(figures, per_inch / INCH)} side by side in {_unit(figures)} = "
        f"{constant.value:.2f} ({origin}) × √{yards_per_pound(yarn.tex):.0f} yd/lb{over}; "
        f"{INCH / per_inch:.3f} mm thick"
    )


def _unit(figures: Figures) -> str:
    return "a cm" if figures.metric else "an inch"


def closest_line(own: Threads, across: Threads, figures: Figures) -> str:
    """Return how the closest that threads can lie is reckoned."""
    weave = own.interlacing
    many = plain(float(weave.intersections))
    most = figures.both("density", own.most)
    if abs(own.diameter / across.diameter - 1) < _SAME_YARN:
        side = per_unit(figures, 1 / own.diameter)
        return f"{side} × {weave.threads} ÷ ({weave.threads} + {many}) = {most}"
    length = "10 mm" if figures.metric else "INCH mm"
    return (
        f"{length} ÷ ({own.diameter:.3f} mm + {many} ÷ {weave.threads} × "
        f"{across.diameter:.3f} mm) = {most}"
    )


def mean_line(threads: Threads, yarns: Mapping[str, ProjectYarn]) -> str:
    """Return how thick unlike threads are on the mean, empty of threads that are alike."""
    many: dict[str, int] = {}
    for each in threads.yarns:
        yarn = yarns[each.key]
        thick = f"{diameter(yarn.ashenhurst.value, yarn.tex):.3f} mm"
        many[thick] = many.get(thick, 0) + each.threads
    if len(many) < 2:
        return ""
    parts = " + ".join(f"{number} × {thick}" for thick, number in many.items())
    return f"({parts}) ÷ {sum(many.values())} = {threads.diameter:.3f} mm"


# Yarns whose diameters differ by less than this are reckoned as one.
_SAME_YARN: Final = 0.005


def cover_line(layer: LayerAdvice) -> str:
    """Return the cover factors of a layer as it lies on the loom, with their formula."""
    warp, weft = layer.ends, layer.picks
    one, two = f"{warp.cover:.1f}", f"{weft.cover:.1f}"
    return (
        f"warp {_cover(warp)} = {one}; weft {_cover(weft)} = {two}; "
        f"cloth {one} + {two} − {one} × {two} ÷ 28 = {layer.cover:.1f}"
    )


def _cover(threads: Threads) -> str:
    root = threads.cover / threads.density
    per_cm = f"{plain(threads.density * 10)} per cm"
    if len(threads.yarns) > 1:
        return f"{per_cm} × {plain(root)} (mean of √tex) ÷ 10"
    return f"{per_cm} × √{plain(root**2, 1)} tex ÷ 10"


def weight_lines(weight: ClothWeight, figures: Figures) -> list[str]:
    """Return how the mass of the finished cloth comes about: its warp, its weft, both together."""
    lines = []
    for name, threads, lying in (
        ("Warp", "ends", weight.ends),
        ("Weft", "picks", weight.picks),
    ):
        per_cm = f"{lying.per_mm * 10:.2f} {threads} per cm"
        length = f"{1 + lying.crimp:.3f} m of yarn in each metre"
        lines.append(
            f"{name}: {per_cm} × {plain(lying.tex, 1)} tex × {length} ÷ 10 = "
            f"{lying.weight:.1f} g/m²"
        )
    total = figures.both("by_area", weight.total)
    return [*lines, f"Together {weight.warp:.1f} + {weight.weft:.1f} g/m² = {total}"]


def tenths(figures: Figures, per_mm: float) -> str:
    """Return threads to a cm or inch to a tenth, as an advised sett is no more exact."""
    return f"{per_mm * (10.0 if figures.metric else INCH):.1f}"
