"""The size of a yarn: by its label, else its count, else its wraps, and what these say together.

The label wins over the count: it was measured on this yarn. Wraps depend on the hand that winds
them, so a size by wraps alone is an estimate.
"""

from __future__ import annotations

from dataclasses import dataclass

from cards.calculation.sett import constant_for, diameters, tex_by_wraps
from cards.calculation.workings import Known
from cards.calculation.yarn_size import resultant, tex_of, tex_of_label
from cards.project.problems import Problems
from cards.spec import Yarn, YarnSize
from cards.units import YARD, Units

# A label and a count that differ by more than this are probably not the same yarn.
_LABEL_TOLERANCE = 0.05

# Wraps that differ by more than this from what the size says were miscounted, or of another yarn.
_WRAPS_TOLERANCE = 0.30

# A length that kitchen scales tell apart well enough, in mm.
_TO_WEIGH: dict[Units, float] = {"metric": 20_000.0, "imperial": 20.0 * float(YARD)}


@dataclass(frozen=True, slots=True)
class Size:
    """A size in tex, in the weaver's own notation, and whether it is only estimated."""

    tex: float
    text: str
    estimated: bool = False


def constant_of(yarn: Yarn) -> Known:
    """Return Ashenhurst's constant of a yarn: the weaver's own, else by its fibre."""
    assumed = constant_for(yarn.fibre.names if yarn.fibre else ())
    if yarn.ashenhurst is None:
        return assumed
    return Known(yarn.ashenhurst, "given", low=assumed.low, high=assumed.high)


def size_of(key: str, yarn: Yarn, problems: Problems) -> Size:
    """Return the size of a yarn; raises Stopped where it has none, or one of two readings."""
    counted = _counted(key, yarn, yarn.size, problems) if yarn.size else None
    labelled = tex_of_label(yarn.label.length, yarn.label.mass) if yarn.label else None
    if counted is not None and labelled is not None:
        _check_label(key, counted, labelled, problems)
    tex = labelled or counted
    if tex is None:
        return _by_wraps(key, yarn, problems)
    _check_wraps(key, yarn, tex, problems)
    if yarn.size is not None:
        return Size(tex, yarn.size.written)
    return Size(tex, yarn.label.text if yarn.label else "")


def _counted(key: str, yarn: Yarn, size: YarnSize, problems: Problems) -> float:
    """Return the tex that the size comes to: that of all its singles."""
    tex = tex_of_size(size)
    if yarn.label is None and _is_silk_of_two_readings(yarn, size):
        _two_silks(key, size, tex, problems)
    return tex


def tex_of_size(size: YarnSize) -> float:
    """Return the tex of a folded yarn: its singles added up, twist not reckoned."""
    return resultant(tex_of(each.system, each.count, each.ply) for each in size.singles)


def _is_silk_of_two_readings(yarn: Yarn, size: YarnSize) -> bool:
    """Whether silk is sized as `Ne 20/2`: spun silk may state the count of the folded yarn."""
    fibres = yarn.fibre.names if yarn.fibre else ()
    return fibres == ("silk",) and bool(size.text) and size.system == "Ne" and size.ply > 1


def _two_silks(key: str, size: YarnSize, tex: float, problems: Problems) -> None:
    """Name both readings of a spun silk (Taylor, Cotton Weaving and Designing, 1909)."""
    figures, count = problems.figures, f"{size.count:g}"
    folded = tex_of(size.system, size.count)
    problems.error(
        "ambiguous-size",
        f"`{size.text}` of silk '{key}' may be {size.ply} plies of {count}, {figures.size(tex)}, "
        f"or spun silk that is {count} when folded, {figures.size(folded)}",
        f"write {{system: Ne, count: {count}, ply: {size.ply}}} for the first, Ne {count} for the "
        "second, or add the label, which settles it",
        "yarns",
        key,
        "size",
    )


def _check_label(key: str, counted: float, labelled: float, problems: Problems) -> None:
    if abs(counted / labelled - 1) > _LABEL_TOLERANCE:
        problems.warning(
            "label-against-size",
            f"the label of '{key}' makes it {labelled:.0f} tex, its size {counted:.0f} tex",
            "the label is used; correct whichever is wrong, or leave the size out",
            "yarns",
            key,
            "label",
        )


def _check_wraps(key: str, yarn: Yarn, tex: float, problems: Problems) -> None:
    """Note wraps that are not those of a yarn of this size."""
    if yarn.wraps is None:
        return
    expected = diameters(constant_of(yarn).value, tex)
    off = yarn.wraps / expected - 1
    if abs(off) > _WRAPS_TOLERANCE:
        figures = problems.figures
        problems.note(
            "wraps-against-size",
            f"'{key}' has {figures.density(yarn.wraps)} wraps, {abs(off):.0%} "
            f"{'more' if off > 0 else 'fewer'} than the {figures.density(expected)} of its size",
            "wrap it again without pulling, or look at the size; the size is used",
            "yarns",
            key,
            "wraps",
        )


def _by_wraps(key: str, yarn: Yarn, problems: Problems) -> Size:
    if yarn.wraps is None:
        raise problems.stop(
            "yarn-without-size",
            f"yarn '{key}' has neither a size nor a label",
            "add `size: Ne 8/2` or `label: 590 m per 100 g`",
            "yarns",
            key,
        )
    figures = problems.figures
    tex = tex_by_wraps(constant_of(yarn).value, yarn.wraps)
    problems.warning(
        "size-by-wraps",
        f"the size of '{key}' is only estimated from its wraps, at about {figures.size(tex)}",
        f"weigh a measured length, at best {figures.long(_TO_WEIGH[figures.units])}, and write it "
        "as its label",
        "yarns",
        key,
        "wraps",
    )
    return Size(
        tex, f"{figures.density(yarn.wraps).replace(' ', ' wraps ', 1)}, estimated", estimated=True
    )
