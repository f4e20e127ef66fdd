"""The finished cloth as it is seen from its face: every end and pick at its place, in true sizes.

A cloth folded on the loom is seen opened out, a tube as it lies flat, other layers from above.
Column 0 lies at the left of the weaver, row 0 is woven first. Lengths are mm of washed cloth.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from cards.cloth.layers import Layer
from cards.cloth.opened import open_out
from cards.cloth.pieces import Piece
from cards.cloth_words import layer_letter, piece_words
from cards.compared import finished_length
from cards.project.cloth import ClothStretch
from cards.project.model import Project, ProjectYarn, WovenSection

Cells = NDArray[np.bool_]
Numbers = NDArray[np.intp]


@dataclass(frozen=True, slots=True, eq=False)
class Band:
    """What is seen of one section: `cells`, shape (rows, columns), true = end over pick.

    `warp`, shape (columns,), and `weft`, shape (rows, columns), are places in the yarns of the
    cloth. `width` and `length` are those of the section.
    """

    name: str
    cells: Cells
    warp: Numbers
    weft: Numbers
    width: float
    length: float


@dataclass(frozen=True, slots=True, eq=False)
class FinishedCloth:
    """One finished cloth, and how many are alike.

    `length` is without `hem`, which is turned under at both ends and has its own bands, and without
    `fringe`, the length of the one at each end. `folds` lie at these distances from the left where
    it was folded on the loom. `bands` begin at the end that is woven first, hem and all.
    """

    name: str
    number: int
    width: float
    length: float
    hem: float
    fringe: float
    folds: tuple[float, ...]
    tube: bool
    yarns: tuple[ProjectYarn, ...]
    bands: tuple[Band, ...]


def finished_cloths(project: Project) -> tuple[FinishedCloth, ...]:
    """Return every cloth that comes off the loom, those of each kind of piece after one another."""
    found: list[FinishedCloth] = []
    for kind, (_, number) in zip(project.kinds, project.every_kind, strict=True):
        found += _cloths(kind, number)
    return tuple(found)


def _cloths(project: Project, number: int) -> list[FinishedCloth]:
    panels = _panels(project)
    made = [_cloth(project, panel, number) for panel in panels]
    if len(made) == 1:
        return made
    return [
        replace(each, name=", ".join(filter(None, (project.piece, _panel_name(project, panel)))))
        for each, panel in zip(made, panels, strict=True)
    ]


def _panel_name(project: Project, panel: Piece | None) -> str:
    if panel is None:
        return ""
    lanes = [layer_letter(project.cloth.main.lanes[place]) for place in panel.layers]
    words = f"cloth {'+'.join(sorted(lanes))}"
    return words if len(lanes) == 1 else f"{words}, {piece_words(panel)}"


def _panels(project: Project) -> list[Piece | None]:
    """Return the pieces of the widest stretch that are cloths by themselves; None is what is seen.

    Cloths that change places are held together where they do, so they are seen from above as one.
    """
    cloth = project.cloth
    pieces = cloth.main.pieces
    whole = all(piece.kind != "odd" for piece in pieces)
    if not cloth.has_layers or cloth.exchanges or not whole:
        return [None]
    return list(pieces)


def _cloth(project: Project, panel: Piece | None, number: int) -> FinishedCloth:
    used = {*project.warp.order.values(), *project.draft.weft}
    yarns = tuple(yarn for yarn in project.yarns if yarn.key in used)
    place = {yarn.key: at for at, yarn in enumerate(yarns)}
    seen = _Seen(project, panel, place)
    bands: list[Band] = []
    folds: tuple[float, ...] = ()
    for stretch in project.cloth.stretches:
        for at in stretch.sections:
            band, its_folds = seen.band(stretch, project.weft.sections[at])
            bands.append(band)
            folds = folds or its_folds
    length = finished_length(project)
    hem = (sum(section.finished for section in project.weft.sections) - length) / 2
    return FinishedCloth(
        name=project.piece,
        number=number,
        width=project.warp.finished_width,
        length=length,
        hem=hem,
        fringe=project.weft.around.finished_fringe,
        folds=folds,
        tube=panel is not None and panel.kind == "tube",
        yarns=yarns,
        bands=tuple(bands),
    )


@dataclass(frozen=True, slots=True)
class _Seen:
    """Finds what is seen of one cloth, section by section."""

    project: Project
    panel: Piece | None
    place: dict[str, int]

    def band(self, stretch: ClothStretch, section: WovenSection) -> tuple[Band, tuple[float, ...]]:
        """Return a section as it is seen, and where it is folded."""
        piece = self._folded(stretch)
        if piece is not None:
            opened = self._opened(stretch, section, piece)
            if opened is not None:
                return opened
        return self._from_above(stretch, section), ()

    @property
    def _lanes(self) -> frozenset[int]:
        main = self.project.cloth.main
        layers = range(len(main.layers)) if self.panel is None else self.panel.layers
        return frozenset(main.lanes[layer] for layer in layers)

    def _folded(self, stretch: ClothStretch) -> Piece | None:
        """Return the piece of a stretch that is this cloth, where it is folded as a whole is."""
        if self.panel is None or self.panel.kind != "flat" or len(self.panel.layers) < 2:
            return None
        for piece in stretch.pieces:
            lanes = frozenset(stretch.lanes[layer] for layer in piece.layers)
            if piece.kind == "flat" and len(piece.layers) > 1 and lanes == self._lanes:
                return piece
        return None

    def _opened(
        self, stretch: ClothStretch, section: WovenSection, piece: Piece
    ) -> tuple[Band, tuple[float, ...]] | None:
        """Return a section opened out, None where its wefts cross."""
        project = self.project
        drawdown = project.draft.drawdown[stretch.first_pick :][: stretch.picks]
        try:
            opened = open_out(drawdown, stretch.layers, stretch.path, piece)
        except ValueError:
            return None
        first = section.first_pick - stretch.first_pick
        begun = opened.picks.max(axis=1)
        rows = np.flatnonzero((begun >= first) & (begun < first + section.picks))
        turn = slice(None, None, -1 if project.warp.first_end == "right" else 1)
        widths, ends = opened.widths[turn], opened.ends[turn]
        picks = opened.picks[rows]
        # Where the shuttle stopped short of the edge, the row has the yarn of its other widths.
        picks = np.where(picks < 0, picks.max(axis=1, keepdims=True), picks)
        weft = self._wefts(stretch)[picks][:, widths]
        cells = opened.cells[rows][:, turn]
        folds = np.flatnonzero(np.diff(widths)) + 1
        width = project.warp.finished_width
        band = Band(section.name, cells, self._warp(ends), weft, width, section.finished)
        return band, tuple((folds * (width / len(ends))).tolist())

    def _from_above(self, stretch: ClothStretch, section: WovenSection) -> Band:
        """Return the uppermost layer of this cloth in a section."""
        project = self.project
        layer = self._top(stretch)
        first = section.first_pick - stretch.first_pick
        picks = np.array(layer.picks, dtype=np.intp)
        picks = picks[(picks >= first) & (picks < first + section.picks)]
        turn = slice(None, None, -1 if project.warp.first_end == "right" else 1)
        ends = np.array(layer.ends, dtype=np.intp)[turn]
        drawdown = project.draft.drawdown[stretch.first_pick :][: stretch.picks]
        weft = np.repeat(self._wefts(stretch)[picks][:, None], len(ends), axis=1)
        widths = 1
        if self.panel is not None and self.panel.kind == "flat":
            widths = len(self.panel.layers)
        return Band(
            section.name,
            drawdown[np.ix_(picks, ends)],
            self._warp(ends),
            weft,
            project.warp.finished_width / widths,
            section.finished,
        )

    def _top(self, stretch: ClothStretch) -> Layer:
        cloth, wanted = self.project.cloth, self._lanes
        there = [each for each in stretch.layers if each.ends and each.picks]
        if not cloth.has_layers:
            # A thread that nothing binds is no layer: the cloth is the layer with most ends.
            return max(there or stretch.layers, key=lambda each: len(each.ends))
        mine = [each for each in there if wanted & {*cloth.lanes_in(each)}]
        return (mine or there or list(stretch.layers))[0]

    def _warp(self, ends: Numbers) -> Numbers:
        order = self.project.warp.order.values()
        return np.array([self.place[order[end]] for end in ends.tolist()], dtype=np.intp)

    def _wefts(self, stretch: ClothStretch) -> Numbers:
        """Return the yarn of each pick of a stretch."""
        weft = self.project.draft.weft[stretch.first_pick :][: stretch.picks]
        return np.array([self.place[key] for key in weft], dtype=np.intp)
