"""What a spec takes: warp, weft and yarns, reckoned backwards from the finished cloth.

The draft is woven on the way, since only the cloth tells where it folds and how the folds lie in
the reed. What a loom needs besides is left to the working-out, so that a changed spec can be tried
without it.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from cards.calculation.rounding import whole_up
from cards.calculation.warp import (
    Needed,
    PieceLengths,
    Rates,
    fringe_on_loom,
    fringes_in_warp,
    on_loom,
    piece_lengths,
    record_finished_width,
    warp_length,
    warp_needed,
)
from cards.calculation.workings import Workings
from cards.draft.drawdown import drawdown, lifts_of
from cards.project.amounts import Amounts, Woven
from cards.project.analysis import analyse
from cards.project.checks import check_allowances, check_size, check_warp_length
from cards.project.cloth import Cloth
from cards.project.ends import Ends, settle_ends, written_widths
from cards.project.model import (
    Around,
    Draft,
    ProjectYarn,
    Sett,
    Warp,
    Weft,
    WovenSection,
)
from cards.project.problems import Problems
from cards.project.rates import fringe_of, loom_lengths_of, rates_of, yarn_allowances_of
from cards.project.sett_steps import record_layers
from cards.project.shares import warp_shares, weft_shares
from cards.project.shuttles import built_shuttles, written_shuttles
from cards.project.sleying import in_reed_of, sleying_of, widths_of
from cards.project.ties import Sections, Ties
from cards.project.weaving import Piece, plan_piece, weave_piece
from cards.project.yarns import project_yarns
from cards.spec import Spec
from cards.units import Units

if TYPE_CHECKING:
    from cards.draft.layered_piece import LayeredPiece
    from cards.project.layered import LayeredPlan


class Reckoning:
    """The half-done sums of one kind of piece: what later steps need of earlier ones."""

    def __init__(self, spec: Spec, problems: Problems) -> None:
        self.spec = spec
        self.problems = problems
        self.units: Units = spec.units
        self.work = Workings()
        self.rates: Rates = rates_of(spec)
        self.extra = yarn_allowances_of(spec)
        self.lengths = loom_lengths_of(spec, self.units)
        self.warp: Warp | None = None
        self.needed: Needed | None = None

    def weave(self, ends: Ends | None = None) -> Woven:
        """Return one piece woven, on the `ends` of a warp that other pieces share, or on its own.

        Raises Stopped at the first thing that makes the rest impossible, as all that follow do.
        """
        spec, work, problems = self.spec, self.work, self.problems
        check_allowances(self.rates, problems)
        layered = self._layered()
        lengths = self._piece()
        sett = self._sett(lengths, layered)
        piece = plan_piece(spec, lengths.weave_to, sett, self.rates, layered, work, problems)
        settled, built = self._ends(layered, piece, sett, ends)
        sections = self._sections(layered, piece, built)
        check_size(settled.number, sum(section.picks for section in sections), problems)
        used = self._used(lengths, sections)
        fringe = fringe_of(spec, self.units)
        raw = fringe_on_loom(fringe, self.rates, work) if fringe is not None else 0.0
        return Woven(layered, built, sett, settled, sections, used, raw)

    def amounts(
        self,
        woven: Woven,
        pressed: Sections,
        ties: Ties,
        more: float = 0.0,
        last: float | None = None,
    ) -> Amounts:
        """Return what pieces take, without totals; `more` mm of warp are for pieces of other kinds.

        `last` is one fringe of the last piece in mm where that is of another kind. `pressed` are
        the sections of `woven` as they are woven on the loom with its `ties`.
        """
        spec, work, problems = self.spec, self.work, self.problems
        yarns = project_yarns(spec, problems)
        ends, sett = woven.ends, woven.sett
        draft, cloth = self._woven_cloth(woven, pressed)
        # Only now is it known where the cloth is folded.
        reed = in_reed_of(spec, sett, cloth, problems)
        sleying = sleying_of(spec, sett, ends.number, reed, work, problems)
        width = widths_of(spec, sett, ends.number, sleying, work)
        length = self._length(woven, more, last)
        widths = self._widths(woven)
        self.warp = warp = self._warp(yarns, ends, width, widths, length)
        weft = self._weft(yarns, woven, width[0], self.lengths.sample.value)
        return Amounts(
            yarns, sett, ends, width[1], warp, weft, (), pressed, ties, draft, cloth, reed, sleying,
            woven.layered, woven.built,
        )  # fmt: skip

    def amounts_on(self, first: Amounts, woven: Woven, pressed: Sections) -> Amounts:
        """Return what pieces of another kind take, on the warp that the `first` kind has."""
        draft, cloth = self._woven_cloth(woven, pressed)
        widths = self._widths(woven)
        finished = record_finished_width(first.width, widths, self.rates, self.work)
        self.warp = warp = replace(first.warp, finished_width=finished, widths=widths)
        weft = self._weft(first.yarns, woven, warp.width_in_reed, 0.0)
        weft = replace(weft, around=replace(weft.around, header=0.0, sample=0.0))
        return replace(
            first, sett=woven.sett, warp=warp, weft=weft, pressed=pressed, draft=draft,
            cloth=cloth, layered=woven.layered, built=woven.built,
        )  # fmt: skip

    def _woven_cloth(self, woven: Woven, pressed: Sections) -> tuple[Draft, Cloth]:
        threading = tuple(woven.ends.threading.values())
        draft = self._draft(threading, woven.sections, pressed)
        return draft, self._cloth(woven.layered, woven.built, woven.sections, draft)

    def _widths(self, woven: Woven) -> Fraction:
        return woven.layered.widths if woven.layered else written_widths(self.spec)

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
        self, layered: LayeredPlan | None, piece: Piece, sett: Sett, on: Ends | None
    ) -> tuple[Ends, LayeredPiece | None]:
        """Return the ends of the warp, and the draft that was built with them if it was."""
        spec, rates, work, problems = self.spec, self.rates, self.work, self.problems
        if layered is not None:
            from cards.project.layered_weaving import settle_layers  # noqa: PLC0415

            number = on.number if on is not None else None
            return settle_layers(spec, layered, piece, sett, rates, work, problems, number)
        return on or settle_ends(spec, sett, rates, work, problems), None

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
        own = spec.sett is not None, spec.picks is not None
        sett = Sett(layers, ends, picks, warp_share, weft_share, in_a_round, *own)
        if layers > 1:
            record_layers(sett, self.work)
        return sett

    def _used(self, piece: PieceLengths, sections: Sections) -> float:
        """Return the warp in mm that one piece takes as it is really woven."""
        woven = sum(section.length for section in sections)
        self.work.begin("lengths")
        # Sections may come out longer than the piece; the warp must hold what is woven.
        if woven <= piece.weave_to * (1 + 1e-12):
            return piece.warp_used
        return self.work.worked(
            "warp used, one piece, as its sections are woven",
            "warp used × length of the sections ÷ weave to",
            (
                ("warp used", piece.warp_used, "mm"),
                ("length of the sections", woven, "mm"),
                ("weave to", piece.weave_to, "mm"),
            ),
            piece.warp_used * woven / piece.weave_to,
            "mm",
            note="length of the sections: their picks ÷ picks on the loom, further down",
        )

    def _length(self, woven: Woven, more: float, last: float | None) -> float:
        """Return the warp length: given, or what all pieces need."""
        spec, work, pieces = self.spec, self.work, self.spec.cloth.pieces
        fringe = fringe_of(spec, self.units)
        fringes = 0.0
        if fringe is not None:
            waste = self.lengths.waste.value
            fringes = fringes_in_warp(woven.fringe, pieces, fringe, waste, work, last)
        self.needed = needed = warp_needed(woven.used, pieces, fringes, self.lengths, work, more)
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
        finished = record_finished_width(width[1], widths, self.rates, self.work)
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
            finished_width=finished,
            widths=widths,
            length=length,
            length_given=spec.given.warp_length is not None,
            by_yarn=warp_shares(yarns, ends.order, floating, length, self.extra, self.work),
            state=spec.given.warp or "",
        )

    def _weft(
        self, yarns: tuple[ProjectYarn, ...], woven: Woven, width: float, sample: float
    ) -> Weft:
        """Return the weft of pieces `width` mm wide in the reed, and of a `sample` mm long."""
        pieces, sections = self.spec.cloth.pieces, woven.sections
        each = sum(section.picks for section in sections)
        self.work.begin("picks")
        self.work.worked(
            "picks",
            "pieces × picks of one piece",
            (("pieces", pieces, "pieces"), ("picks of one piece", each, "picks")),
            pieces * each,
            "picks",
        )
        sampled = self._sampled(sample, woven.sett.picks_total) if sample else 0
        shares = weft_shares(yarns, sections, pieces, sampled, width, self.extra, self.work)
        given = self.spec.given.picks is not None
        around = self._around(woven.fringe)
        return Weft(pieces, each, sections, shares, sampled, given, around)

    def _sampled(self, sample: float, density: float) -> int:
        raw = sample * density
        return int(
            self.work.worked(
                "picks of the sample",
                "sample × picks on the loom",
                (("sample", sample, "mm"), ("picks on the loom", density, "per mm")),
                raw,
                "picks",
                rounded=whole_up(raw),
            )
        )

    def _around(self, fringe: float) -> Around:
        lengths = self.lengths
        return Around(
            header=lengths.header.value,
            sample=lengths.sample.value,
            hem=on_loom(self.spec.cloth.hem or 0.0, self.rates),
            fringe=fringe,
            gap=lengths.gap.value,
            finished_fringe=self.spec.cloth.fringe.length if self.spec.cloth.fringe else 0.0,
        )

    def _draft(
        self,
        threading: tuple[int, ...],
        sections: Sections,
        pressed: Sections,
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
