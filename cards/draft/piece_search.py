"""The search for threading and sheds with which a layered piece runs on over all its folds.

The least is changed first: sheds to begin at, then a place in the threading, then ends dropped or
added, and at last a section that may be a pick or two longer.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from itertools import groupby, product
from typing import Final, Literal

from cards.cloth.weft_path import Side, other_side
from cards.draft.course import Course, CourseSection, follow_sections, joints
from cards.draft.join_plan import closed_plan
from cards.draft.layer_threading import Arrangement, LayerThreading, repeat_of, thread
from cards.draft.layer_weave import PLAIN, LayerWeave
from cards.draft.phases import PhaseSearch, Way

MOST_SHAFTS: Final = 40
# A section is made no more picks longer than this to bring the shuttles where they are needed.
_MOST_GROWN: Final = 8


class DoubleWeaveError(ValueError):
    """No such cloth can be woven: why not, and what would do (`mend`).

    `section` is the place of the section that is at fault, if it is one; `of` says that the
    number of ends is, or the order of the weft's yarns.
    """

    def __init__(
        self,
        why: str,
        mend: str,
        section: int | None = None,
        *,
        of: Literal["ends", "order"] | None = None,
    ) -> None:
        super().__init__(f"{why} ({mend})")
        self.why = why
        self.mend = mend
        self.section = section
        self.of = of


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


@dataclass(frozen=True, slots=True)
class Change:
    """So many ends after `skip` of the threading's repeat, and what is told of it."""

    ends: int
    skip: int
    told: str = ""


@dataclass(frozen=True, slots=True)
class Found:
    """What was found: threading, and the sheds of all layers in each spell."""

    change: Change
    threading: LayerThreading
    ways: tuple[tuple[Way, ...], ...]
    unbroken: bool


@dataclass(slots=True)
class _Search:
    """The search for ends and sheds on one course; what it learns of a spell it keeps."""

    wanted: PieceWanted
    turned: frozenset[int]
    spells: list[PhaseSearch] = field(init=False)

    def __post_init__(self) -> None:
        wanted, course = self.wanted, course_of(self.wanted)
        cycles = [len(weave.lifts) for weave in wanted.weaves]
        self.spells = [
            PhaseSearch(wanted.weaves, joints(course, spell, cycles), wanted.first_end, self.turned)
            for spell in range(int(course.spells[-1]) + 1)
        ]

    def found(self, changes: Iterable[Change]) -> Found | None:
        """Return the first threading and sheds with which the weave runs on, unbroken if it can."""
        alike = all(each.alike(joint) for each in self.spells for joint in each.joints)
        every = tuple(changes)
        for unbroken in (True, False):
            for change in every:
                threading = thread(change.ends, change.skip, self.wanted.weaves, self.wanted.ratio)
                narrow = _too_narrow(self.wanted, threading)
                if narrow and not change.told:
                    raise narrow
                ways = None if narrow else self._ways(threading, unbroken=unbroken)
                if ways is not None:
                    return Found(change, threading, ways, unbroken and alike)
        return None

    def fits(self, change: Change) -> bool:
        """Whether the weave runs on with a change."""
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


def course_of(wanted: PieceWanted) -> Course:
    """Return the way of the shuttles through the piece."""
    return follow_sections([section.course for section in wanted.sections], wanted.start)


def search(wanted: PieceWanted) -> Found | None:
    """Return threading and sheds with which the weave runs on, or None.

    Raises DoubleWeaveError when a layer is too narrow for its weave.
    """
    return _Search(wanted, _turned(wanted)).found(_changes(wanted))


def _turned(wanted: PieceWanted) -> frozenset[int]:
    return frozenset().union(*(each.course.joins.turned for each in wanted.sections))


