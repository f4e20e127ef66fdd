"""Layers that are to be built: what the spec asks of each section, and what is built of it.

Sett and picks of the spec are those of one layer, the top one where layers differ. The finished
width is that of the cloth opened out, or of a tube lying flat.
"""

from __future__ import annotations

from collections.abc import Sequence as Values
from dataclasses import dataclass
from fractions import Fraction
from itertools import cycle, islice

from cards.cloth.weft_path import Side
from cards.draft.course import CourseSection, picks_of_repeat
from cards.draft.join_plan import JoinError, JoinPlan, closed_plan, plan_of, plan_of_pairs
from cards.draft.layer_weave import LayerWeave
from cards.draft.layered_piece import LayeredPiece, build_piece
from cards.draft.piece_search import MOST_SHAFTS, DoubleWeaveError, PieceWanted, SectionWanted
from cards.project.ends import opened_widths
from cards.project.problems import Problems
from cards.project.shuttles import first_end_of
from cards.sequence import Sequence
from cards.spec import DoubleWeave, JoinText, Section, Spec

Path = tuple[str | int, ...]
_BUILT: Path = ("draft", "double_weave")


@dataclass(frozen=True, slots=True)
class LayeredSection:
    """A section of layers: how they are joined, how they lie from the top, their wefts.

    `path` is its place in the spec.
    """

    name: str
    path: Path
    joins: JoinPlan
    stack: tuple[int, ...]
    wefts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LayeredPlan:
    """A layered draft as asked for. Layers count from 0; `ratio` is the ends of each in a round."""

    layers: int
    weaves: tuple[LayerWeave, ...]
    ratio: tuple[int, ...]
    main: JoinPlan
    start: Side
    sections: tuple[LayeredSection, ...]
    warps: tuple[str, ...]

    @property
    def widths(self) -> Fraction:
        """How many times as wide as one layer the widest cloth is; a tube lies flat."""
        if self.main.closed:
            return Fraction(1)
        return max(opened_widths(len(group.layers), tube=group.ring) for group in self.main.groups)

    @property
    def asked(self) -> tuple[object, ...]:
        """What tells the cloth of one section from that of another."""
        return tuple((section.joins, section.stack) for section in self.sections)

    @property
    def warp_share(self) -> Fraction:
        """Ends of all layers for each end of the top one."""
        return Fraction(sum(self.ratio), self.ratio[0])

    def weft_share(self, joins: JoinPlan) -> Fraction:
        """Return the picks of all layers for each pick of the top one.

        Layers woven together take no more picks than one: every pick crosses all ends (common
        practice, no source).
        """
        if joins.closed:
            return Fraction(1)
        return Fraction(self.layers) if joins.joined else self.warp_share

    def repeat(self, section: int) -> int:
        """Return after how many picks a section repeats."""
        cycles = [len(weave.lifts) for weave in self.weaves]
        return picks_of_repeat(self.sections[section].joins, self.ratio, cycles)


def layered_plan(spec: Spec, built: DoubleWeave, problems: Problems) -> LayeredPlan:
    """Return the layers that are to be built, section by section."""
    layers, ratio = built.layers, built.ratio or (1,) * built.layers
    weaves = tuple(LayerWeave(each.name, each.threading, each.lifts) for each in built.weave)
    weaves = weaves * (layers if len(weaves) == 1 else 1)
    main = _joins(built.join, layers, None, (*_BUILT, "join"), problems)
    _check_circumference(spec, main, problems)
    sections: tuple[LayeredSection, ...]
    if spec.weave:
        sections = tuple(
            _section(spec, built, section, ("weave", place), problems)
            for place, section in enumerate(spec.weave)
        )
    else:
        sections = (_section(spec, built, Section(section="body"), _BUILT, problems),)
    warps = built.warps or _only_yarn(spec, "warps", problems)
    return LayeredPlan(
        layers,
        weaves,
        ratio,
        main,
        built.start,
        sections,
        warps * (layers if len(warps) == 1 else 1),
    )


def _check_circumference(spec: Spec, main: JoinPlan, problems: Problems) -> None:
    """Refuse the circumference of a cloth whose pairs of joined layers make no tube."""
    if spec.cloth.circumference is not None and not any(each.ring for each in main.groups):
        raise problems.stop(
            "no-tube",
            "only a tube has a circumference, and these joins leave the cloth an open edge",
            "give the width of the cloth, or join its layers all round: `join: tube`",
            "cloth",
            "circumference",
        )


def _only_yarn(spec: Spec, key: str, problems: Problems) -> tuple[str, ...]:
    if len(spec.yarns) > 1 and not (key == "warps" and spec.warp_order is not None):
        built = spec.draft.double_weave
        layers = built.layers if built is not None else 1
        some = ", ".join(islice(cycle(spec.yarns), layers))
        one = next(iter(spec.yarns))
        joined = key == "wefts" and built is not None and built.join.name not in {"none", "pairs"}
        raise problems.stop(
            f"no-{key}",
            f"there are several yarns, and the layers do not say which are their {key}",
            f"add `{key}: {one}`, the weft of all joined layers, to double_weave"
            if joined
            else f"add `{key}: [{some}]`, one a layer, or one for all, to double_weave",
            *_BUILT,
        )
    return (next(iter(spec.yarns)),)


