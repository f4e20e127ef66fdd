"""The cloth sheet of a layered draft: what cloth it makes, drawn and proved, kind by kind."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from cards.cloth.layers import Layer
from cards.cloth.pieces import Piece
from cards.cloth_kinds import KindOfCloth, kinds_of_cloth
from cards.cloth_proof import Proof, proof_of
from cards.cloth_words import (
    exchange_words,
    layer_letter,
    layer_name,
    listed,
    piece_words,
    pieces_words,
)
from cards.cross_section import CrossSection, cross_section
from cards.figures import Figures
from cards.heading import Heading, card_name, heading_of
from cards.layer_faces import OpenedPiece, Weave, layer_face, layer_underside, opened_piece
from cards.layer_marks import layer_checks
from cards.project.cloth import Cloth, ClothStretch
from cards.project.float_lengths import FloatLength, float_lengths, longest_of
from cards.project.model import Project, ProjectYarn


class OneLayerOnly(ValueError):  # noqa: N818 -- it names what is so
    """Raised for a draft that makes one cloth of a single layer: there is nothing to draw."""


@dataclass(frozen=True, slots=True, eq=False)
class SheetLayer:
    """One layer: its letters, where it lies, its shafts, threads, yarns and longest floats.

    `lanes` are the warps whose ends it has, and `shafts` those of each. Where layers are woven
    together it has several. `floats` has the longest of warp and weft, if there are any.
    """

    letters: str
    name: str
    lanes: tuple[int, ...]
    shafts: tuple[tuple[int, ...], ...]
    ends: int
    picks: int
    warp: tuple[ProjectYarn, ...]
    weft: tuple[ProjectYarn, ...]
    floats: tuple[FloatLength, ...]
    face: Weave


@dataclass(frozen=True, slots=True)
class Look:
    """How to look at a layer at the loom: the layers raised whole, shafts raised and left down."""

    raised: str
    shows: str
    shafts: tuple[int, ...]
    down: tuple[int, ...]


@dataclass(frozen=True, slots=True, eq=False)
class ClothKind:
    """One kind of cloth: where it is woven, what it is, and all its pictures.

    `spans` has first and last pick of each stretch, from 1. `pieces` are told in `piece_words`, one
    by one, with the letters of their layers.
    """

    sections: tuple[str, ...]
    spans: tuple[tuple[int, int], ...]
    words: str
    pieces: tuple[Piece, ...]
    piece_words: tuple[str, ...]
    layers: tuple[SheetLayer, ...]
    proof: Proof
    section: CrossSection
    underside: Weave
    opened: tuple[OpenedPiece, ...]
    looks: tuple[Look, ...]


@dataclass(frozen=True, slots=True, eq=False)
class ClothSheet:
    """All that the cloth sheet says; `lanes` are the layers where most are parted."""

    heading: Heading
    lanes: int
    ends: int
    picks: int
    first_end: str
    first_row_on_top: bool
    filled: str
    sinking: bool
    kinds: tuple[ClothKind, ...]
    chosen: tuple[str, ...]
    exchanges: tuple[str, ...]
    yarns: tuple[ProjectYarn, ...]
    figures: Figures


def cloth_sheet(project: Project) -> ClothSheet:
    """Return the cloth sheet of a project. Raises OneLayerOnly where nothing lies above another."""
    if not project.cloth.has_layers:
        raise OneLayerOnly("the draft makes a single layer, so there are no layers to draw")
    home = home_of_ends(project.cloth, project.warp.ends)
    used = {*project.warp.order.values(), *project.draft.weft}
    return ClothSheet(
        heading=heading_of(project, card_name(project, "Cloth sheet")),
        lanes=project.cloth.lanes,
        ends=project.warp.ends,
        picks=project.weft.picks_each,
        first_end=project.warp.first_end,
        first_row_on_top=project.conventions.treadling == "down",
        filled=project.conventions.filled,
        sinking=project.loom.action == "sinking",
        kinds=tuple(_kind(project, kind, home) for kind in kinds_of_cloth(project)),
        chosen=project.chosen,
        exchanges=tuple(exchange_words(each.after, each.pick) for each in project.cloth.exchanges),
        yarns=tuple(yarn for yarn in project.yarns if yarn.key in used),
        figures=Figures(project.units),
    )


def home_of_ends(cloth: Cloth, ends: int) -> NDArray[np.intp]:
    """Return the warp of each end, shape (ends,): its layer where most layers are parted."""
    home = np.zeros(ends, dtype=np.intp)
    for lane, layer in zip(cloth.main.lanes, cloth.main.layers, strict=True):
        home[list(layer.ends)] = lane
    return home


def _kind(project: Project, kind: KindOfCloth, home: NDArray[np.intp]) -> ClothKind:
    stretch = kind.shown
    layers = tuple(
        _layer(project, kind, place, layer, home) for place, layer in enumerate(stretch.layers)
    )
    letters = [layer.letters for layer in layers]
    sections = [
        project.weft.sections[place].name for each in kind.stretches for place in each.sections
    ]
    folded = [piece for piece in stretch.pieces if len(piece.layers) > 1]
    return ClothKind(
        sections=tuple(dict.fromkeys(sections)),
        spans=tuple((each.first_pick + 1, each.first_pick + each.picks) for each in kind.stretches),
        words=_together(stretch.pieces, len(stretch.layers)),
        pieces=stretch.pieces,
        piece_words=tuple(_piece(piece, letters) for piece in folded) if len(layers) > 1 else (),
        layers=layers,
        proof=proof_of(kind.stretches, project.warp.ends, letters),
        section=cross_section(project, kind, home),
        underside=layer_underside(project, stretch),
        opened=tuple(opened_piece(project, stretch, piece) for piece in folded),
        looks=_looks(project, stretch),
    )


def _together(pieces: tuple[Piece, ...], layers: int) -> str:
    """Return what all pieces are together; those that are alike are counted."""
    number, first = len(pieces), pieces[0]
    alike = {(piece.kind, len(piece.layers), piece.folds) for piece in pieces}
    if number > 1 and len(alike) == 1 and len(first.layers) > 1:
        if first.kind == "tube":
            return f"{number} tubes, one above the other"
        if first.kind == "flat":
            folds = listed(first.folds)
            return f"{number} cloths, each {len(first.layers)} widths wide, folded at the {folds}"
    return pieces_words(pieces, layers)


def _piece(piece: Piece, letters: list[str]) -> str:
    return f"{listed([letters[layer] for layer in piece.layers])}: {piece_words(piece)}"


def _layer(
    project: Project, kind: KindOfCloth, place: int, layer: Layer, home: NDArray[np.intp]
) -> SheetLayer:
    stretch = kind.shown
    lanes = tuple(sorted(set(home[list(layer.ends)].tolist())))
    order = project.warp.order.values()
    weft = project.draft.weft
    threading = project.draft.threading
    floats = [
        each for each in float_lengths(stretch, project.warp, project.weft) if each.layer == place
    ]
    wefts = [weft[stretch.first_pick + pick] for pick in layer.picks]
    return SheetLayer(
        letters="+".join(layer_letter(lane) for lane in lanes) or "no ends",
        name=layer_name(place, len(stretch.layers)),
        lanes=lanes,
        shafts=tuple(
            tuple(sorted({threading[end] for end in layer.ends if home[end] == lane}))
            for lane in lanes
        ),
        ends=len(layer.ends),
        picks=sum(len(each.layers[place].picks) for each in kind.stretches),
        warp=tuple(project.yarn(key) for key in dict.fromkeys(order[end] for end in layer.ends)),
        weft=tuple(project.yarn(key) for key in dict.fromkeys(wefts)),
        floats=tuple(longest_of(floats).values()),
        face=layer_face(project, stretch, layer),
    )


def _looks(project: Project, stretch: ClothStretch) -> tuple[Look, ...]:
    """Return the lifts that show each layer but the top one: all above it raised whole."""
    threaded = set(project.draft.threading)
    looks = []
    for each in layer_checks(project, stretch):
        down = tuple(sorted(threaded - {*each.shafts}))
        looks.append(Look(listed(each.letters), each.below, each.shafts, down))
    return tuple(looks)
