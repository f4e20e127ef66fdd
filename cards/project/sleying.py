"""The warp in the reed: which reed, how its ends lie in the dents, and how wide that makes it.

A fold is only known when the cloth is analysed, so the sleying is worked out after that. The width
in the reed is what its dents take, and so it stands on every card. What the reed opens at a fold
the cloth closes again, so that the finished width does not count it.
"""

from __future__ import annotations

from cards.calculation.dents import Edge, Pattern, doubled_edge, mean_of, opened_edge, shortest
from cards.calculation.reed_choice import ReedChoice, rank_reeds
from cards.calculation.sley import (
    GOOD_ENOUGH,
    Sleying,
    pattern_for,
    pattern_text,
    round_in_a_dent,
    sley,
)
from cards.calculation.workings import Inputs, Workings
from cards.figures import Figures, plain
from cards.project.cloth import Cloth
from cards.project.in_reed import InReed
from cards.project.model import Sett
from cards.project.problems import Problems
from cards.spec import Spec
from cards.spec.sley_models import MOST_IN_A_DENT

# Common practice, no source: trade accounts open the last four to six dents.
FOLD_DENTS = 4


def in_reed_of(spec: Spec, sett: Sett, cloth: Cloth, problems: Problems) -> InReed | None:
    """Return the reeds of the loom and the edges in them, None where it has no reed.

    Tells as notes which of several reeds is taken, and where another one would do better.
    """
    loom = spec.loom
    reeds = loom.reeds or ((loom.reed,) if loom.reed is not None else ())
    if not reeds:
        return None
    choices = rank_reeds(sett.ends_total, dict.fromkeys(reeds), sett.in_a_round, _own(spec))
    if loom.reeds:
        _tell_choice(spec, sett, choices, problems)
    first = spec.conventions.first_end
    folds = cloth.fold_sides
    return InReed(
        choices=choices,
        owned=bool(loom.reeds),
        folds=(first in folds, bool(set(folds) - {first})),
        line=spec.sley.fold_line,
        floating=spec.selvedges.floating,
        assumed=spec.sley.fold_open is None,
        length=loom.width,
    )


def sleying_of(
    spec: Spec, sett: Sett, ends: int, reed: InReed | None, work: Workings, problems: Problems
) -> Sleying | None:
    """Return the ends in the reed, None where the loom has none."""
    if reed is None:
        return None
    per_mm = float(reed.choices[0].reed) if spec.loom.reed is None else spec.loom.reed
    multiple = round_in_a_dent(sett.ends_total, per_mm, sett.in_a_round)
    pattern = _own(spec) or pattern_for(sett.ends_total, per_mm, multiple)
    if any(each % multiple for each in pattern):
        multiple = 1
    first, last = (_edge(spec, pattern, multiple, fold=fold) for fold in reed.folds)
    sleying = sley(sett.ends_total, per_mm, ends, multiple, pattern=pattern, edges=(first, last))
    work.begin("reed")
    mean = float(mean_of(sleying.pattern))
    work.worked(
        "true sett",
        "ends in a dent × reed",
        (("ends in a dent", mean, "number"), ("reed", float(sleying.reed), "per mm")),
        sleying.true_sett_per_mm,
        "per mm",
        note=f"{pattern_text(sleying.pattern)} ends in a dent, on average {plain(mean)}",
    )
    _check_pattern(spec, sett, sleying, problems)
    _check_edges(spec, sleying, reed, problems)
    return sleying


def widths_of(
    spec: Spec, sett: Sett, ends: int, sleying: Sleying | None, work: Workings
) -> tuple[float, float]:
    """Return the width in the reed, and that of which the cloth draws in, both in mm."""
    work.begin("reed")
    given = spec.given.width_in_reed
    if given is not None:
        return given, given
    if sleying is None:
        width = work.worked(
            "width in the reed",
            "ends ÷ sett",
            (("ends", ends, "ends"), ("sett", sett.ends_total, "per mm")),
            ends / sett.ends_total,
            "mm",
        )
        return width, width
    work.worked(
        "dents", f"dents that hold {_laid(sleying)}", (("ends", ends, "ends"),),
        sleying.dents, "dents", counted=True,
    )  # fmt: skip
    width = work.worked(
        "width in the reed",
        "dents ÷ reed",
        (("dents", sleying.dents, "dents"), ("reed", float(sleying.reed), "per mm")),
        sleying.width_mm,
        "mm",
    )
    return width, _record_cloth_width(sleying, work)


