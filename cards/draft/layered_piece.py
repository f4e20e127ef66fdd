"""The builder of layered drafts: from layers and joins to threading, lifts and shuttles.

A pick of a layer raises all shafts of the layers above it and those of its own shed (Taylor, Cotton
Weaving and Designing, 6th ed., 1909, of three and four plain cloths). The builder looks for sheds
to begin at, for a place in the threading, for ends to drop or add, and at last for a section that
may be a pick or two longer, until the weave runs on over every fold and edge of every section.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import product
from typing import Final

from cards.cloth.weft_path import Side, other_side
from cards.draft.closed_sheds import closed_sheds
from cards.draft.course import ALL, Course, CourseSection, follow_sections, joints
from cards.draft.layer_threading import (
    Arrangement,
    LayerThreading,
    layer_shafts,
    repeat_of,
    thread,
)
from cards.draft.layer_weave import PLAIN, LayerWeave, Shed
from cards.draft.phases import PhaseSearch, Way

MOST_LAYERS: Final = 8
MOST_SHAFTS: Final = 40
# A section is made no more picks longer than this to bring the shuttles where they are needed.
_MOST_GROWN: Final = 8


class DoubleWeaveError(ValueError):
    """No such cloth can be woven: why not, and what would do (`mend`).

    `section` is the place of the section that is at fault, if it is one.
    """

    def __init__(self, why: str, mend: str, section: int | None = None) -> None:
        super().__init__(f"{why} ({mend})")
        self.why = why
        self.mend = mend
        self.section = section


@dataclass(frozen=True, slots=True)
class SectionWanted:
    """A section that is asked for: what it is called and woven of, and the layers from the top.

    With `grows` it may be made a few picks longer.
    """

    name: str
    course: CourseSection
    stack: tuple[int, ...]
    grows: bool = False


@dataclass(frozen=True, slots=True)
class PieceWanted:
    """A layered piece that is asked for; `ends` are those of all layers.

    `weaves`: one for all layers or one each. `ratio`: the ends of each layer in a round, one each
    by default. `start` is the side at which all shuttles start. With `keep_ends` no end is dropped
    or added.
    """

    ends: int
    layers: int
    sections: tuple[SectionWanted, ...]
    start: Side = "right"
    first_end: Side = "right"
    arrangement: Arrangement = "straight"
    weaves: tuple[LayerWeave, ...] = (PLAIN,)
    ratio: tuple[int, ...] = ()
    shafts: int = MOST_SHAFTS
    keep_ends: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class LayeredPiece:
    """A layered draft; layers and shuttles from 0, shafts from 1.

    `threading` and `end_layers` are by end, first end first; `lifts` is by pick, as is all in
    `course`. `shafts` has those of each layer, `picks` the picks of each section. `skip` is how
    many ends of the threading's repeat are left out before the first. `chosen` says what was
    chosen, and why.
    """

    threading: tuple[int, ...]
    end_layers: tuple[int, ...]
    shafts: tuple[tuple[int, ...], ...]
    skip: int
    lifts: tuple[Shed, ...]
    course: Course
    picks: tuple[int, ...]
    chosen: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Change:
    """So many ends after `skip` of the threading's repeat, and what is told of it."""

    ends: int
    skip: int
    told: str = ""


@dataclass(frozen=True, slots=True)
class _Found:
    """What was found: threading, and the sheds of all layers in each spell."""

    change: _Change
    threading: LayerThreading
    ways: tuple[tuple[Way, ...], ...]
    unbroken: bool


