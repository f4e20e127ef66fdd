"""The single slip that would explain why a written draft is not quite the cloth it should be."""

from __future__ import annotations

from cards.cloth.weft_path import ShuttlePlan, Side, other_side
from cards.draft.blemishes import blemishes
from cards.draft.slip_kinds import EndSlip, Slip, TieSlip
from cards.draft.slips import find_slips
from cards.draft.written import Expected, Pieces, WrittenDraft
from cards.project.cloth import Cloth, kind_of
from cards.project.model import Warp, Weft, WovenSection
from cards.project.problems import Problems
from cards.sequence import Repeat, Run, Sequence
from cards.spec import Spec
from cards.threading_groups import place_words, threading_groups

Path = tuple[str | int, ...]

# More explanations than this are no help.
_MOST_TOLD = 3


def check_slips(spec: Spec, warp: Warp, weft: Weft, cloth: Cloth, problems: Problems) -> None:
    """Look for a slip in a draft that is written out and expected to make layers."""
    layers = spec.expect.layers or 1
    place = _section(weft, cloth, layers)
    section = weft.sections[place]
    draft = _written(spec, warp, section, cloth)
    made = kind_of(cloth.at(place))
    kinds: tuple[Pieces, ...] = ("separate", "tube", "folded")
    # A slip must not be explained by making another cloth than the one that is there.
    pieces = spec.expect.pieces or next((kind for kind in kinds if kind == made), None)
    expected = Expected(layers, pieces)
    slips = find_slips(draft, expected)
    if not slips:
        _tell_blemish(draft, expected, section, problems)
        return
    told = [_words(slip, warp) for slip in slips[:_MOST_TOLD]]
    either = f"either {', or '.join(told)}" if len(told) > 1 else told[0]
    path, offset = _place(spec, warp, place, slips[0])
    problems.warning(
        "slip",
        f"one slip would explain what is wrong with '{section.name}': {either}",
        "correct it; leave it so only if it is meant",
        *path,
        offset=offset,
    )


def _section(weft: Weft, cloth: Cloth, layers: int) -> int:
    """Return the longest section of those that should make the layers: those that do, else all."""
    found = [
        place
        for stretch in cloth.stretches
        if len(stretch.layers) == layers
        for place in stretch.sections
    ]
    return max(found or range(len(weft.sections)), key=lambda place: weft.sections[place].picks)


def _written(spec: Spec, warp: Warp, section: WovenSection, cloth: Cloth) -> WrittenDraft:
    rows = slice(section.first_pick, section.first_pick + section.picks)
    plan = ShuttlePlan(cloth.plan.shuttles[rows], cloth.plan.from_right[rows], cloth.plan.first_end)
    sheds = tuple(_repeat(section.sheds))
    return WrittenDraft(
        threading=tuple(warp.threading.values()),
        plan=plan,
        shafts=spec.loom.shafts,
        lifts=() if section.by_treadle else sheds,
        treadling=sheds if section.by_treadle else (),
        tie_up=spec.draft.tie_up or {},
    )


def _repeat(sheds: Sequence[frozenset[int]]) -> list[frozenset[int]]:
    """Return one repeat of the sheds of a section, all of them if they do not repeat."""
    first = sheds.items[0]
    if isinstance(first, Repeat):
        once = Sequence(first.items).values()
        every = sheds.values()
        if all(each == once[place % len(once)] for place, each in enumerate(every)):
            return once
    return sheds.values()


def _tell_blemish(
    draft: WrittenDraft, expected: Expected, section: WovenSection, problems: Problems
) -> None:
    """Note what no single slip explains, unless it is told already by other findings."""
    told = {"lone", "layers", "pieces", "fold"}
    found = next((each for each in blemishes(draft, expected) if each.kind not in told), None)
    if found is not None:
        problems.note(
            "uneven-layers",
            f"'{section.name}' is not even: {found.words}",
            "all is well if this is meant",
            "draft",
        )


def _words(slip: Slip, warp: Warp) -> str:
    if not isinstance(slip, EndSlip):
        return slip.words
    groups = threading_groups(warp.threading, warp.selvedges, warp.first_end)
    return f"{slip.words} (threading chart: {place_words(groups, slip.end)})"


def _place(spec: Spec, warp: Warp, section: int, slip: Slip) -> tuple[Path, int]:
    """Return the path in the spec of what is to be corrected, and the character in its text."""
    if isinstance(slip, EndSlip):
        first = warp.selvedges[0]
        end = slip.end - first
        if 0 <= end < warp.ends - sum(warp.selvedges):
            return ("draft", "threading"), _offset(warp.threading.items, slip.end)
        first_end: Side = "right" if warp.first_end == "right" else "left"
        return ("selvedges", first_end if end < 0 else other_side(first_end)), 0
    if isinstance(slip, TieSlip):
        return ("draft", "tie_up", slip.treadle), 0
    own = spec.weave[section] if spec.weave else None
    for key in ("treadling", "lifts"):
        if own is not None and getattr(own, key) is not None:
            return ("weave", section, key), 0
    return ("draft", "treadling" if spec.draft.treadling is not None else "lifts"), 0


def _offset(items: tuple[Run[int] | Repeat[int], ...], place: int) -> int:
    """Return where in the written text the value at `place` of a filled sequence stands."""
    for item in items:
        if place < item.length:
            if isinstance(item, Run):
                return item.offset
            return _offset(item.items, place % item.once)
        place -= item.length
    return 0
