"""The steps of the work where a project has no pattern text of its own: made from the plan.

Every figure in them is that of the cards. What is said is common practice, no source. At the loom
it is said in short: the same steps in the same words, without those that a student is shown, and
with figures in her own units alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import chain

from cards.calculation.sley import pattern_text
from cards.cloth_words import listed
from cards.figures import Figures
from cards.finished_cloth import finished_cloths
from cards.loom.shed import has_ties
from cards.pattern_text import PatternStage
from cards.project import Project
from cards.project.model import WovenSection
from cards.sley_card import sley_card
from cards.tie_up_card import tie_up_card
from cards.warping_card import ties_in_turn, warping_card

# As many sections as are told one by one in short; of more the tally tells.
_MOST_IN_SHORT = 8


@dataclass(frozen=True, slots=True)
class _Teller:
    """How steps are told: `short` leaves details out, and figures in other units.

    `many_sections` are not told one by one.
    """

    figures: Figures
    short: bool
    many_sections: bool = False

    def figure(self, how: str, value: float) -> str:
        """Return a figure of a kind that `Figures` knows, in both units unless it is short."""
        if self.short:
            return str(getattr(self.figures, how)(value))
        return self.figures.both(how, value)

    def details(self, *steps: str) -> Iterator[str]:
        """Yield steps that are left out where it is short."""
        return iter(() if self.short else steps)


def steps_of(project: Project, *, short: bool = False) -> tuple[PatternStage, ...]:
    """Return the stages of the work up to the last pick; finishing is apart."""
    sections = sum(len(kind.weft.sections) for kind in project.kinds)
    tell = _Teller(Figures(project.units), short, short and sections > _MOST_IN_SHORT)
    dressing = [
        ("Beam the warp", _beaming(project, tell)),
        ("Thread the heddles", _threading(project, tell)),
        ("Sley the reed", _sleying(project, tell)),
        (_tying_name(project), _tying(project)),
    ]
    weaving = [
        ("Begin to weave", _beginning(project, tell)),
        *[(_weaving_name(kind), _weaving(kind, tell)) for kind in project.kinds],
    ]
    stages = [("Wind the warp", _winding(project, tell)), *dressing, *weaving]
    if short:
        # Kinds whose sections are told stay apart; else each has its name in its one step.
        apart = project.further and not tell.many_sections
        weaving = weaving if apart else [_as_one("Weave", weaving)]
        stages = [stages[0], _as_one("Dress the loom", dressing), *weaving]
    made = [PatternStage(name, tuple(steps)) for name, steps in stages]
    return tuple(stage for stage in made if stage.steps)


_Stage = tuple[str, Iterator[str]]


def _as_one(name: str, stages: Sequence[_Stage]) -> _Stage:
    return name, chain.from_iterable(steps for _, steps in stages)


def _winding(project: Project, tell: _Teller) -> Iterator[str]:
    warp = project.warp
    if warp.state:
        yield f"The warp of {warp.wound} ends is wound already. Count it once more."
        return
    card = warping_card(project)
    yarns = [share.yarn.name for share in warp.by_yarn]
    order = "in the colour order of the card" if len(yarns) > 1 else f"of {yarns[0]}"
    long = tell.figure("long", warp.length)
    yield f"Measure a guide string of {long} and find its way round the pegs."
    bouts = f"in {len(card.bouts)} bouts" if len(card.bouts) > 1 else "in one bout"
    yield f"Wind {warp.ends} ends {order}, {bouts}."
    yield from tell.details(
        f"Tie off {ties_in_turn(card.count_ties)} as you count them: a group for every "
        f"{tell.figure('width', card.raddle)} of the raddle."
    )
    yield "Tie the four arms of each cross, then choke the warp along its length."
    if warp.floating:
        yield f"Wind {warp.floating} floating selvedges apart; they go through no heddle."


def _beaming(project: Project, tell: _Teller) -> Iterator[str]:
    if project.warp.state == "on the loom":
        return
    wide = tell.figure("width", project.warp.width_in_reed)
    yield f"Spread the groups in the raddle, {wide} wide, about the middle of the loom."
    yield (
        "Wind the warp on with sticks or paper between its turns, at one tension from edge to edge."
    )
    yield from tell.details(
        "Put the lease sticks into the threading cross before you take off the last tie."
    )


def _threading(project: Project, tell: _Teller) -> Iterator[str]:
    loom, warp = project.loom, project.warp
    if loom.action != "rigid heddle":
        each = [
            f"{ends} on shaft {shaft}" for shaft, ends in enumerate(loom.heddles, start=1) if ends
        ]
        yield from tell.details(f"See that there are heddles enough: {listed(each)}.")
    yield (
        f"Thread from the {warp.first_end}, group by group as the chart has it. Count each group, "
        "then tie it in a slip knot."
    )
    yield from tell.details(
        f"Look through every group once more: {warp.ends} ends in all, none crossed."
    )


def _sleying(project: Project, tell: _Teller) -> Iterator[str]:
    if project.in_reed is None or project.sleying is None or project.reed is None:
        return
    card = sley_card(project)
    ends = "end" if card.pattern == (1,) else "ends"
    in_turn = " in turn" if len(card.pattern) > 1 else ""
    place = "Begin in the middle dent of the reed"
    if card.first.count:
        place = (
            f"Find the {card.first.middle} in the middle of the reed. Count {card.first.count} "
            f"dents to the {card.first_end}: there the first end goes"
        )
    yield f"{place}."
    yield (
        f"Sley {pattern_text(card.pattern)} {ends} to a dent{in_turn}, in a reed of "
        f"{tell.figure('reed', project.reed)}; mind what the card says of the edges."
    )
    yield from tell.details(
        f"Check: {card.dents} dents, {tell.figure('width', card.width)} from the first end to the "
        "last."
    )
    yield "Tie the warp on in small bunches from the middle outwards, and even its tension."


def _tying_name(project: Project) -> str:
    return "Tie up the treadles" if has_ties(project.loom.action) else "Make the loom ready"


def _tying(project: Project) -> Iterator[str]:
    loom = project.loom
    card = tie_up_card(project)
    if card.cords is not None:
        yield (
            f"Tie {_counted(len(card.cords.treadles), 'treadle')} with "
            f"{_counted(card.cords.cords, 'cord')}, as the card shows."
        )
        yield "Press every treadle once: the shed is clean, and no shaft hangs lower than another."
        return
    if loom.action == "dobby":
        yield "Peg the bars as the card shows, and turn the chain once round by hand."
        return
    yield "Lay the card with the lifts where you see it, and try each lift once."


def _beginning(project: Project, tell: _Teller) -> Iterator[str]:
    around, weft = project.weft.around, project.weft
    if around.header:
        yield (
            f"Weave a header of {tell.figure('tape', around.header)} with waste yarn, until the "
            "warp lies evenly."
        )
    if around.sample:
        yield (
            f"Weave a sample of {tell.figure('tape', around.sample)}, {weft.sample_picks} picks. "
            "Cut it off and tie the warp on again. Wash the sample and measure it before you go on."
        )
    if around.fringe:
        yield (
            f"Leave {tell.figure('tape', around.fringe)} of warp unwoven for the fringe, and beat "
            "the first picks against a stick."
        )


def _weaving_name(kind: Project) -> str:
    if len(kind.every_kind) > 1:
        return f"Weave: {kind.piece}"
    return "Weave the cloth" if kind.pieces == 1 else f"Weave {kind.pieces} pieces"


def _weaving(kind: Project, tell: _Teller) -> Iterator[str]:
    weft = kind.weft
    if kind.cloth.has_layers:
        yield "Look between the layers where the tally says so, and at every change of section."
    if tell.many_sections:
        yield _all_sections(kind, tell)
    else:
        yield from (_section(kind, section, tell) for section in weft.sections)
    whole = sum(section.length for section in weft.sections)
    yield from tell.details(
        f"At pick {weft.picks_each} the tape reads {tell.figure('tape', whole)} under tension: "
        "that is one piece."
    )
    if kind.pieces > 1 and not _is_last(kind):
        # In short it is told once, with the first of several kinds.
        words = _between(kind, tell)
        yield from [words] if kind.piece == kind.every_kind[0][0] else tell.details(words)
    if weft.pieces > 1:
        yield (
            f"Weave {weft.pieces} pieces of this kind."
            if kind.piece
            else (f"Weave {weft.pieces} pieces in all.")
        )


def _all_sections(kind: Project, tell: _Teller) -> str:
    """Return what is woven in a piece, without its sections one by one."""
    name = kind.piece if len(kind.every_kind) > 1 else "a piece"
    long = tell.figure("tape", sum(section.length for section in kind.weft.sections))
    return (
        f"{name[:1].upper()}{name[1:]}: {_counted(kind.weft.picks_each, 'pick')}, {long} under "
        "tension, section by section as the tally has it."
    )


def _is_last(kind: Project) -> bool:
    """Whether nothing is woven after the first piece of one of several kinds."""
    return len(kind.every_kind) > 1 and kind.every_kind[-1] == (kind.piece, 1)


def _between(kind: Project, tell: _Teller) -> str:
    unwoven = 2 * kind.weft.around.fringe + kind.weft.around.gap
    if unwoven:
        return f"Leave {tell.figure('tape', unwoven)} unwoven between two pieces."
    return "Weave two picks of another colour between two pieces, to cut by."


def _section(kind: Project, section: WovenSection, tell: _Teller) -> str:
    """Return what is woven in a section, with the note that was written to it."""
    keys = dict.fromkeys(section.weft.values())
    yarns = [kind.yarn(key).name for key in keys]
    turns = ", in the order of the tally" if len(yarns) > 1 else ""
    words = (
        f"{section.name[:1].upper()}{section.name[1:]}: {_counted(section.picks, 'pick')} of "
        f"{_named(yarns)}{turns}, {tell.figure('tape', section.length)}."
    )
    return f"{words} {_sentence(section.note)}" if section.note and not tell.short else words


def _named(names: list[str]) -> str:
    """Return names in a row; those with commas of their own are parted more clearly."""
    return "; ".join(names) if any("," in name for name in names) else listed(names)


def _sentence(words: str) -> str:
    text = " ".join(words.split())
    return text if text.endswith((".", "!", "?")) else f"{text}."


def _counted(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"


def finishing_of(project: Project, *, short: bool = False) -> tuple[str, ...]:
    """Return how the cloth is finished, where the author does not say."""
    return tuple(_finishing(project, _Teller(Figures(project.units), short)))


def _finishing(project: Project, tell: _Teller) -> Iterator[str]:
    cloths = finished_cloths(project)
    yield "Cut the cloth off and secure its raw ends before anything else."
    yield from tell.details("Look it over on both sides, and mend while it is unwashed.")
    if any(cloth.folds for cloth in cloths):
        yield "Open it out, and look along the folds for threads that were caught or missed."
    yield (
        "Wash it as the sample was washed, in the way the yarn can bear, and dry it flat, or hung "
        "at its full width."
    )
    if project.pieces > 1:
        yield "Cut the pieces apart."
    for cloth in {cloth.hem: cloth for cloth in cloths if cloth.hem}.values():
        yield (
            f"Press it. Turn the hems under: there is {tell.figure('width', cloth.hem)} of cloth "
            "for each, the raw edge that is turned in counted too."
        )
    for cloth in {cloth.fringe: cloth for cloth in cloths if cloth.fringe}.values():
        yield f"Twist or knot the fringes, {tell.figure('width', cloth.fringe)} long when done."
    sizes = [
        f"{each.name + ': ' if each.name else ''}{tell.figure('width', each.width)} by "
        f"{tell.figure('width', each.length)}"
        for each in cloths
    ]
    yield f"Measure the finished cloth. It should be {'; '.join(dict.fromkeys(sizes))}."
