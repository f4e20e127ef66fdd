"""What a spec takes: warp, weft and yarns, reckoned backwards from the finished cloth.

The draft is woven on the way, since only the cloth tells where it folds and how the folds lie in
the reed. What a loom needs besides is left to the working-out, so that a changed spec can be tried
without it.
"""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from cards.calculation.rounding import whole_up
from cards.calculation.sley import Sleying
from cards.calculation.warp import (
    PieceLengths,
    Rates,
    finished_width,
    fringe_on_loom,
    fringes_in_warp,
    on_loom,
    piece_lengths,
    warp_length,
    warp_needed,
)
from cards.calculation.workings import Workings
from cards.draft.drawdown import drawdown, lifts_of
from cards.project.analysis import analyse
from cards.project.checks import check_allowances, check_size, check_warp_length
from cards.project.cloth import Cloth
from cards.project.ends import Ends, settle_ends, written_widths
from cards.project.in_reed import InReed
from cards.project.model import (
    Around,
    Draft,
    ProjectYarn,
    Sett,
    Totals,
    Warp,
    Weft,
    WovenSection,
)
from cards.project.problems import Problems, Stopped
from cards.project.rates import fringe_of, loom_lengths_of, rates_of, yarn_allowances_of
from cards.project.shares import totals_of, warp_shares, weft_shares
from cards.project.shuttles import built_shuttles, written_shuttles
from cards.project.sleying import in_reed_of, sleying_of, widths_of
from cards.project.ties import Ties
from cards.project.treadles import settle_treadles
from cards.project.weaving import Piece, plan_piece, weave_piece
from cards.project.yarns import project_yarns
from cards.spec import Spec
from cards.units import Units

if TYPE_CHECKING:
    from cards.draft.layered_piece import LayeredPiece
    from cards.project.layered import LayeredPlan


@dataclass(frozen=True, slots=True)
class Amounts:
    """Warp, weft and yarn of a spec, with the draft and the cloth from which they came.

    `sections` are as they are written, `pressed` as they are woven on the loom with its `ties`.
    """

    yarns: tuple[ProjectYarn, ...]
    sett: Sett
    ends: Ends
    warp: Warp
    weft: Weft
    totals: tuple[Totals, ...]
    pressed: tuple[WovenSection, ...]
    ties: Ties
    draft: Draft
    cloth: Cloth
    reed: InReed | None
    sleying: Sleying | None
    layered: LayeredPlan | None
    built: LayeredPiece | None


def tried(spec: Spec, problems: Problems) -> Amounts | None:
    """Return what a changed spec would take, None where nothing comes of it; nobody is told why."""
    reckoning = Reckoning(spec, problems.apart())
    with suppress(Stopped):
        amounts = reckoning.amounts()
        return None if reckoning.problems.has_errors else amounts
    return None