@dataclass(slots=True)
class _Search:
    """The search for ends and sheds on one course; what it learns of a spell it keeps."""

    wanted: PieceWanted
    course: Course
    spells: list[PhaseSearch] = field(init=False)

    def __post_init__(self) -> None:
        wanted = self.wanted
        turned = frozenset().union(*(each.course.joins.turned for each in wanted.sections))
        cycles = [len(weave.lifts) for weave in wanted.weaves]
        self.spells = [
            PhaseSearch(wanted.weaves, joints(self.course, spell, cycles), wanted.first_end, turned)
            for spell in range(int(self.course.spells[-1]) + 1)
        ]

    def found(self, changes: Sequence[_Change] | None = None) -> _Found | None:
        """Return the first threading and sheds with which the weave runs on, unbroken if it can.

        Only `changes` are tried if some are given.
        """
        alike = all(each.alike(joint) for each in self.spells for joint in each.joints)
        for unbroken in (True, False):
            for change in _changes(self.wanted) if changes is None else changes:
                threading = thread(change.ends, change.skip, self.wanted.weaves, self.wanted.ratio)
                narrow = _too_narrow(self.wanted, threading)
                if narrow and not change.told:
                    raise narrow
                ways = None if narrow else self._ways(threading, unbroken=unbroken)
                if ways is not None:
                    return _Found(change, threading, ways, unbroken and alike)
        return None

    def fits(self, change: _Change) -> bool:
        """Whether a change lets the weave run on."""
        threading = thread(change.ends, change.skip, self.wanted.weaves, self.wanted.ratio)
        narrow = _too_narrow(self.wanted, threading)
        return narrow is None and self._ways(threading, unbroken=False) is not None

    def _ways(
        self, threading: LayerThreading, *, unbroken: bool
    ) -> tuple[tuple[Way, ...], ...] | None:
        every = []
        for spell in self.spells:
            ways = spell.ways(threading, unbroken=unbroken)
            if ways is None:
                return None
            every.append(ways)
        return tuple(every)


def build_piece(wanted: PieceWanted) -> LayeredPiece:
    """Return the draft of a layered piece.

    Raises DoubleWeaveError when what is asked for makes no cloth, needs more shafts than there are,
    or when the weave cannot run on over every fold.
    """
    wanted = _completed(wanted)
    course = _course(wanted)
    found = _Search(wanted, course).found()
    grown = ""
    if found is None:
        changes = _fit_apart(wanted)
        longer = _longer(wanted, changes)
        if longer is None:
            raise _nothing_fits(wanted, changes)
        wanted, grown, found = longer
        course = _course(wanted)
    return _piece(wanted, course, found, (*_told(wanted, found), *filter(None, (grown,))))


def _course(wanted: PieceWanted) -> Course:
    return follow_sections([section.course for section in wanted.sections], wanted.start)


def _completed(wanted: PieceWanted) -> PieceWanted:
    """Return what is wanted with a weave and a number of ends for each layer, after a check."""
    count = wanted.layers
    if not 2 <= count <= MOST_LAYERS:
        raise DoubleWeaveError(f"{count} layers", f"2 to {MOST_LAYERS} layers can be woven")
    weaves, ratio = wanted.weaves, wanted.ratio or (1,) * count
    if len(weaves) == 1:
        weaves *= count
    if len(weaves) != count:
        raise DoubleWeaveError(
            f"{len(weaves)} weaves for {count} layers", "give one weave for all, or one each"
        )
    if len(ratio) != count or min(ratio) < 1:
        raise DoubleWeaveError(
            f"the ratio {':'.join(map(str, ratio))} for {count} layers",
            "give the ends of each layer in a round, one or more of each",
        )
    needed = sum(weave.shafts for weave in weaves)
    most = min(wanted.shafts, MOST_SHAFTS)
    if needed > most:
        raise DoubleWeaveError(
            f"{count} layers of {names_of(weaves)} need {needed} shafts, and there are {most}",
            _fewer_layers(weaves, most),
        )
    return replace(wanted, weaves=weaves, ratio=ratio, shafts=most)


def _fewer_layers(weaves: tuple[LayerWeave, ...], most: int) -> str:
    fit = 0
    while sum(weave.shafts for weave in weaves[: fit + 1]) <= most:
        fit += 1
    return f"{fit} layers fit" if fit >= 2 else "two layers need a smaller weave, or more shafts"


def names_of(weaves: tuple[LayerWeave, ...]) -> str:
    """Return the names of the weaves, each once."""
    return " and ".join(dict.fromkeys(weave.name for weave in weaves))