def _changes(wanted: PieceWanted) -> Iterator[Change]:
    """Yield what may be done to the threading, the least first."""
    ends, repeat = wanted.ends, repeat_of(wanted.weaves, wanted.ratio)
    yield Change(ends, 0)
    for skip in range(1, repeat):
        yield Change(ends, skip, f"the threading begins with end {skip + 1} of its repeat")
    if wanted.keep_ends:
        return
    first, last = wanted.first_end, other_side(wanted.first_end)
    rings = max(sum(group.ring for group in each.course.joins.groups) for each in wanted.sections)
    # Every tube may need an end of its own, at either side.
    for some in range(1, max(*(len(weave.threading) for weave in wanted.weaves), rings + 1)):
        for done, more in (("dropped", -some), ("added", some)):
            told = f"{_ends(some)} {done} at the "
            yield Change(ends + more, 0, told + last)
            yield Change(ends + more, -more % repeat, told + first)
            for one in range(1, some) if rings > 1 else ():
                skip = one if done == "dropped" else -one % repeat
                both = f"{_ends(some - one)} {done} at the {last} and {one} at the {first}"
                yield Change(ends + more, skip, both)


def _ends(number: int) -> str:
    return f"{number} end{'s' * (number > 1)}"


def _too_narrow(wanted: PieceWanted, threading: LayerThreading) -> DoubleWeaveError | None:
    """Return why a layer is too narrow for its weave, if one is."""
    for layer, weave in enumerate(wanted.weaves):
        ends = threading.layers.count(layer)
        if ends < len(weave.threading):
            return DoubleWeaveError(
                f"layer {layer + 1} has {ends} of {len(threading.layers)} ends",
                f"one repeat of {name_of(weave)} takes {len(weave.threading)} ends of that layer",
                of="ends",
            )
    return None


def lengthened(wanted: PieceWanted) -> tuple[PieceWanted, str, Found] | None:
    """Return the piece with one section a few picks longer, so that the weave runs on after it."""
    if not any(section.grows for section in wanted.sections[:-1]):
        return None
    changes = _fitting_apart(wanted, _turned(wanted))
    if not changes:
        return None
    for more, place in product(range(1, _MOST_GROWN + 1), range(len(wanted.sections) - 1)):
        section = wanted.sections[place]
        if not section.grows:
            continue
        grown = _grown(wanted, place, more)
        found = _Search(grown, _turned(grown)).found(changes)
        if found is not None:
            picks = f"{more} pick{'s' * (more > 1)}"
            told = f"{picks} added to '{section.name}', so that the sheds run on in what follows"
            return grown, told, found
    return None


def _fitting_apart(wanted: PieceWanted, turned: frozenset[int]) -> tuple[Change, ...]:
    """Return what may be done to the threading so that every section runs on, each by itself.

    Only with these can more picks help to fit the sections together. A section may begin with its
    shuttle at either side.
    """
    changes = tuple(_changes(wanted))
    for section in wanted.sections:
        if section.course.joins.joined:
            alone = [
                _Search(replace(wanted, sections=(section,), start=side), turned)
                for side in (wanted.start, other_side(wanted.start))
            ]
            changes = tuple(each for each in changes if any(one.fits(each) for one in alone))
    return changes


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


def names_of(weaves: tuple[LayerWeave, ...]) -> str:
    """Return the names of the weaves, each once."""
    return " and ".join(dict.fromkeys(map(name_of, weaves)))


def name_of(weave: LayerWeave) -> str:
    """Return the name of a weave as it stands in a sentence."""
    return "plain weave" if weave.name == PLAIN.name else weave.name


