"""Width, ends and length of a warp, from the finished size of the cloth back to the loom.

Every percentage is a fraction of the larger, earlier length, so lengths are divided by
(1 - fraction), never multiplied by (1 + fraction): 10 in that lost 20 % came from 12.5 in, not 12.
The bases of take-up (straightened yarn) and crimp (cloth) are those of ASTM D3883.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from cards.calculation.rounding import warp_length_up
from cards.calculation.workings import Inputs, Known, Workings
from cards.units import Units


@dataclass(frozen=True, slots=True)
class Fringe:
    """An unwoven end of a piece: finished length and knot in mm, twist loss as a fraction."""

    finished: float
    twist: Known
    knot: Known
    from_waste: bool


@dataclass(frozen=True, slots=True)
class Rates:
    """The fractions by which cloth becomes smaller than its yarn, each of the earlier length."""

    take_up: Known
    relaxation: Known
    draw_in: Known
    shrinkage_length: Known
    shrinkage_width: Known


@dataclass(frozen=True, slots=True)
class PieceLengths:
    """One piece in mm: cloth off the loom before washing, warp it uses, tape reading on the loom.

    `weave_to` is read under tension.
    """

    cloth: float
    warp_used: float
    weave_to: float


@dataclass(frozen=True, slots=True)
class LoomLengths:
    """What the loom and the weaver need besides the cloth, in mm."""

    header: Known
    sample: Known
    waste: Known
    margin: Known
    margin_least: float
    gap: Known


def take_up(warp_mm: float, cloth_mm: float) -> float:
    """Fraction of the straightened warp that the cloth is shorter by (ASTM D3883)."""
    return (warp_mm - cloth_mm) / warp_mm


def crimp(warp_mm: float, cloth_mm: float) -> float:
    """Fraction of the cloth that its straightened warp is longer by (ASTM D3883)."""
    return (warp_mm - cloth_mm) / cloth_mm


def width_in_reed(width_finished: float, rates: Rates, work: Workings) -> float:
    """Return the width in the reed in mm for a finished width in mm."""
    work.begin("width")
    shrunk = work.known("shrinkage in width", rates.shrinkage_width, "fraction")
    drawn = work.known("draw-in", rates.draw_in, "fraction")
    cloth = work.worked(
        "width off the loom",
        "finished width ÷ (1 − shrinkage)",
        (("finished width", width_finished, "mm"), ("shrinkage", shrunk, "fraction")),
        width_finished / (1 - shrunk),
        "mm",
    )
    return work.worked(
        "width wanted in the reed",
        "width off the loom ÷ (1 − draw-in)",
        (("width off the loom", cloth, "mm"), ("draw-in", drawn, "fraction")),
        cloth / (1 - drawn),
        "mm",
    )


def finished_width(width_reed: float, rates: Rates) -> float:
    """Return the finished width in mm that a width in the reed in mm comes to."""
    return width_reed * (1 - rates.draw_in.value) * (1 - rates.shrinkage_width.value)


def record_finished_width(
    width_reed: float, widths: Fraction, rates: Rates, work: Workings
) -> float:
    """Return the finished width in mm of cloth `width_reed` mm wide at the reed, opened out.

    `widths` is how many times as wide as one layer it opens out.
    """
    work.begin("reed")
    drawn = work.known("draw-in", rates.draw_in, "fraction")
    shrunk = work.known("shrinkage in width", rates.shrinkage_width, "fraction")
    inputs: Inputs = (
        ("width at the reed", width_reed, "mm"),
        ("draw-in", drawn, "fraction"),
        ("shrinkage", shrunk, "fraction"),
    )
    formula = "width at the reed × (1 − draw-in) × (1 − shrinkage)"
    if widths != 1:
        inputs = (*inputs, ("widths", float(widths), "number"))
        formula += " × widths"
    finished = finished_width(width_reed, rates) * float(widths)
    return work.worked("finished width that comes of it", formula, inputs, finished, "mm")


def on_loom(finished: float, rates: Rates) -> float:
    """Return the length in mm measured on the loom under tension for a finished length in mm."""
    return finished / (1 - rates.shrinkage_length.value) / (1 - rates.relaxation.value)


def finished_length(on_loom_mm: float, rates: Rates) -> float:
    """Return the finished length in mm of what measures `on_loom_mm` under tension."""
    return on_loom_mm * (1 - rates.relaxation.value) * (1 - rates.shrinkage_length.value)


def piece_lengths(finished: float, hem: float, rates: Rates, work: Workings) -> PieceLengths:
    """Return the lengths of one piece of `finished` mm with a hem of `hem` mm at both ends."""
    work.begin("lengths")
    shrunk = work.known("shrinkage in length", rates.shrinkage_length, "fraction")
    taken = work.known("take-up of the warp", rates.take_up, "fraction")
    relaxed = work.known("relaxation off the loom", rates.relaxation, "fraction")
    cloth = work.worked(
        "cloth off the loom, one piece",
        "(finished length + 2 × hem) ÷ (1 − shrinkage)",
        (
            ("finished length", finished, "mm"),
            ("hem", hem, "mm"),
            ("shrinkage", shrunk, "fraction"),
        ),
        (finished + 2 * hem) / (1 - shrunk),
        "mm",
    )
    used = work.worked(
        "warp used, one piece",
        "cloth off the loom ÷ (1 − take-up)",
        (("cloth off the loom", cloth, "mm"), ("take-up", taken, "fraction")),
        cloth / (1 - taken),
        "mm",
    )
    tape = work.worked(
        "weave to, under tension, one piece",
        "cloth off the loom ÷ (1 − relaxation)",
        (("cloth off the loom", cloth, "mm"), ("relaxation", relaxed, "fraction")),
        cloth / (1 - relaxed),
        "mm",
    )
    return PieceLengths(cloth, used, tape)


def fringe_on_loom(fringe: Fringe, rates: Rates, work: Workings) -> float:
    """Return the mm of warp left for one fringe; it is not woven, so it takes up nothing."""
    work.begin("lengths")
    shrunk = work.known("shrinkage in length", rates.shrinkage_length, "fraction")
    twist = work.known("twist loss of the fringe", fringe.twist, "fraction")
    knot = work.known("warp in a knot", fringe.knot, "mm")
    return work.worked(
        "one fringe on the loom",
        "finished fringe ÷ (1 − shrinkage) ÷ (1 − twist loss) + knot",
        (
            ("finished fringe", fringe.finished, "mm"),
            ("shrinkage", shrunk, "fraction"),
            ("twist loss", twist, "fraction"),
            ("knot", knot, "mm"),
        ),
        fringe.finished / (1 - shrunk) / (1 - twist) + knot,
        "mm",
    )


def fringes_in_warp(
    raw: float,
    pieces: int,
    fringe: Fringe,
    waste: float,
    work: Workings,
    last: float | None = None,
) -> float:
    """Return the warp in mm that all fringes add to the warp.

    The two outer fringes may come out of the loom waste; what the waste cannot hold is added.
    `last` is one fringe of the last piece where that is of another kind, whose fringes are reckoned
    with it.
    """
    work.begin("warp")
    if not fringe.from_waste:
        return work.worked(
            "fringes in the warp",
            "2 × pieces × one fringe",
            (("pieces", pieces, "pieces"), ("one fringe", raw, "mm")),
            2 * pieces * raw,
            "mm",
        )
    if last is not None and last != raw:
        return _fringes_beside(raw, pieces, last, waste, work)
    beyond = work.worked(
        "what the waste cannot hold of the outer fringes",
        "2 × one fringe − waste, at least nothing",
        (("one fringe", raw, "mm"), ("waste", waste, "mm")),
        max(0.0, 2 * raw - waste),
        "mm",
    )
    return work.worked(
        "fringes in the warp",
        "(2 × pieces − 2) × one fringe + beyond the waste",
        (
            ("pieces", pieces, "pieces"),
            ("one fringe", raw, "mm"),
            ("beyond the waste", beyond, "mm"),
        ),
        (2 * pieces - 2) * raw + beyond,
        "mm",
    )


def _fringes_beside(raw: float, pieces: int, last: float, waste: float, work: Workings) -> float:
    """Return what fringes add where the outer ones are of two kinds of pieces that differ."""
    beyond = work.worked(
        "what the waste cannot hold of the outer fringes",
        "one fringe + last fringe − waste, at least nothing",
        (("one fringe", raw, "mm"), ("last fringe", last, "mm"), ("waste", waste, "mm")),
        max(0.0, raw + last - waste),
        "mm",
    )
    return work.worked(
        "fringes in the warp",
        "(2 × pieces − 1) × one fringe − last fringe + beyond the waste",
        (
            ("pieces", pieces, "pieces"),
            ("one fringe", raw, "mm"),
            ("last fringe", last, "mm"),
            ("beyond the waste", beyond, "mm"),
        ),
        (2 * pieces - 1) * raw - last + beyond,
        "mm",
        note="the last fringe is reckoned with the pieces of its kind",
    )


@dataclass(frozen=True, slots=True)
class Needed:
    """What a warp must hold in mm: bare, and with a margin for mistakes."""

    bare: float
    margin: float

    @property
    def total(self) -> float:
        """Length with margin, before it is rounded up."""
        return self.bare + self.margin


def warp_needed(
    used: float,
    pieces: int,
    fringes: float,
    loom: LoomLengths,
    work: Workings,
    others: float = 0.0,
) -> Needed:
    """Return the mm of warp that pieces, fringes and loom need; `used` is for one piece.

    `others` is what pieces of other kinds on the same warp take, with their fringes and gaps.
    """
    work.begin("warp")
    gap = work.known("gap between pieces", loom.gap, "mm")
    header = work.known("header", loom.header, "mm")
    sample = work.known("sample", loom.sample, "mm")
    waste = work.known("loom waste", loom.waste, "mm")
    inputs: Inputs = (
        ("pieces", pieces, "pieces"),
        ("warp used", used, "mm"),
        ("fringes", fringes, "mm"),
        ("gap", gap, "mm"),
        ("header", header, "mm"),
        ("sample", sample, "mm"),
        ("waste", waste, "mm"),
    )
    formula = "pieces × warp used + fringes + (pieces − 1) × gap + header + sample + waste"
    if others:
        inputs = (*inputs, ("warp of the other pieces", others, "mm"))
        formula += " + warp of the other pieces"
    raw = pieces * used + fringes + (pieces - 1) * gap + header + sample + waste + others
    bare = work.worked("warp before the margin", formula, inputs, raw, "mm")
    return Needed(bare, _margin(bare, loom, work))


def _margin(bare: float, loom: LoomLengths, work: Workings) -> float:
    share = work.known("margin on the warp", loom.margin, "fraction")
    least = loom.margin_least if share else 0.0
    return work.worked(
        "margin",
        "warp before the margin × share of margin, at least the least margin",
        (
            ("warp before the margin", bare, "mm"),
            ("share of margin", share, "fraction"),
            ("the least margin", least, "mm"),
        ),
        max(bare * share, least),
        "mm",
    )


def warp_length(needed: Needed, units: Units, work: Workings) -> float:
    """Return the length in mm to wind, raised to the next 10 cm or quarter yard."""
    work.begin("warp")
    step = "10 cm" if units == "metric" else "quarter yard"
    return work.worked(
        "warp length",
        f"warp before the margin + margin, up to the next {step}",
        (("warp before the margin", needed.bare, "mm"), ("margin", needed.margin, "mm")),
        needed.total,
        "mm",
        rounded=warp_length_up(needed.total, units),
    )
