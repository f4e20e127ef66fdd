"""Findings about a project as worked out: does it fit the loom, is the warp enough, is it cloth."""

from __future__ import annotations

from cards.calculation.sley import Sleying, pattern_text
from cards.calculation.warp import Rates, finished_width
from cards.cloth.layers import Layer, layers
from cards.loom.heddles import shortages
from cards.project.model import Draft, LoomPlan, Sett, Warp, Weft
from cards.project.problems import Problems
from cards.spec import Spec

# A true sett further off than this makes another cloth.
_SETT_TOLERANCE = 0.02

# A finished width further off than this is not the cloth that was asked for.
_WIDTH_TOLERANCE = 0.02


def check_allowances(rates: Rates, problems: Problems) -> None:
    """Warn of a relaxation that is more than the whole take-up, of which it is a part."""
    if rates.relaxation.value > rates.take_up.value:
        problems.warning(
            "relaxation-over-take-up",
            f"the relaxation ({rates.relaxation.value:.0%}) is more than the take-up "
            f"({rates.take_up.value:.0%}), of which it is a part",
            "give both, measured on the same cloth",
            "allowances",
        )


def check_sett(sleying: Sleying, problems: Problems) -> None:
    """Warn of a reed that cannot give the sett."""
    if abs(sleying.error) > _SETT_TOLERANCE:
        problems.warning(
            "reed-off-sett",
            f"the nearest sleying in this reed, {pattern_text(sleying.pattern)}, is "
            f"{abs(sleying.error):.1%} {'closer' if sleying.error > 0 else 'more open'} than the "
            "sett",
            "choose another reed, or make the sett what the reed gives",
            "loom",
            "reed",
        )


def check_width(spec: Spec, warp: Warp, sett: Sett, problems: Problems) -> None:
    """Warn of a cloth that is not as wide as asked for, and of ends that are not at the sett."""
    if spec.cloth.width is not None:
        off = warp.finished_width / spec.cloth.width - 1
        if abs(off) > _WIDTH_TOLERANCE:
            wide = "wider" if off > 0 else "narrower"
            problems.warning(
                "width-off",
                f"{warp.ends} ends make the finished cloth {abs(off):.1%} {wide} than asked for",
                "change the ends, the sett or the width; or leave it so if you know it",
                "cloth",
                "width",
            )
    apart = warp.ends / warp.width_in_reed / sett.ends_total - 1
    if warp.width_given and abs(apart) > _SETT_TOLERANCE:
        problems.warning(
            "sett-off",
            f"{warp.ends} ends in the width given are {abs(apart):.1%} "
            f"{'closer' if apart > 0 else 'more open'} than the sett",
            "correct the ends, the width in the reed or the sett",
            "given",
            "width_in_reed",
        )


def check_warp_length(given: float, bare: float, needed: float, problems: Problems) -> None:
    """Hold a warp that is wound already against what the pieces need, without and with margin."""
    figures = problems.figures
    if given < bare:
        problems.error(
            "warp-too-short",
            f"the warp given is {figures.long(bare - given)} shorter than the pieces need",
            "weave fewer or shorter pieces, leave the sample out, or wind a longer warp",
            "given",
            "warp_length",
        )
    elif given < needed:
        problems.warning(
            "warp-without-margin",
            f"the warp given leaves {figures.width(given - bare)} for mistakes",
            "weave with care, or weave less",
            "given",
            "warp_length",
        )


def check_loom(spec: Spec, warp: Warp, loom: LoomPlan, rates: Rates, problems: Problems) -> None:
    """Check the width of the loom and its heddles."""
    width = spec.loom.width
    figures = problems.figures
    if width is not None and warp.width_in_reed > width:
        most = finished_width(width, rates)
        problems.error(
            "too-wide",
            f"the warp is {figures.width(warp.width_in_reed)} wide in the reed, the loom weaves "
            f"{figures.width(width)}",
            f"make the finished cloth no wider than {figures.both('width', most)}, or use a wider "
            "loom",
            "loom",
            "width",
        )
    there = spec.loom.heddles
    if isinstance(there, int):
        there = (there,) * loom.shafts
    if there is not None:
        for short in shortages(loom.heddles, there):
            problems.warning(
                "too-few-heddles",
                f"shaft {short.shaft} needs {short.needed} heddles and has {short.there}",
                f"move or add {short.needed - short.there} before threading",
                "loom",
                "heddles",
            )