def _changes(wanted: PieceWanted) -> Iterator[_Change]:
    """Yield what may be done to the threading, the least first."""
    ends, repeat = wanted.ends, repeat_of(wanted.weaves, wanted.ratio)
    yield _Change(ends, 0)
    for skip in range(1, repeat):
        yield _Change(ends, skip, f"the threading begins with end {skip + 1} of its repeat")
    if wanted.keep_ends:
        return
    last = other_side(wanted.first_end)
    cycle = max(len(weave.threading) for weave in wanted.weaves)
    for some in range(1, cycle):
        told = f"{some} end{'s' * (some > 1)} {{}} at the {{}}"
        yield _Change(ends - some, 0, told.format("dropped", last))
        yield _Change(ends - some, some, told.format("dropped", wanted.first_end))
        yield _Change(ends + some, 0, told.format("added", last))
        yield _Change(ends + some, -some % repeat, told.format("added", wanted.first_end))


def _too_narrow(wanted: PieceWanted, threading: LayerThreading) -> DoubleWeaveError | None:
    """Return why a layer is too narrow for its weave, if one is."""
    for layer, weave in enumerate(wanted.weaves):
        ends = threading.layers.count(layer)
        if ends < len(weave.threading):
            return DoubleWeaveError(
                f"layer {layer + 1} has {ends} of {len(threading.layers)} ends",
                f"one repeat of {weave.name} takes {len(weave.threading)} ends of that layer",
            )
    return None


def _fit_apart(wanted: PieceWanted) -> list[_Change]:
    """Return what may be done to the threading so that every section runs on, each by itself.

    Sections of more picks are then only needed to fit them together. Raises DoubleWeaveError for a
    section that never runs on.
    """
    changes = list(_changes(wanted))
    for place, section in enumerate(wanted.sections):
        if not section.course.joins.joined:
            continue
        alone = replace(wanted, sections=(section,))
        search = _Search(alone, _course(alone))
        fitting = [change for change in changes if search.fits(change)]
        if not fitting and len(wanted.sections) > 1:
            raise _nothing_fits(alone, [], place)
        changes = fitting
    return changes


def _longer(
    wanted: PieceWanted, changes: Sequence[_Change]
) -> tuple[PieceWanted, str, _Found] | None:
    """Return the piece with one section a few picks longer, so that the weave runs on after it."""
    if not changes:
        return None
    for more, place in product(range(1, _MOST_GROWN + 1), range(len(wanted.sections) - 1)):
        section = wanted.sections[place]
        if not section.grows:
            continue
        grown = _grown(wanted, place, more)
        found = _Search(grown, _course(grown)).found(changes)
        if found is not None:
            picks = f"{more} pick{'s' * (more > 1)}"
            told = f"{picks} added to '{section.name}', so that the sheds run on in what follows"
            return grown, told, found
    return None


def _grown(wanted: PieceWanted, place: int, more: int) -> PieceWanted:
    """Return the piece with a section so many picks longer; an order of its own goes on."""
    section = wanted.sections[place]
    course = section.course
    order = course.order
    if order:
        order = tuple(order[pick % len(order)] for pick in range(course.picks + more))
    course = replace(course, picks=course.picks + more, order=order)
    sections = list(wanted.sections)
    sections[place] = replace(section, course=course)
    return replace(wanted, sections=tuple(sections))


def _nothing_fits(
    wanted: PieceWanted, changes: Sequence[_Change], section: int | None = None
) -> DoubleWeaveError:
    """Return why nothing fits, and what would; `section` is at fault if it is given."""
    joins = [section.course.joins for section in wanted.sections]
    tube = all(each.tube for each in joins if each.joined)
    what = "the edges of a tube" if tube else "every fold"
    why = f"the weave ({names_of(wanted.weaves)}) does not run on over {what}"
    with_ends = f"{why} with {wanted.ends} ends"
    if wanted.keep_ends:
        free = replace(wanted, keep_ends=False)
        found = _Search(free, _course(free)).found()
        if found:
            would = f"{found.change.ends} would do: {found.change.told}"
            return DoubleWeaveError(with_ends, would, section)
    else:
        with_ends += ", or a few more or less"
    every = tuple(replace(section, grows=not section.grows) for section in wanted.sections)
    longer = _longer(replace(wanted, sections=every), changes)
    if longer is not None:
        place, more = next(
            (place, new.course.picks - old.course.picks)
            for place, (new, old) in enumerate(
                zip(longer[0].sections, wanted.sections, strict=True)
            )
            if new.course.picks != old.course.picks
        )
        fixed = wanted.sections[place]
        return DoubleWeaveError(
            f"after the {fixed.course.picks} picks of '{fixed.name}' a shuttle lies at the "
            f"wrong side, so that {names_of(wanted.weaves)} does not run on over the folds",
            f"{fixed.course.picks + more} picks would do",
            place,
        )
    mend = "plain weave would, or weave the layers apart"
    return DoubleWeaveError(with_ends, mend, section)