def _section(
    spec: Spec, built: DoubleWeave, section: Section, path: Path, problems: Problems
) -> LayeredSection:
    layers = built.layers
    stack = tuple(layer - 1 for layer in section.stack or range(1, layers + 1))
    where = (*path, "join") if section.join else (*_BUILT, "join")
    join = section.join or built.join
    if section.stack and _makes_cloth(join, layers, None):
        # If it makes none with the layers in this order, the order is at fault.
        where = (*path, "stack")
    joins = _joins(join, layers, stack, where, problems)
    wefts = section.wefts or built.wefts
    if section.weft is not None or (section.wefts is None and spec.weft_order is not None):
        wefts = wefts or (next(iter(spec.yarns)),)
    elif wefts is None:
        wefts = _only_yarn(spec, "wefts", problems)
    wefts = wefts * (layers if len(wefts) == 1 else 1)
    if section.weft is None and (section.wefts is not None or spec.weft_order is None):
        where = (*path, "join") if section.join else (*_BUILT, "wefts")
        where = (*path, "wefts") if section.wefts else where
        _check_wefts(joins, wefts, where, problems)
    return LayeredSection(section.section, path, joins, stack, wefts)


def _check_wefts(joins: JoinPlan, wefts: tuple[str, ...], path: Path, problems: Problems) -> None:
    for group in joins.groups:
        yarns = list(dict.fromkeys(wefts[layer] for layer in group.layers))
        if len(yarns) > 1:
            names = " and ".join(str(layer + 1) for layer in sorted(group.layers))
            raise problems.stop(
                "wefts-of-one-cloth",
                f"one shuttle weaves layers {names}, which are joined, and their wefts are "
                f"{' and '.join(yarns)}",
                f"give joined layers one weft, such as `wefts: {yarns[0]}`; for stripes write an "
                f"order, such as `weft: 8 {yarns[0]}, 8 {yarns[1]}`",
                *path,
            )


def _joins(
    text: JoinText,
    layers: int,
    stack: tuple[int, ...] | None,
    path: Path,
    problems: Problems,
) -> JoinPlan:
    try:
        return _plan(text, layers, stack)
    except JoinError as error:
        raise problems.stop("no-cloth", error.why, error.mend, *path) from None


def _makes_cloth(text: JoinText, layers: int, stack: tuple[int, ...] | None) -> bool:
    try:
        _plan(text, layers, stack)
    except JoinError:
        return False
    return True


def _plan(text: JoinText, layers: int, stack: tuple[int, ...] | None) -> JoinPlan:
    if text.name == "closed":
        return closed_plan(layers)
    if text.name == "pairs":
        pairs = [(one - 1, two - 1, side) for one, two, side in text.pairs]
        return plan_of_pairs(layers, pairs, stack)
    return plan_of(layers, text.name, stack)


def build_layers(
    spec: Spec,
    plan: LayeredPlan,
    ends: int,
    picks: Values[int],
    orders: Values[Sequence[str] | None],
    problems: Problems,
) -> LayeredPiece:
    """Return the draft of the layers with `ends` ends of all layers, and so many picks a section.

    `orders` has the yarns of a section's picks where an order is written. Tells what was chosen
    as notes; raises Stopped when nothing fits.
    """
    sections = []
    for place, (section, number) in enumerate(zip(plan.sections, picks, strict=True)):
        order = orders[place]
        course = CourseSection(
            picks=number,
            joins=section.joins,
            wefts=section.wefts,
            order=tuple(order.values()) if order is not None else (),
            ratio=plan.ratio,
        )
        sections.append(
            SectionWanted(section.name, course, section.stack, grows=_grows(spec, place))
        )
    built = spec.draft.double_weave
    wanted = PieceWanted(
        ends=ends,
        layers=plan.layers,
        sections=tuple(sections),
        start=plan.start,
        first_end=first_end_of(spec),
        arrangement=built.threading if built is not None else "straight",
        weaves=plan.weaves,
        ratio=plan.ratio,
        shafts=min(spec.loom.shafts, MOST_SHAFTS),
        keep_ends=spec.given.ends is not None,
    )
    try:
        piece = build_piece(wanted)
    except DoubleWeaveError as error:
        path = _at_fault(spec, plan, error)
        raise problems.stop("layers-do-not-fit", error.why, error.mend, *path) from None
    for told in piece.chosen:
        problems.note("layers-chosen", told, "the cards have it so", *_BUILT)
    return piece


def _at_fault(spec: Spec, plan: LayeredPlan, error: DoubleWeaveError) -> Path:
    """Return the place of what must be changed, as near as it is written."""
    if error.section is not None:
        return (*plan.sections[error.section].path, "picks")
    if error.of == "order":
        own = [place for place, section in enumerate(spec.weave) if section.weft is not None]
        several = [place for place in own if _several(spec.weave[place].weft)]
        if several or spec.weft_order is None:
            return ("weave", (several or own)[0], "weft")
        return ("weft_order",)
    return ("given", "ends") if error.of == "ends" and spec.given.ends is not None else _BUILT


def _several(order: Sequence[str] | None) -> bool:
    return order is not None and len({run.value for run in order.runs()}) > 1


def _grows(spec: Spec, place: int) -> bool:
    """Whether a section may be made a few picks longer: its picks are not the author's own."""
    if not spec.weave:
        return True
    section = spec.weave[place]
    return section.picks is None and section.repeats is None and spec.given.picks is None