def _record_cloth_width(sleying: Sleying, work: Workings) -> float:
    """Write of which width in mm the cloth draws in."""
    sett: Inputs = (("true sett", sleying.true_sett_per_mm, "per mm"),)
    doubled = [edge for edge in (sleying.first, sleying.last) if edge.kind == "doubled"]
    note = "the cloth closes at a fold what the reed opens there (common practice, no source)"
    if not doubled:
        inputs: Inputs = (("ends", sleying.ends, "ends"), *sett)
        formula = "ends ÷ true sett"
    else:
        inputs = (
            ("ends", sleying.ends, "ends"),
            ("doubled ends", sum(edge.ends for edge in doubled), "ends"),
            *sett,
            ("their dents", sum(len(edge.dents) for edge in doubled), "dents"),
            ("reed", float(sleying.reed), "per mm"),
        )
        formula = "(ends − doubled ends) ÷ true sett + their dents ÷ reed"
        note = "doubled ends stay as close as they are sleyed (common practice, no source)"
    name = "width of the cloth at the reed"
    return work.worked(name, formula, inputs, sleying.cloth_width_mm, "mm", note=note)


def _laid(sleying: Sleying) -> str:
    """Return how the dents are laid, in words."""
    words = f"{pattern_text(sleying.pattern)} ends in turn"
    edges = [edge for edge in (sleying.first, sleying.last) if edge.kind != "plain"]
    if edges:
        listed = " and ".join(f"{pattern_text(edge.dents)} ({edge.kind})" for edge in edges)
        words += f", from an edge inwards {listed}"
    return words


def _own(spec: Spec) -> Pattern:
    return shortest(spec.sley.pattern or ())


def _edge(spec: Spec, pattern: Pattern, multiple: int, *, fold: bool) -> Edge:
    if not fold:
        return doubled_edge(pattern, spec.sley.doubled or 0)
    dents = spec.sley.fold_open
    if dents is None:
        dents = _fold_dents(pattern, multiple)
    return opened_edge(pattern, dents, multiple)


def _fold_dents(pattern: Pattern, multiple: int) -> int:
    """Return the dents opened at a fold: about four, so many that rounds of layers come out."""
    if max(pattern) > multiple:
        return FOLD_DENTS
    return max(1, round(FOLD_DENTS / multiple)) * multiple


def _tell_choice(
    spec: Spec, sett: Sett, choices: tuple[ReedChoice, ...], problems: Problems
) -> None:
    best = choices[0]
    words = _choice_words(best, sett.layers, problems.figures)
    used = spec.loom.reed
    if used is None:
        if len(choices) > 1:
            problems.note(
                "reed-chosen",
                f"of the {len(choices)} reeds {words} is taken",
                "add `reed` to the loom if you want another",
                "loom",
                "reeds",
            )
        return
    (own,) = rank_reeds(sett.ends_total, [used], sett.in_a_round, _own(spec))
    if best.clearly_better(own):
        problems.note(
            "better-reed",
            f"{words} would suit the sett better",
            "take it, or leave the reed as it is if you know why",
            "loom",
            "reed",
        )


def _choice_words(choice: ReedChoice, layers: int, figures: Figures) -> str:
    """Return a reed with its pattern and what speaks for it or against it.

    `layers` is how many layers lie above one another.
    """
    parts = [f"{pattern_text(choice.pattern)} in a dent"]
    if choice.error:
        off = f"{plain(float(abs(choice.error)) * 100, 1)} %"
        parts.append(f"{off} {'closer' if choice.error > 0 else 'more open'} than the sett")
    else:
        parts.append("exactly the sett")
    if layers > 1:
        parts.append(f"layers {'whole' if choice.whole else 'not whole'} in each dent")
    return f"the one of {figures.reed(float(choice.reed))} ({', '.join(parts)})"


