"""The record of a project for the binder: what was planned beside what it really was.

Four stages: at the reed, under tension on the loom, off the loom, washed. What was measured stands
in the spec; the rest is left blank for the pencil. Threads to a length are those of one layer.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from cards.calculation.measured import Found
from cards.cautions import RECORD, caution_on
from cards.figures import INCH, OUNCE, Figures, money, plain, times
from cards.heading import Heading, heading_of
from cards.plan_allowances import allowance
from cards.project import Project
from cards.project.model import ProjectYarn
from cards.project.photographs import ProjectPhotograph
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
class SizesOf:
    """The sizes of one kind of piece; `words` tell what lengths and widths are of."""

    title: str
    words: str
    stages: tuple[StageRow, ...]


@dataclass(frozen=True, slots=True)
class Figure:
    """A loss, a length or a sum: planned, with its origin if it was allowed for, and real."""

    name: str
    kept: Kept


@dataclass(frozen=True, slots=True)
class Group:
    """Figures under one title."""

    title: str
    rows: tuple[Figure, ...]


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
    """All that the record says.

    `blanks` are to be written on: who, for whom, when. `sizes` has every kind of piece, `groups`
    what each lost and what the whole project took; `how` tells how that is reckoned.
    """

    heading: Heading
    blanks: tuple[str, ...]
    sizes: tuple[SizesOf, ...]
    groups: tuple[Group, ...]
    how: str
    yarns: tuple[YarnKept, ...]
    cautions: str
    photographs: tuple[ProjectPhotograph, ...] = ()


_BLANKS: Final = ("for", "off the loom on", "finished on")


def record_sheet(project: Project) -> RecordSheet:
    """Return the record of a project, with what was measured filled in.

    Where pieces are not alike, that is of the first kind: of the others it is still to be measured.
    """
    read = project.measured
    actual = read.actual if read is not None else Measured()
    found = {each.key: each for each in read.found} if read is not None else {}
    figures = Figures(project.units)
    groups = [Group(_of("What was lost", project), tuple(_losses(project, found, figures)))]
    for kind in project.further:
        rows = tuple(_losses(kind, {}, figures))
        # The weft of all kinds is weighed together.
        groups.append(Group(_of("What was lost", kind), rows[:-1]))
    groups.append(Group("What it took", tuple(_taken(project, figures))))
    return RecordSheet(
        heading=heading_of(project, "Record"),
        blanks=(*(() if project.info.maker else ("woven by",)), *_BLANKS),
        sizes=tuple(
            _sizes(kind, actual if kind is project else Measured(), number, figures)
            for kind, (_, number) in zip(project.kinds, project.every_kind, strict=True)
        ),
        groups=tuple(groups),
        how=_how(project),
        yarns=tuple(_yarns(project, figures)),
        cautions=caution_on(project, RECORD),
        photographs=project.photographs,
    )


def _of(title: str, project: Project) -> str:
    return f"{title}, {project.piece}" if project.piece else title


def _sizes(kind: Project, actual: Measured, number: int, figures: Figures) -> SizesOf:
    title = _of("Sizes", kind)
    if number > 1:
        title += f", one of {number} pieces"
    first = kind.piece == kind.every_kind[0][0]
    words = _sizes_words(kind) if first else ""
    return SizesOf(title, words, tuple(_stages(kind, actual, figures)))


def _sizes_words(project: Project) -> str:
    words = "Lengths are of the woven part, hems flat and counted, fringes not."
    if project.warp.widths != 1:
        words += " Off the loom the cloth is opened out; at the reed it is as wide as one layer."
    elif project.sett.layers > 1 and project.cloth.fold_sides:
        words += " Folded cloth is measured lying flat."
    if project.sett.layers > 1:
        words += " Ends and picks are those of one layer."
    return words


def _how(project: Project) -> str:
    """Return how what was lost is reckoned from what was measured."""
    across = ""
    if project.warp.widths != 1:
        across = f" (of all layers: {times(project.warp.widths)} times the width of one)"
    words = (
        "Each share is (earlier − later) ÷ earlier. Take-up of the warp: from the warp of one "
        "piece to its length off the loom; relaxation: from under tension to off the loom; "
        f"draw-in: from the reed{across} to off the loom; shrinkage: from off the loom to washed. "
        "Take-up of the weft: weft used ÷ (picks × width at the reed × (1 + joins)) − 1. "
    )
    if len(project.every_kind) > 1:
        return f"{words}Warp of one piece: mark the warp at both ends of a piece of each kind."
    return (
        f"{words}Warp of one piece: the warp less waste, what is left, header, sample, fringes "
        "and gaps, ÷ pieces; or mark it at both ends of a piece."
    )


def _rate(project: Project, name: str) -> float:
    """Return an allowance; what a further kind of piece does not name is in its steps too."""
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


def planned_widths(project: Project) -> tuple[float, None, float, float]:
    """Return the width in mm at the four stages, None under tension, where it is not measured."""
    warp = project.warp
    off = warp.finished_width / (1 - _rate(project, "shrinkage in width"))
    return (warp.width_in_reed, None, off, warp.finished_width)


def planned_lengths(project: Project) -> tuple[None, float, float, float]:
    """Return the woven length in mm of one piece at the four stages, None at the reed."""
    tape = sum(section.length for section in project.weft.sections)
    off = tape * (1 - _rate(project, "relaxation off the loom"))
    return (None, tape, off, off * (1 - _rate(project, "shrinkage in length")))


def _widths(project: Project, actual: Measured) -> _Stages:
    return _Stages(
        planned_widths(project),
        (actual.width_in_reed, None, actual.off_loom.width, actual.washed.width),
    )


def _woven(project: Project, actual: Measured) -> _Stages:
    return _Stages(
        planned_lengths(project),
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
    """Return picks of one layer to a mm; the actual ones only where they were counted.

    They are those of the sett: where layers are woven together for a hem, picks are fewer there.
    """
    tape = sum(section.length for section in project.weft.sections)
    number = project.sett.picks_layer * tape
    planned = _threads(number, lengths, (1.0,) * len(STAGES)).planned
    if actual.picks is None:
        return _Stages(planned, (None,) * len(STAGES))
    number *= actual.picks / project.weft.picks_each
    return _Stages(planned, _threads(number, lengths, (1.0,) * len(STAGES)).actual)


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


# Each by its name in the workings, and its key in a spec.
_LOST: Final = (
    ("take-up of the warp", ("allowances", "take_up")),
    ("relaxation off the loom", ("allowances", "relaxation")),
    ("draw-in", ("allowances", "draw_in")),
    ("shrinkage in length", ("allowances", "shrinkage", "length")),
    ("shrinkage in width", ("allowances", "shrinkage", "width")),
    ("take-up of the weft", ("allowances", "weft_take_up")),
)


def _losses(
    project: Project, found: dict[tuple[str, ...], Found], figures: Figures
) -> Iterable[Figure]:
    known = {step.name: step for step in project.allowances}
    for name, key in _LOST:
        step, read = known[name], found.get(key)
        actual = ""
        if read is not None and read.value is not None:
            actual = f"{plain(read.value * 100, 1)} %"
        planned = f"{allowance(step, step.value, figures)} {step.origin}"
        yield Figure(name, Kept(planned, actual))


def _taken(project: Project, figures: Figures) -> Iterable[Figure]:
    """Yield what the whole project took: warp, hours and cost."""
    read = project.measured
    actual = read.actual if read is not None else Measured()

    def kept(planned: float, real: float | None, kind: str) -> Kept:
        write = getattr(figures, kind)
        return Kept(write(planned), "" if real is None else write(real))

    waste = next(step for step in project.allowances if step.name == "loom waste")
    yield Figure("warp as wound", kept(project.warp.length, actual.warp_length, "long"))
    for kind in project.kinds:
        used = read.used if read is not None and kind is project else None
        yield Figure(_of("warp of one piece", kind), kept(_warp_used(kind), used, "tape"))
    yield Figure("waste of the loom", kept(waste.value, actual.waste, "tape"))
    unwoven = "" if actual.unwoven is None else figures.tape(actual.unwoven)
    yield Figure("left, not woven", Kept("", unwoven))
    hours = f"{plain(actual.hours)} h" if actual.hours else ""
    yield Figure("hours", Kept(f"{plain(project.hours.counted)} h", hours))
    yield Figure("cost", Kept(_cost(project)))


def _warp_used(kind: Project) -> float:
    """Return the warp in mm of one piece as its sections are woven."""
    used = [step.value for step in kind.steps if step.name.startswith("warp used, one piece")]
    return used[-1]


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
