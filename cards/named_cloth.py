"""The named figures of one kind of piece: its cloth at every stage, its picks, its sections."""

from __future__ import annotations

from collections.abc import Iterator

from cards.compared import finished_length
from cards.figures import Figures
from cards.plan_allowances import allowance
from cards.plan_names import PlanFigure, counted, measured
from cards.project import Project
from cards.project.model import WovenSection
from cards.record_sheet import planned_lengths, planned_widths

_RECORD, _TALLY = "record", "pick-tally"

# Allowances by their names in the workings, with their keys in a spec.
_ALLOWED = {
    "take-up of the warp": "allowances.take_up",
    "relaxation off the loom": "allowances.relaxation",
    "draw-in": "allowances.draw_in",
    "shrinkage in length": "allowances.shrinkage.length",
    "shrinkage in width": "allowances.shrinkage.width",
    "take-up of the weft": "allowances.weft_take_up",
}


def cloth_figures(kind: Project) -> Iterator[PlanFigure]:
    """Yield the figures of a kind of piece, without those of its sections."""
    figures, weft = Figures(kind.units), kind.weft
    yield from _sizes(kind, figures)
    if kind.piece:
        yield counted("cloth.number", weft.pieces, "pieces of this kind", "pieces")
    words = "picks of one piece"
    yield counted("weft.picks_each", weft.picks_each, words, "picks", _TALLY)
    words = "picks of all pieces" + (" of this kind" if kind.piece else "")
    shown = _TALLY if weft.pieces > 1 else ""
    yield counted("weft.picks", weft.picks, words, "picks", shown)
    shuttles = len(kind.cloth.shuttles)
    yield counted("weft.shuttles", shuttles, "shuttles in use", "shuttles")
    weight = kind.cloth_weight.total
    yield measured("cloth.weight", "by_area", weight, "weight of the finished cloth", figures)
    for step in kind.allowances:
        if step.name in _ALLOWED:
            name, text = _ALLOWED[step.name], allowance(step, step.value, figures)
            yield PlanFigure(name, text, step.name, "share", step.value, _RECORD)


def _sizes(kind: Project, figures: Figures) -> Iterator[PlanFigure]:
    _, _, off, washed = planned_widths(kind)
    words = "width of the cloth, finished"
    yield measured("cloth.width", "width", washed, words, figures, _RECORD)
    words = "width of the cloth off the loom, not washed"
    yield measured("cloth.width_off_loom", "width", off, words, figures, _RECORD)
    around = kind.weft.around
    _, tape, off, washed = planned_lengths(kind)
    # A pattern says how long a towel is when it is hemmed; the record measures hems flat.
    hemmed = ", hems turned in" if around.hem else ""
    shown = "" if around.hem else _RECORD
    sizes = [
        ("cloth.length", finished_length(kind), f"finished{hemmed}", shown),
        ("cloth.length_off_loom", off, "off the loom, not washed", _RECORD),
        ("cloth.length_on_loom", tape, "under tension", _RECORD),
    ]
    if around.hem:
        sizes.append(("cloth.length_hems_flat", washed, "finished, hems flat", _RECORD))
    for name, value, stage, sheet in sizes:
        yield measured(name, "tape", value, f"length of one piece, {stage}", figures, sheet)
    parts = (
        ("header", around.header, "header before the first piece"),
        ("sample", around.sample, "sample to be washed and measured"),
        ("fringe", around.fringe, "left unwoven for one fringe"),
        ("gap", _gap(kind), "left unwoven between two pieces"),
        ("hem", around.hem, "one hem"),
    )
    hem_shown = len(kind.weft.sections) == 1
    for name, value, what in parts:
        if value:
            sheet = _TALLY if name != "hem" or hem_shown else ""
            words = f"{what}, on the loom under tension"
            yield measured(f"{name}.on_loom", "tape", value, words, figures, sheet)
    if around.hem:
        finished = around.hem * washed / tape
        yield measured("hem.length", "tape", finished, "one hem, finished", figures)
    if kind.weft.sample_picks:
        picks = kind.weft.sample_picks
        yield counted("sample.picks", picks, "picks of the sample", "picks", _TALLY)


def _gap(kind: Project) -> float:
    around = kind.weft.around
    several = sum(number for _, number in kind.every_kind) > 1
    return 2 * around.fringe + around.gap if several else 0.0


def section_figures(section: WovenSection, name: str, kind: Project) -> Iterator[PlanFigure]:
    """Yield the figures of a section of a kind of piece, which is called `name` in names."""
    figures, called = Figures(kind.units), section.name
    begin = f"section.{name}"
    yield counted(f"{begin}.picks", section.picks, f"picks of {called}", "picks", _TALLY)
    words = f"length of {called}, finished"
    yield measured(f"{begin}.length", "tape", section.finished, words, figures)
    end = section.start + section.length
    sizes = (
        ("on_loom", section.length, f"length of {called} under tension", ""),
        ("from", section.start, f"tape at the beginning of {called}, under tension", _TALLY),
        ("to", end, f"tape at the end of {called}, under tension", _TALLY),
    )
    for key, value, words, sheet in sizes:
        yield measured(f"{begin}.{key}", "tape", value, words, figures, sheet)
    beat, words = section.picks / section.length, f"picks in {called}, on the loom"
    yield measured(f"{begin}.beat", "density", beat, words, figures)
