"""The record of a project for the binder: what was planned beside what it really was.

Four stages: at the reed, under tension on the loom, off the loom, washed. What was measured stands
in the spec; the rest is left blank for the pencil. Threads to a length are those of one layer.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from cards.calculation.measured import Found
from cards.figures import INCH, OUNCE, Figures, money, plain
from cards.heading import Heading, heading_of
from cards.plan_allowances import allowance
from cards.project import Project
from cards.project.model import ProjectYarn
from cards.spec import Measured

STAGES: Final = ("at the reed", "under tension", "off the loom", "washed")


@dataclass(frozen=True, slots=True)
class Kept:
    """One figure: what was planned, and what it was, empty where that is to be written in."""

    planned: str
    actual: str = ""


@dataclass(frozen=True, slots=True)
class StageRow:
    """A size at the four stages; None at a stage where it is not measured."""

    name: str
    stages: tuple[Kept | None, ...]


@dataclass(frozen=True, slots=True)
class Loss:
    """A loss or a length: planned with its origin, what it was, and how to reckon it."""

    name: str
    kept: Kept
    how: str


@dataclass(frozen=True, slots=True)
class YarnKept:
    """A yarn: mass planned for the project, before, after and used, where they were weighed."""

    yarn: ProjectYarn
    planned: str
    before: str
    after: str
    used: str


@dataclass(frozen=True, slots=True)
class RecordSheet:
    """All that the record says; `sizes` tells what the lengths and widths are of."""

    heading: Heading
    sizes: str
    stages: tuple[StageRow, ...]
    losses: tuple[Loss, ...]
    lengths: tuple[Loss, ...]
    yarns: tuple[YarnKept, ...]
    hours: Kept
    cost: Kept
    cautions: tuple[str, ...]


# General caution; labels and local rules prevail (common practice, no source).
_CAUTIONS: Final = (
    "Follow the labels of yarn and soap and the rules of your place before what is written here.",
    "Hot water scalds, wet floors are slippery, and wet cloth is heavy: lift it in parts.",
    "Wash the sample first: try whether the dye bleeds. Fulling cannot be undone.",
)


def record_sheet(project: Project) -> RecordSheet:
    """Return the record of a project, with what was measured filled in."""
    read = project.measured
    actual = read.actual if read is not None else Measured()
    found = {each.key: each for each in read.found} if read is not None else {}
    used = read.used if read is not None else None
    figures = Figures(project.units)
    return RecordSheet(
        heading=heading_of(project, "Record"),
        sizes=_sizes_words(project),
        stages=tuple(_stages(project, actual, figures)),
        losses=tuple(_losses(project, found, figures)),
        lengths=tuple(_lengths(project, actual, used, figures)),
        yarns=tuple(_yarns(project, figures)),
        hours=Kept(
            f"{plain(project.hours.counted)} h", f"{plain(actual.hours)} h" if actual.hours else ""
        ),
        cost=Kept(_cost(project)),
        cautions=_CAUTIONS,
    )


def _sizes_words(project: Project) -> str:
    words = "Lengths are of the woven part of one piece, hems flat and counted, fringes not."
    if project.warp.widths != 1:
        words += " Off the loom the cloth is opened out; at the reed it is as wide as one layer."
    if project.sett.layers > 1:
        words += " Ends and picks are those of one layer."
    if project.piece:
        words += f" One piece of “{project.piece}”."
    return words


def _rate(project: Project, name: str) -> float:
    return next(step.value for step in project.allowances if step.name == name)


@dataclass(frozen=True, slots=True)
class _Stages:
    """One size stage by stage in mm, or threads per mm; None where it is not planned or known."""

    planned: tuple[float | None, ...]
    actual: tuple[float | None, ...]


def _stages(project: Project, actual: Measured, figures: Figures) -> Iterable[StageRow]:
    widths, lengths = _widths(project, actual), _woven(project, actual)
    yield _row("width", widths, figures, "width", (True, True, True, True))
    yield _row("length of one piece", lengths, figures, "tape", (False, True, True, True))
    ends = _threads(project.warp.ends / float(project.sett.warp_share), widths, _opened(project))
    unit = "cm" if figures.metric else "in"
    yield _row(f"ends per {unit}", ends, figures, "density", (True, True, True, True))
    picks = _picks(project, actual, lengths)
    yield _row(f"picks per {unit}", picks, figures, "density", (False, True, True, True))


def _opened(project: Project) -> tuple[float, ...]:
    """Return how many layers wide the cloth is at each stage: once off the loom, opened out."""
    widths = float(project.warp.widths)
    return (1.0, 1.0, widths, widths)


def _widths(project: Project, actual: Measured) -> _Stages:
    warp = project.warp
    shrunk = 1 - _rate(project, "shrinkage in width")
    off = warp.finished_width / shrunk
    return _Stages(
        (warp.width_in_reed, None, off, warp.finished_width),
        (actual.width_in_reed, None, actual.off_loom.width, actual.washed.width),
    )


def _woven(project: Project, actual: Measured) -> _Stages:
    tape = sum(section.length for section in project.weft.sections)
    off = tape * (1 - _rate(project, "relaxation off the loom"))
    washed = off * (1 - _rate(project, "shrinkage in length"))
    return _Stages(
        (None, tape, off, washed),
        (None, actual.woven, actual.off_loom.length, actual.washed.length),
    )


def _threads(number: float, sizes: _Stages, layers: tuple[float, ...]) -> _Stages:
    """Return the threads of one layer to a mm, `number` of them in each layer of a size."""

    def dense(size: float | None, many: float) -> float | None:
        return None if size is None else number * many / size

    return _Stages(
        tuple(map(dense, sizes.planned, layers)), tuple(map(dense, sizes.actual, layers))
    )


def _picks(project: Project, actual: Measured, lengths: _Stages) -> _Stages:
    """Return picks of one layer to a mm; the actual ones only where they were counted or given."""
    share = float(project.sett.weft_share)
    planned = _threads(project.weft.picks_each / share, lengths, (1.0,) * len(STAGES)).planned
    if actual.picks is None:
        return _Stages(planned, (None,) * len(STAGES))
    counted = _threads(actual.picks / share, lengths, (1.0,) * len(STAGES)).actual
    return _Stages(planned, counted)


def _row(
    name: str, sizes: _Stages, figures: Figures, kind: str, there: tuple[bool, ...]
) -> StageRow:
    def text(size: float | None) -> str:
        if size is None:
            return ""
        if kind == "density":
            return plain(size * (10 if figures.metric else INCH), 1)
        written: str = getattr(figures, kind)(size)
        return written

    pairs = zip(sizes.planned, sizes.actual, there, strict=True)
    return StageRow(
        name, tuple(Kept(text(one), text(two)) if here else None for one, two, here in pairs)
    )


_HOW: Final = (
    ("take-up of the warp", ("allowances", "take_up"), "(warp of one piece − off the loom) ÷ warp"),
    ("relaxation off the loom", ("allowances", "relaxation"),
     "(under tension − off the loom) ÷ under tension"),
    ("draw-in", ("allowances", "draw_in"), "(at the reed − off the loom) ÷ at the reed"),
    ("shrinkage in length", ("allowances", "shrinkage", "length"),
     "(off the loom − washed) ÷ off the loom"),
    ("shrinkage in width", ("allowances", "shrinkage", "width"),
     "(off the loom − washed) ÷ off the loom"),
    ("take-up of the weft", ("allowances", "weft_take_up"),
     "weft used ÷ (picks × width in the reed) ÷ joins − 1"),
)  # fmt: skip


def _losses(
    project: Project, found: dict[tuple[str, ...], Found], figures: Figures
) -> Iterable[Loss]:
    known = {step.name: step for step in project.allowances}
    for name, key, how in _HOW:
        step, read = known[name], found.get(key)
        actual = ""
        if read is not None and read.value is not None:
            actual = f"{plain(read.value * 100, 1)} %"
        planned = f"{allowance(step, step.value, figures)} {step.origin}"
        yield Loss(name, Kept(planned, actual), how)


def _lengths(
    project: Project, actual: Measured, used: float | None, figures: Figures
) -> Iterable[Loss]:
    def kept(planned: float, real: float | None, kind: str) -> Kept:
        write = getattr(figures, kind)
        return Kept(write(planned), "" if real is None else write(real))

    woven = {
        step.name: step.value for step in project.steps if step.name.startswith("warp used, one")
    }
    waste = next(step for step in project.allowances if step.name == "loom waste")
    yield Loss("warp as it was wound", kept(project.warp.length, actual.warp_length, "long"), "")
    yield Loss(
        "warp of one piece",
        kept(next(reversed(woven.values())), used, "tape"),
        "warp less waste, header, sample, fringes and gaps, ÷ pieces",
    )
    yield Loss("waste of the loom", kept(waste.value, actual.waste, "tape"), "what cannot be woven")
    unwoven = "" if actual.unwoven is None else figures.tape(actual.unwoven)
    yield Loss("left that could be woven", Kept("", unwoven), "")


def _yarns(project: Project, figures: Figures) -> Iterable[YarnKept]:
    masses = project.measured.masses if project.measured is not None else {}
    for total in project.totals:
        before, after, used = "", "", ""
        if total.yarn.key in masses:
            one, two = masses[total.yarn.key]
            before, after, used = (_mass(each, figures) for each in (one, two, one - two))
        yield YarnKept(total.yarn, _mass(total.need.mass, figures), before, after, used)


def _mass(grams: float, figures: Figures) -> str:
    """Return a mass as it is read off a scale."""
    return f"{round(grams)} g" if figures.metric else f"{plain(grams / OUNCE, 1)} oz"


def _cost(project: Project) -> str:
    """Return what all was planned to cost; nothing where a price is missing, for a part is less."""
    bill = project.bill
    if bill.missing:
        return ""
    sums = (bill.total,) if bill.total is not None else (*bill.yarn, bill.hours)
    return " + ".join(money(each.amount, each.currency) for each in sums if each is not None)