def nothing_fits(wanted: PieceWanted) -> DoubleWeaveError:
    """Return why nothing fits, and what would: every answer was tried."""
    joins = [section.course.joins for section in wanted.sections]
    tube = all(each.tube for each in joins if each.joined)
    where = "the edges of a tube" if tube else "every fold"
    why = f"{names_of(wanted.weaves)} cannot run on over {where} with {wanted.ends} ends"
    free = replace(wanted, keep_ends=False)
    found = search(free) if wanted.keep_ends else None
    if found:
        would = f"{found.change.ends} would do: {found.change.told}"
        return DoubleWeaveError(why, would, of="ends")
    rows = _rows_cut(wanted)
    if rows:
        return DoubleWeaveError(
            f"the yarns of the weft change within a row, and {names_of(wanted.weaves)} cannot run "
            "on over the folds",
            f"let each yarn weave whole rows: {rows} picks, or a multiple of that",
            of="order",
        )
    # Those that may grow have been tried with the ends as they are.
    others = tuple(replace(section, grows=not section.grows) for section in wanted.sections)
    every = tuple(replace(section, grows=True) for section in wanted.sections)
    longer = lengthened(replace(wanted, sections=others))
    if longer is None and wanted.keep_ends:
        longer = lengthened(replace(free, sections=every))
    if longer is not None:
        return _too_short(wanted, longer[0], longer[2])
    if not wanted.keep_ends:
        why += ", or a few more or less"
    return DoubleWeaveError(why, _last_resort(wanted), _never_alone(free))


def _rows_cut(wanted: PieceWanted) -> int:
    """Return the picks of a whole row there and back if the order of yarns alone is at fault."""
    if not any(_cuts_rows(section.course) for section in wanted.sections):
        return 0
    sections = []
    for section in wanted.sections:
        wefts = ("weft",) * wanted.layers
        course = replace(section.course, order=(), wefts=wefts)
        sections.append(replace(section, course=course))
    plain = replace(wanted, sections=tuple(sections))
    if not search(plain) and not lengthened(plain):
        return 0
    return 2 * max(
        len(group.layers) for each in sections for group in each.course.joins.groups if group.folds
    )


def _cuts_rows(course: CourseSection) -> bool:
    """Whether a yarn of the order, but for the last, weaves less than whole rows there and back."""
    rows = [2 * len(group.layers) for group in course.joins.groups if group.folds]
    runs = [len(list(run)) for _, run in groupby(course.order)]
    return bool(rows) and any(run % max(rows) for run in runs[:-1])


def _never_alone(wanted: PieceWanted) -> int | None:
    """Return the first section over whose folds the weave never runs on, one of several."""
    if len(wanted.sections) == 1:
        return None
    turned = _turned(wanted)
    return next(
        (
            place
            for place, section in enumerate(wanted.sections)
            if not _fitting_apart(replace(wanted, sections=(section,)), turned)
        ),
        None,
    )


def _too_short(wanted: PieceWanted, longer: PieceWanted, found: Found) -> DoubleWeaveError:
    """Return that one section needs some picks more, and perhaps the warp other ends."""
    place, picks = next(
        (place, new.course.picks)
        for place, (new, old) in enumerate(zip(longer.sections, wanted.sections, strict=True))
        if new.course.picks != old.course.picks
    )
    section = wanted.sections[place]
    other_ends = wanted.keep_ends and found.change.ends != wanted.ends
    with_ends = f", with {found.change.ends} ends: {found.change.told}" if other_ends else ""
    return DoubleWeaveError(
        f"after the {section.course.picks} picks of '{section.name}' a shuttle lies at the "
        f"wrong side, so that {names_of(wanted.weaves)} cannot run on over the folds",
        f"{picks} picks would do{with_ends}",
        place,
    )


def _last_resort(wanted: PieceWanted) -> str:
    """Return what to weave instead."""
    ways = []
    if set(wanted.weaves) != {PLAIN} and search(replace(wanted, weaves=(PLAIN,) * wanted.layers)):
        ways.append("plain weave would do")
    parted: list[SectionWanted] = []
    for section in wanted.sections:
        joins = closed_plan(wanted.layers)
        together = replace(section.course, picks=2, joins=joins, order=())
        parted += [section, replace(section, course=together)]
    if len(wanted.sections) > 1 and search(replace(wanted, sections=tuple(parted))):
        ways.append("weave all layers together for a few picks between the sections")
    return ", or ".join((*ways, "weave the layers apart"))