def _told(wanted: PieceWanted, found: _Found) -> tuple[str, ...]:
    """Return what was chosen, in words."""
    joins = [section.course.joins for section in wanted.sections]
    joined = [each for each in joins if each.joined]
    tubes = bool(joined) and all(each.tube for each in joined)
    where = "both edges of the tube" if tubes else "every fold"
    runs = f"runs on over {where}" if found.unbroken else f"makes no longer float at {where}"
    why = f"so that {names_of(wanted.weaves)} {runs}"
    change, chosen = found.change, []
    if change.ends != wanted.ends:
        odd = any(each.tube for each in joins) and set(wanted.weaves) == {PLAIN}
        cause = "because a tube of plain weave needs an odd number" if odd else why
        chosen.append(f"{change.told}, which makes {change.ends}, {cause}")
    elif change.told:
        chosen.append(f"{change.told}, {why}")
    told: dict[str, None] = {}
    for ways in found.ways:
        for layer, way in enumerate(ways):
            if way.told:
                told[f"layer {layer + 1} {_verb(way.told)}, {why}"] = None
    chosen += told
    if joined and not found.unbroken:
        chosen.append(f"the pattern breaks at {where}, though no float is longer there")
    return tuple(chosen)


def _verb(told: str) -> str:
    return told if told.startswith("begins") else f"is lifted {told}"


def _piece(
    wanted: PieceWanted, course: Course, found: _Found, chosen: tuple[str, ...]
) -> LayeredPiece:
    shafts = layer_shafts(wanted.weaves, wanted.arrangement)
    ends = zip(found.threading.layers, found.threading.own_shafts, strict=True)
    threading = tuple(shafts[layer][own - 1] for layer, own in ends)
    lifts: list[Shed] = []
    for section in wanted.sections:
        here = slice(len(lifts), len(lifts) + section.course.picks)
        lifts += _lifts(section, course, here, found, threading, shafts)
    return LayeredPiece(
        threading=threading,
        end_layers=found.threading.layers,
        shafts=shafts,
        skip=found.change.skip,
        lifts=tuple(lifts),
        course=course,
        picks=tuple(section.course.picks for section in wanted.sections),
        chosen=chosen,
    )


def _lifts(
    section: SectionWanted,
    course: Course,
    here: slice,
    found: _Found,
    threading: tuple[int, ...],
    shafts: tuple[tuple[int, ...], ...],
) -> list[Shed]:
    """Return the lifts of a section: the layers above, and the own shed."""
    both = closed_sheds(threading, shafts)[:2] if section.course.joins.closed else ()
    above = {
        layer: frozenset(shaft for each in section.stack[:place] for shaft in shafts[each])
        for place, layer in enumerate(section.stack)
    }
    known: dict[tuple[int, int, int], Shed] = {}
    lifts = []
    picks = (course.layers[here], course.visits[here], course.spells[here])
    for layer, visit, spell in zip(*(each.tolist() for each in picks), strict=True):
        if layer == ALL:
            lifts.append(both[visit % 2])
            continue
        sheds = found.ways[spell][layer].lifts
        key = layer, visit % len(sheds), spell
        if key not in known:
            own = frozenset(shafts[layer][shaft - 1] for shaft in sheds[key[1]])
            known[key] = above[layer] | own
        lifts.append(known[key])
    return lifts