def check_size(ends: int, picks: int, problems: Problems) -> None:
    """Refuse a drawdown that no loom weaves and no machine holds."""
    if ends * picks > MOST_CROSSINGS:
        raise problems.stop(
            "too-large",
            f"{ends} ends and {picks} picks are more than can be worked out",
            "is the width, the length, the sett or the density of the picks mistyped?",
            "cloth",
        )


# Crossings of ends and picks in one piece: 4,000 ends and 25,000 picks.
MOST_CROSSINGS = 100_000_000


def check_draft(spec: Spec, draft: Draft, weft: Weft, problems: Problems) -> None:
    """Check that the draft makes the layers that the spec expects, and that nothing hangs loose."""
    for index, woven in enumerate(weft.sections):
        if not woven.whole:
            problems.note(
                "treadling-cut-off",
                f"'{woven.name}' ends within a repeat of its treadling",
                "see the last line of the section on the pick tally; change its length or picks "
                "if it must end whole",
                *_section_path(spec, index),
            )
    loose = _loose(layers(draft.drawdown))
    if loose:
        _report_loose(loose, problems)
        return
    found = _layers_by_section(draft, weft)
    if spec.expect.layers is not None:
        _check_expected(spec, weft, found, spec.expect.layers, problems)
    elif any(number > 1 for number in found.values()):
        most = max(found.values())
        problems.warning(
            "layers-apart",
            f"the draft makes {_layers(most)} that hang apart",
            f"if they are meant, say `expect: {{layers: {most}}}`: sett and picks are then "
            "those of one layer",
            "draft",
        )


def _section_path(spec: Spec, index: int) -> tuple[str | int, ...]:
    return ("weave", index) if spec.weave else ("draft",)


def _loose(found: tuple[Layer, ...]) -> list[Layer]:
    return [layer for layer in found if not layer.ends or not layer.picks]


def _layers_by_section(draft: Draft, weft: Weft) -> dict[int, int]:
    """Return the number of layers of every section long enough to hang together on its own."""
    numbers = {}
    for index, section in enumerate(weft.sections):
        rows = slice(section.first_pick, section.first_pick + section.picks)
        found = layers(draft.drawdown[rows])
        if not _loose(found):
            numbers[index] = len(found)
    return numbers


def _check_expected(
    spec: Spec, weft: Weft, found: dict[int, int], expected: int, problems: Problems
) -> None:
    """Report layers that are not there; a section that joins them is only worth a note."""
    if expected not in found.values():
        most = max(found.values(), default=1)
        problems.error(
            "layers-unexpected",
            f"the draft makes {_layers(most)}, and {_layers(expected)} are expected",
            "correct the threading, tie-up or treadling, or `expect: {layers: ...}`",
            "expect",
            "layers",
        )
        return
    for index, number in found.items():
        if number != expected:
            problems.note(
                "section-layers",
                f"'{weft.sections[index].name}' makes {_layers(number)} instead of {expected}",
                "this is right where layers are joined on purpose, as at the base of a bag",
                *_section_path(spec, index),
            )


def _report_loose(loose: list[Layer], problems: Problems) -> None:
    ends = [end for layer in loose for end in layer.ends]
    picks = [pick for layer in loose for pick in layer.picks]
    kind, places = ("end", ends) if ends else ("pick", picks)
    listed = ", ".join(str(place + 1) for place in places[:5]) + (" ..." if len(places) > 5 else "")
    problems.error(
        "never-interlaces",
        f"{len(places)} {kind}{'s' if len(places) > 1 else ''} never interlace with the cloth "
        f"({kind} {listed})",
        "each end must lie over some picks and under others, and each pick likewise",
        "draft",
    )


def _layers(number: int) -> str:
    return f"{number} layer{'' if number == 1 else 's'}"