class Reckoning:
    """The half-done sums: what later steps need of earlier ones."""

    def __init__(self, spec: Spec, problems: Problems) -> None:
        self.spec = spec
        self.problems = problems
        self.units: Units = spec.units
        self.work = Workings()
        self.rates: Rates = rates_of(spec)
        self.extra = yarn_allowances_of(spec)
        self.lengths = loom_lengths_of(spec, self.units)
        self.fringe = 0.0
        self.warp: Warp | None = None

    def amounts(self) -> Amounts:
        """Reckon everything; raises Stopped at the first thing that makes the rest impossible."""
        spec, work, problems = self.spec, self.work, self.problems
        yarns = project_yarns(spec, problems)
        check_allowances(self.rates, problems)
        layered = self._layered()
        lengths = self._piece()
        sett = self._sett(lengths, layered)
        piece = plan_piece(spec, lengths.weave_to, sett, self.rates, layered, work, problems)
        ends, built = self._ends(layered, piece, sett)
        sections = self._sections(layered, piece, built)
        check_size(ends.number, sum(section.picks for section in sections), problems)
        threading = tuple(ends.threading.values())
        tie_up = spec.draft.tie_up or {}
        pressed, ties = settle_treadles(spec, sections, tie_up, threading, problems)
        draft = self._draft(threading, sections, pressed)
        cloth = self._cloth(layered, built, sections, draft)
        # Only now is it known where the cloth is folded.
        reed = in_reed_of(spec, sett, cloth, problems)
        sleying = sleying_of(spec, sett, ends.number, reed, work, problems)
        width = widths_of(spec, sett, ends.number, sleying, work)
        length = self._length(lengths, sections)
        widths = layered.widths if layered else written_widths(spec)
        self.warp = warp = self._warp(yarns, ends, width, widths, length)
        weft = self._weft(yarns, sections, sett, width[0])
        wound = () if warp.state else warp.by_yarn
        totals = totals_of(yarns, wound, weft.by_yarn, self.extra, work)
        return Amounts(
            yarns, sett, ends, warp, weft, totals, pressed, ties, draft, cloth, reed, sleying,
            layered, built,
        )  # fmt: skip

    def _cloth(
        self,
        layered: LayeredPlan | None,
        built: LayeredPiece | None,
        sections: tuple[WovenSection, ...],
        draft: Draft,
    ) -> Cloth:
        """Return what cloth the draft makes with its shuttles."""
        shuttles, plan = (
            built_shuttles(self.spec, built)
            if built
            else written_shuttles(self.spec, sections, self.problems)
        )
        asked = layered.asked if layered else ()
        warps = built.warps if built else ()
        return analyse(draft.drawdown, sections, shuttles, plan, asked, warps)

    def _layered(self) -> LayeredPlan | None:
        """Return the layers that are to be built, if any; only then is their builder read."""
        if self.spec.draft.double_weave is None:
            return None
        from cards.project.layered import layered_plan  # noqa: PLC0415

        return layered_plan(self.spec, self.spec.draft.double_weave, self.problems)

    def _ends(
        self, layered: LayeredPlan | None, piece: Piece, sett: Sett
    ) -> tuple[Ends, LayeredPiece | None]:
        spec, rates, work, problems = self.spec, self.rates, self.work, self.problems
        if layered is not None:
            from cards.project.layered_weaving import settle_layers  # noqa: PLC0415

            return settle_layers(spec, layered, piece, sett, rates, work, problems)
        return settle_ends(spec, sett, rates, work, problems), None

    def _sections(
        self, layered: LayeredPlan | None, piece: Piece, built: LayeredPiece | None
    ) -> tuple[WovenSection, ...]:
        spec, rates, problems = self.spec, self.rates, self.problems
        if layered is not None and built is not None:
            from cards.project.layered_weaving import weave_layers  # noqa: PLC0415

            return weave_layers(layered, piece, built, rates)
        return weave_piece(spec, piece, rates, problems)

    def _piece(self) -> PieceLengths:
        cloth = self.spec.cloth
        if cloth.length is None:
            raise self.problems.stop(
                "no-length",
                "the length of a piece is missing",
                "add `length: 120 cm` to the cloth",
                "cloth",
            )
        return piece_lengths(cloth.length, cloth.hem or 0.0, self.rates, self.work)

    def _sett(self, piece: PieceLengths, layered: LayeredPlan | None) -> Sett:
        spec, given = self.spec, self.spec.given
        layers = layered.layers if layered else spec.expect.layers or 1
        warp_share = layered.warp_share if layered else Fraction(layers)
        weft_share = layered.weft_share(layered.main) if layered else Fraction(layers)
        ends, picks = spec.sett, spec.picks
        if ends is None and given.ends and given.width_in_reed:
            ends = given.ends / given.width_in_reed / float(warp_share)
        if picks is None and given.picks:
            picks = given.picks / piece.weave_to / float(weft_share)
        if ends is None:
            raise self.problems.stop(
                "no-sett",
                "the sett is missing",
                "add `sett: 5 per cm`, or give both ends and width_in_reed",
            )
        if picks is None:
            raise self.problems.stop(
                "no-picks", "the picks are missing", "add `picks: 5 per cm`, or give the picks"
            )
        in_a_round = sum(layered.ratio) if layered else layers
        sett = Sett(layers, ends, picks, warp_share, weft_share, in_a_round)
        if layers > 1:
            self.work.worked(
                "sett of all layers",
                "ends of all layers for each of one × sett of one layer",
                (
                    ("ends of all layers for each of one", float(warp_share), "ends"),
                    ("sett", ends, "per mm"),
                ),
                sett.ends_total,
                "per mm",
            )
        return sett

    def _length(self, piece: PieceLengths, sections: tuple[WovenSection, ...]) -> float:
        """Return the warp length: given, or what the pieces as they are really woven need."""
        spec, work = self.spec, self.work
        woven = sum(section.length for section in sections)
        # Sections may come out longer than the piece; the warp must hold what is woven.
        used = piece.warp_used
        if woven > piece.weave_to * (1 + 1e-12):
            used = work.worked(
                "warp used, one piece, as its sections are woven",
                "warp used × length of the sections ÷ weave to",
                (
                    ("warp used", piece.warp_used, "mm"),
                    ("length of the sections", woven, "mm"),
                    ("weave to", piece.weave_to, "mm"),
                ),
                piece.warp_used * woven / piece.weave_to,
                "mm",
            )
        fringe = fringe_of(spec, self.units)
        fringes = 0.0
        if fringe is not None:
            raw = self.fringe = fringe_on_loom(fringe, self.rates, work)
            waste = self.lengths.waste.value
            fringes = fringes_in_warp(raw, spec.cloth.pieces, fringe, waste, work)
        needed = warp_needed(used, spec.cloth.pieces, fringes, self.lengths, work)
        given = spec.given.warp_length
        if given is None:
            return warp_length(needed, self.units, work)
        check_warp_length(given, needed.bare, needed.total, self.problems)
        return work.given("warp length", given, "mm", "the warp is wound already")

    def _warp(
        self,
        yarns: tuple[ProjectYarn, ...],
        ends: Ends,
        width: tuple[float, float],
        widths: Fraction,
        length: float,
    ) -> Warp:
        spec = self.spec
        floating = 2 if spec.selvedges.floating else 0
        return Warp(
            ends=ends.number,
            ends_given=spec.given.ends is not None,
            floating=floating,
            spare_ends=int(self.extra.spare_ends.value),
            threading=ends.threading,
            order=ends.order,
            selvedges=ends.selvedges,
            first_end=spec.conventions.first_end,
            width_in_reed=width[0],
            width_given=spec.given.width_in_reed is not None,
            finished_width=finished_width(width[1], self.rates) * float(widths),
            widths=widths,
            length=length,
            length_given=spec.given.warp_length is not None,
            by_yarn=warp_shares(yarns, ends.order, floating, length, self.extra, self.work),
            state=spec.given.warp or "",
        )

    def _weft(
        self,
        yarns: tuple[ProjectYarn, ...],
        sections: tuple[WovenSection, ...],
        sett: Sett,
        width: float,
    ) -> Weft:
        pieces = self.spec.cloth.pieces
        each = sum(section.picks for section in sections)
        self.work.worked(
            "picks",
            "pieces × picks of one piece",
            (("pieces", pieces, "pieces"), ("picks of one piece", each, "picks")),
            pieces * each,
            "picks",
        )
        sample = self.lengths.sample.value
        raw = sample * sett.picks_total
        sampled = int(
            self.work.worked(
                "picks of the sample",
                "sample × picks on the loom",
                (("sample", sample, "mm"), ("picks on the loom", sett.picks_total, "per mm")),
                raw,
                "picks",
                rounded=whole_up(raw),
            )
        )
        shares = weft_shares(yarns, sections, pieces, sampled, width, self.extra, self.work)
        given = self.spec.given.picks is not None
        return Weft(pieces, each, sections, shares, sampled, given, self._around())

    def _around(self) -> Around:
        lengths = self.lengths
        return Around(
            header=lengths.header.value,
            sample=lengths.sample.value,
            hem=on_loom(self.spec.cloth.hem or 0.0, self.rates),
            fringe=self.fringe,
            gap=lengths.gap.value,
        )

    def _draft(
        self,
        threading: tuple[int, ...],
        sections: tuple[WovenSection, ...],
        pressed: tuple[WovenSection, ...],
    ) -> Draft:
        """Return the draft of sections as they are written, with what is pressed on the loom."""
        tie_up = self.spec.draft.tie_up or {}
        lifts: list[frozenset[int]] = []
        treadling: list[frozenset[int]] = []
        weft: list[str] = []
        for section, pressing in zip(sections, pressed, strict=True):
            sheds = section.sheds.values()
            lifts.extend(lifts_of(sheds, tie_up) if section.by_treadle else sheds)
            treadling.extend(pressing.sheds.values() if pressing.by_treadle else [])
            weft.extend(section.weft.values())
        return Draft(
            shafts=self.spec.loom.shafts,
            threading=threading,
            lifts=tuple(lifts),
            treadling=tuple(treadling),
            weft=tuple(weft),
            drawdown=drawdown(threading, lifts),
        )
