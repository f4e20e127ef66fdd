"""The project tried with another width, length or draft, to find out what would fit.

A trial works the warp out anew, so whatever it says is what the weaver gets when she changes the
spec so. Figures to be put into a spec are cut to what is printed, never rounded up.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from cards.calculation.rounding import whole_up
from cards.figures import Figures
from cards.project.ends import whole_threading
from cards.project.model import Warp
from cards.spec import DoubleWeave, JoinText, Spec
from cards.units import INCH, YARD, Units

# Works the warp of a changed spec out; None where nothing comes of it.
Again = Callable[[Spec], Warp | None]

_MOST_TRIALS = 8
# To a millimetre or an eighth of an inch; lengths to a centimetre or half an inch.
LENGTH_STEP: dict[Units, float] = {"metric": 10.0, "imperial": float(INCH) / 2}
WIDTH_STEP: dict[Units, float] = {"metric": 1.0, "imperial": float(INCH) / 8}


def with_cloth(spec: Spec, **changes: float | None) -> Spec:
    """Return a spec with some keys of its cloth changed; lengths in mm."""
    return spec.model_copy(update={"cloth": spec.cloth.model_copy(update=changes)})


def in_two_layers(spec: Spec) -> Spec:
    """Return a spec whose draft is built of two layers joined at the left."""
    built = DoubleWeave.model_construct(layers=2, join=JoinText("left"))
    draft = spec.draft.model_copy(
        update={
            "double_weave": built,
            **dict.fromkeys(("threading", "tie_up", "treadling", "lifts", "shuttles")),
        }
    )
    own = dict.fromkeys(("treadling", "lifts", "shuttles"))
    weave = [section.model_copy(update=own) for section in spec.weave]
    return spec.model_copy(update={"draft": draft, "weave": weave})


def width_down(mm: float, units: Units) -> float:
    """Return a width cut to the millimetre, or to an eighth of an inch."""
    step = WIDTH_STEP[units]
    return math.floor(mm / step * (1 + 1e-12)) * step


def in_both(figures: Figures, mm: float) -> str:
    """Return the most that a width may be, in both systems, cut in each to what is printed."""
    other = figures.other()
    first, second = (each.width(width_down(mm, each.units)) for each in (figures, other))
    return f"{first} ({second})"


def long_in_both(figures: Figures, mm: float) -> str:
    """Return the most that a warp may be long, in both systems, cut in each to what is printed.

    >>> long_in_both(Figures("metric"), 2000.0)
    '2.00 m (2.18 yd)'
    """
    cut = []
    for each in (figures, figures.other()):
        step = 10.0 if each.metric else float(YARD) / 8
        eighths = abs(mm / step - round(mm / step)) < 1e-6
        step = step if each.metric or eighths else float(YARD) / 100
        cut.append(each.long(math.floor(mm / step * (1 + 1e-12)) * step))
    return f"{cut[0]} ({cut[1]})"


def no_wider(
    spec: Spec, an_end: float, most: int, fits: Callable[[Warp], bool], again: Again
) -> tuple[float, Warp] | None:
    """Return the largest finished width in mm at which a warp of about `most` ends `fits`.

    `an_end` is the finished width in mm that the sett gives an end; a reed may give another. What
    is returned is to be put into the spec as its width, or twice as its circumference; the warp
    that comes of it is returned too. None where no width does, or the ends are fixed.
    """
    threading = whole_threading(spec)
    written = spec.draft.double_weave is None
    if spec.given.ends is not None or (written and threading.fill is None):
        return None
    ends, once = most, 1
    if written and threading.fill is not None:
        once = threading.fill.once
        ends = threading.length + (most - threading.length) // once * once

    def tried(ends: int) -> tuple[float, Warp | None]:
        width = width_down(an_end * ends, spec.units)
        return width, again(of_width(spec, width)) if width > 0 else None

    # By proportion a repeat is lost now and then: to rounding, or where doubled edges save room.
    width, other = tried(ends + once)
    if other is not None and fits(other):
        return width, other
    for attempt in range(_MOST_TRIALS):
        if ends < 1:
            break
        width, other = tried(ends)
        if other is not None and fits(other):
            return width, other
        # Ends are raised until the threading comes out: the next lower number is some way off.
        ends -= max(1, other.ends - most if other is not None else 1) * 2**attempt
    return None


def of_width(spec: Spec, width: float) -> Spec:
    """Return a spec with another finished width in mm, which a tube has lying flat."""
    if spec.cloth.circumference is not None:
        return with_cloth(spec, circumference=2 * width)
    return with_cloth(spec, width=width)


def more_open(spec: Spec, share: float, fits: Callable[[Warp], bool], again: Again) -> float | None:
    """Return the closest sett of one layer, per mm, at which the warp `fits`, None if none does.

    `share` of the sett is about right. Setts are whole tenths per cm, or halves per inch.
    """
    if spec.sett is None or spec.given.ends is not None or spec.given.width_in_reed is not None:
        return None
    step = 0.01 if spec.units == "metric" else 0.5 / float(INCH)
    number = math.floor(spec.sett * share / step + 1e-9)
    for tried in range(number, max(0, number - _MOST_TRIALS), -1):
        other = again(spec.model_copy(update={"sett": tried * step}))
        if other is not None and fits(other):
            return tried * step
    return None


def warps_for(pieces: int, number: int) -> int:
    """Return how many warps of `number` pieces are needed for all.

    >>> warps_for(6, 4)
    2
    """
    return whole_up(pieces / number)
