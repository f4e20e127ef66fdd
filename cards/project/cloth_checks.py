"""Findings about the cloth that the draft makes: is it what was asked for, and does it hold."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from cards.cloth.layers import Layer, layers
from cards.cloth.pieces import stitched_layers
from cards.cloth_words import layer_letter, listed, pieces_words
from cards.project.cloth import Cloth, ClothStretch, kind_of
from cards.project.float_lengths import longest
from cards.project.model import Draft, Warp, Weft
from cards.project.problems import Problems
from cards.spec import Spec

if TYPE_CHECKING:
    from cards.project.layered import LayeredPlan

# Turns of the weft that miss the last end are told from this share of all at that edge on.
_MISSED = 0.05


def check_cloth(
    spec: Spec,
    draft: Draft,
    warp: Warp,
    weft: Weft,
    cloth: Cloth,
    layered: LayeredPlan | None,
    problems: Problems,
) -> None:
    """Check that the draft makes what the spec expects, and that nothing hangs loose."""
    _check_whole(spec, weft, problems)
    loose = _loose(layers(draft.drawdown))
    if loose:
        _report_loose(loose, problems)
        _check_slips(spec, warp, weft, cloth, problems)
        return
    if layered is not None:
        _check_built(layered, cloth, problems)
    there = _check_layers(spec, weft, cloth, layered, problems)
    if there and (layered is not None or spec.expect.layers is not None):
        _check_pieces(spec, weft, cloth, layered, problems)
        _check_folds(spec, cloth, layered, problems)
    _check_slips(spec, warp, weft, cloth, problems)
    if there:
        _check_edges(spec, cloth, problems)
        _check_pieces_in_a_row(spec, weft, cloth, problems)
    _check_floats(spec, warp, weft, cloth, problems)


def _check_slips(spec: Spec, warp: Warp, weft: Weft, cloth: Cloth, problems: Problems) -> None:
    """Look for a slip in a draft that is written out and expected to make layers."""
    if spec.draft.double_weave is None and (spec.expect.layers or 1) > 1:
        from cards.project.slip_checks import check_slips  # noqa: PLC0415 - 90 ms, seldom needed

        check_slips(spec, warp, weft, cloth, problems)


def _check_whole(spec: Spec, weft: Weft, problems: Problems) -> None:
    for index, woven in enumerate(weft.sections):
        if not woven.whole:
            problems.note(
                "treadling-cut-off",
                f"'{woven.name}' ends within a repeat of its treadling",
                "see the last line of the section on the pick tally; change its length or picks "
                "if it must end whole",
                *section_path(spec, index),
            )


def section_path(spec: Spec, index: int) -> tuple[str | int, ...]:
    """Return the place in the spec of a section, or of the draft if there are none."""
    return ("weave", index) if spec.weave else ("draft",)


def _loose(found: tuple[Layer, ...]) -> list[Layer]:
    return [layer for layer in found if not layer.ends or not layer.picks]


def _check_built(layered: LayeredPlan, cloth: Cloth, problems: Problems) -> None:
    """Hold what was built against what was asked for, section by section."""
    for stretch in cloth.stretches:
        for index in stretch.sections:
            section = layered.sections[index]
            wanted = 1 if section.joins.closed else layered.layers
            if any(not layer.ends or not layer.picks for layer in stretch.layers):
                problems.warning(
                    "section-too-short",
                    f"'{section.name}' is too short to bind all ends in all layers",
                    f"give it {layered.repeat(index)} picks or more",
                    *section.path,
                )
            elif len(stretch.layers) != wanted:
                problems.error(
                    "layers-not-as-asked",
                    f"'{section.name}' makes {_layers(len(stretch.layers))}, and "
                    f"{_layers(wanted)} are asked for",
                    "each layer needs a weave that binds all its ends and picks, and a section "
                    "long enough to bind them",
                    *section.path,
                )
                return


def _check_layers(
    spec: Spec, weft: Weft, cloth: Cloth, layered: LayeredPlan | None, problems: Problems
) -> bool:
    """Report layers that are not there; a section that joins them is only worth a note.

    Returns whether the layers that are expected are there, if any are.
    """
    found = {index: len(each.layers) for each in cloth.stretches for index in each.sections}
    most = max(found.values())
    expected = spec.expect.layers
    if expected is None:
        if layered is None and most > 1:
            problems.warning(
                "layers-apart",
                f"the draft makes {_layers(most)} that hang apart",
                f"if they are meant, say `expect: {{layers: {most}}}`: sett and picks are then "
                "those of one layer",
                "draft",
            )
        return True
    if expected not in found.values():
        problems.error(
            "layers-unexpected",
            f"the draft makes {_layers(most)}, and {_layers(expected)} are expected",
            "correct the threading, tie-up or treadling, or `expect: {layers: ...}`"
            if layered is None
            else "all layers are woven together: give a section another `join` than closed"
            if layered.layers == expected
            else f"say `layers: {expected}` in double_weave, or `expect: {{layers: {most}}}`",
            "expect",
            "layers",
        )
        return False
    if layered is not None:
        return True
    for index, number in sorted(found.items()):
        if number != expected:
            problems.note(
                "section-layers",
                f"'{weft.sections[index].name}' makes {_layers(number)} instead of {expected}"
                f"{_stitched(cloth, index)}",
                "this is right where layers are joined on purpose, as at the base of a bag",
                *section_path(spec, index),
            )
    return True


def _stitched(cloth: Cloth, section: int) -> str:
    """Return which layers a section holds together that lie apart elsewhere, in words."""
    meant = [0] * sum(len(layer.ends) for layer in cloth.main.layers)
    for lane, layer in zip(cloth.main.lanes, cloth.main.layers, strict=True):
        for end in layer.ends:
            meant[end] = lane
    held = stitched_layers(cloth.at(section).layers, meant)
    told = [listed([layer_letter(lane) for lane in lanes]) for lanes in held.values()]
    return f": layers {', and layers '.join(told)} are stitched together" if told else ""


def _check_pieces(
    spec: Spec, weft: Weft, cloth: Cloth, layered: LayeredPlan | None, problems: Problems
) -> None:
    """Hold the pieces against those that are expected, or report odd ones."""
    expected = spec.expect.pieces
    if expected is not None:
        other = _other_pieces(spec, cloth, expected)
        if other is None:
            return
        made = pieces_words(other.pieces, len(other.layers))
        if kind_of(cloth.main) == expected:
            if layered is None:
                problems.note(
                    "section-pieces",
                    f"here the weft makes {made} instead of {_EXPECTED[expected]}",
                    "this is right where the cloth changes on purpose, as at the mouth of a bag",
                    *section_path(spec, other.sections[0]),
                )
            return
        problems.error(
            "pieces-unexpected",
            f"the weft makes {made}, and {_EXPECTED[expected]} is expected",
            "correct the order of the picks, the shuttles or the side at which they start, or "
            "`expect: {pieces: ...}`"
            if layered is None
            else "join the layers otherwise (`join` in double_weave), or change `expect`",
            "expect",
            "pieces",
        )
        return
    for stretch in cloth.stretches:
        for piece in stretch.pieces:
            if piece.kind == "odd" and len(stretch.layers) > 1:
                problems.warning(
                    "odd-cloth",
                    piece.note,
                    _odd_mend(stretch, layered),
                    *_order_path(spec, weft, stretch, layered),
                )


def _order_path(
    spec: Spec, weft: Weft, stretch: ClothStretch, layered: LayeredPlan | None
) -> tuple[str | int, ...]:
    """Return the place of the order that parts the rows of built layers: one of several yarns."""
    for index in stretch.sections:
        several = len({run.value for run in weft.sections[index].weft.runs()}) > 1
        if layered is not None and several and spec.weave and spec.weave[index].weft is not None:
            return ("weave", index, "weft")
    if layered is not None and spec.weft_order is not None:
        return ("weft_order",)
    return section_path(spec, stretch.sections[0])


def _other_pieces(spec: Spec, cloth: Cloth, expected: str) -> ClothStretch | None:
    """Return a stretch that is not joined as expected, the main one first; woven as one is none."""
    layers = spec.expect.layers or cloth.lanes
    parted = [each for each in cloth.stretches if len(each.layers) == layers > 1]
    if cloth.main not in parted:
        return cloth.main
    others = [each for each in parted if kind_of(each) != expected]
    return cloth.main if cloth.main in others else next(iter(others), None)


_EXPECTED = {
    "separate": "a cloth of each layer for itself",
    "tube": "a tube",
    "folded": "one cloth folded into the layers",
}


def _odd_mend(stretch: ClothStretch, layered: LayeredPlan | None) -> str:
    if layered is not None:
        rows = 2 * max(len(piece.layers) for piece in stretch.pieces)
        return f"let each yarn weave whole rows: {rows} picks, or a multiple of that"
    return "all is well if this is meant; else look at the order of the picks and the shuttles"


def _check_folds(spec: Spec, cloth: Cloth, layered: LayeredPlan | None, problems: Problems) -> None:
    """Report faults where the weft goes over a fold, those of one kind and side together.

    Less than a repeat does not show how far its weave floats; what is built is right by its sheds.
    """
    for stretch in cloth.stretches:
        if layered is not None and stretch.picks < layered.repeat(stretch.sections[0]):
            continue
        kinds = Counter((fault.side, fault.kind) for fault in stretch.fold_faults)
        for (side, kind), times in kinds.items():
            first = next(
                each for each in stretch.fold_faults if (each.side, each.kind) == (side, kind)
            )
            pick = stretch.first_pick + first.pick + 1
            what = "two ends side by side weave alike"
            if kind != "doubled":
                what = f"the weft floats over {first.threads} ends"
            problems.warning(
                "fold-fault",
                f"{what} where the cloth turns at the {side}: after "
                f"pick {pick}" + (f", and {times - 1} times more" if times > 1 else ""),
                "drop or add an end at that side, or begin a layer at its other shed",
                *section_path(spec, stretch.sections[0]),
            )


def _check_edges(spec: Spec, cloth: Cloth, problems: Problems) -> None:
    """Note edges at which the weft often turns without catching the last end."""
    if spec.selvedges.floating:
        return
    for stretch in cloth.stretches:
        missed = Counter(
            (fault.layers[0], fault.side) for fault in stretch.faults if fault.kind == "edge missed"
        )
        edges = []
        for (layer, side), times in sorted(missed.items()):
            turns = max(times, round(len(stretch.layers[layer].picks) / 2))
            if times >= _MISSED * turns:
                of_layer = f" of layer {layer + 1}" if len(stretch.layers) > 1 else ""
                edges.append(f"at the {side}{of_layer} in {times} of about {turns} turns")
        if edges:
            problems.note(
                "edge-missed",
                f"the weft misses the last end {listed(edges)}",
                "take the shuttle round that end by hand, or start at the other side"
                if len(stretch.layers) > 1
                else "take the shuttle round that end by hand, start at the other side, or hang "
                "a floating selvedge",
                *section_path(spec, stretch.sections[0]),
            )


def _check_pieces_in_a_row(spec: Spec, weft: Weft, cloth: Cloth, problems: Problems) -> None:
    """Note shuttles that lie at the other side when a further piece begins."""
    if weft.pieces < 2 or cloth.lanes < 2:
        return
    moved = []
    for number, shuttle in enumerate(cloth.shuttles):
        picks = int((cloth.plan.shuttles == number).sum())
        if picks % 2:
            moved.append(f"shuttle {shuttle.number} ({shuttle.yarn})")
    if moved:
        problems.note(
            "shuttle-not-back",
            f"after one piece {listed(moved)} {'lie' if len(moved) > 1 else 'lies'} at the other "
            "side than at its beginning",
            "begin the next piece as this one began: carry the weft over to its side, or weave a "
            "pick more or less in a section",
            *section_path(spec, len(weft.sections) - 1),
        )


def _check_floats(spec: Spec, warp: Warp, weft: Weft, cloth: Cloth, problems: Problems) -> None:
    limit = spec.expect.longest_float
    if limit is None:
        return
    figures = problems.figures
    for system, thread in (("warp", "end"), ("weft", "pick")):
        found = longest(cloth, warp, weft, "warp" if system == "warp" else "weft")
        if found is not None and found.length > limit:
            side = "over" if (found.face == "face") else "under"
            passed = "picks" if system == "warp" else "ends"
            problems.warning(
                "long-float",
                f"{thread} {found.thread + 1} floats {side} {found.threads} {passed} in a row, "
                f"{figures.width(found.length)} on the loom; {figures.width(limit)} is the most",
                "tie the float down with another shed, or set the threads closer",
                "expect",
                "longest_float",
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