def _check_pattern(spec: Spec, sett: Sett, sleying: Sleying, problems: Problems) -> None:
    """Warn of a sett that the reed does not give, or the weaver's own pattern does not."""
    error = sleying.error
    if abs(error) <= float(GOOD_ENOUGH):
        return
    off = f"{abs(error):.1%} {'closer' if error > 0 else 'more open'} than the sett"
    pattern = pattern_text(sleying.pattern)
    if spec.sley.pattern is None:
        path = ("loom", "reed") if spec.loom.reed is not None else ("loom", "reeds")
        problems.warning(
            "reed-off-sett",
            f"the nearest sleying in this reed, {pattern}, is {off}",
            "choose another reed, or make the sett what the reed gives",
            *path,
        )
        return
    multiple = round_in_a_dent(sett.ends_total, sleying.reed, sett.in_a_round)
    fits = pattern_for(sett.ends_total, sleying.reed, multiple)
    reed = problems.figures.reed(float(sleying.reed))
    gives = problems.figures.density(float(mean_of(sleying.pattern) * sleying.reed))
    writable = fits != sleying.pattern and max(fits) <= MOST_IN_A_DENT
    mend = f"write {pattern_text(fits)}" if writable else "choose another reed"
    problems.warning(
        "pattern-off-sett",
        f"{pattern} in a reed of {reed} gives {gives}, {off}",
        f"{mend}, or leave it so if you know it",
        "sley",
        "pattern",
    )


def _check_edges(spec: Spec, sleying: Sleying, reed: InReed, problems: Problems) -> None:
    """Warn of settings for edges that the cloth has not, and of what should not be at a fold."""
    own, folded = spec.sley, any(reed.folds)
    if reed.floating and folded:
        _tell_floating(spec, reed, problems)
    if own.doubled and all(reed.folds):
        problems.warning(
            "no-open-edge",
            "ends are doubled at open edges only, and there is a fold at both sides",
            "leave `doubled` out",
            "sley",
            "doubled",
        )
    if not folded and (own.fold_open or own.fold_line):
        problems.warning(
            "no-fold",
            "the cloth has no fold",
            "leave the settings for a fold out",
            "sley",
            "fold_open" if own.fold_open else "fold_line",
        )
    _check_doubled(spec, sleying, problems)
    _check_layers(spec, sleying, problems)


def _tell_floating(spec: Spec, reed: InReed, problems: Problems) -> None:
    first = spec.conventions.first_end
    sides = (first, "left" if first == "right" else "right")
    folded = [side for side, fold in zip(sides, reed.folds, strict=True) if fold]
    problems.warning(
        "floating-at-fold",
        f"a floating selvedge would stand at the fold, at the {' and the '.join(folded)}",
        "leave it out: at a fold ends stand single and nothing floats",
        "selvedges",
        "floating",
    )


def _check_doubled(spec: Spec, sleying: Sleying, problems: Problems) -> None:
    """Warn of so few doubled ends that they stand no closer than the others."""
    doubled = [edge for edge in (sleying.first, sleying.last) if edge.kind == "doubled"]
    mean = mean_of(sleying.pattern)
    if spec.sley.doubled and any(edge.ends <= mean * len(edge.dents) for edge in doubled):
        problems.warning(
            "doubled-in-vain",
            f"{spec.sley.doubled} doubled ends do not fill a dent at twice the density",
            f"write {plain(float(2 * mean), 0)} or more, or leave `doubled` out",
            "sley",
            "doubled",
        )


def _check_layers(spec: Spec, sleying: Sleying, problems: Problems) -> None:
    """Note an edge of the weaver's own that parts the layers in all dents after it."""
    whole, edge = sleying.multiple, sleying.first
    key = "fold_open" if edge.kind == "opened" else "doubled"
    own = spec.sley.fold_open if edge.kind == "opened" else spec.sley.doubled
    if own and edge.ends % whole:
        what = "dent# opened at the fold" if edge.kind == "opened" else "doubled end#"
        what = what.replace("#", "" if own == 1 else "s")
        verb = "parts" if own == 1 else "part"
        less = own - own % whole
        suits = f"{less} or {less + whole}" if less else f"{whole}"
        problems.note(
            "layers-split",
            f"{own} {what} {verb} the layers in all dents after them",
            f"write {suits}, then every dent holds whole layers",
            "sley",
            key,
        )
