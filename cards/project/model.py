"""A project worked out: everything a card may need, frozen, with no page, font or ink.

Lengths are millimetres, masses grams, yarn sizes tex, densities threads per millimetre. Ends are
counted from 0 in the order in which they are threaded, picks in the order in which they are woven.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from cards.calculation.bill import Bill
from cards.calculation.bobbins import Bobbin
from cards.calculation.cloth_weight import ClothWeight
from cards.calculation.hours import Hours
from cards.calculation.sley import Sleying
from cards.calculation.workings import Known, Step
from cards.calculation.yarn_need import Need, PutUp
from cards.loom.heddles import HeddlePlan
from cards.needs import NONE, Needs
from cards.project.at_the_loom import LoomPlan, Winding
from cards.project.cloth import Cloth
from cards.project.in_reed import InReed
from cards.project.photographs import ProjectPhotograph
from cards.project.read_back import ReadBack
from cards.project.sett_advice import SettAdvice
from cards.project.source import Source
from cards.sequence import Sequence
from cards.spec import Conventions, Finding, Paper, Pattern, ProjectInfo, SpecExercise
from cards.units import Units


@dataclass(frozen=True, slots=True)
class ProjectYarn:
    """One yarn: its key in the spec, what it is called, its letter, colour and hatch, its size.

    `hatch` numbers the yarns in the order of the spec; the sheets draw a hatch for each number.
    `shade` is the colour as written where `colour` is that of a print in black alone, white.
    `on_hand` is g on the shelf, of the dye `lot`, empty if that is not known.
    `wraps` are turns side by side to the mm; by them alone the size is `estimated`. `ashenhurst` is
    the constant by which its diameter is reckoned.
    """

    key: str
    name: str
    letter: str
    colour: str
    hatch: int
    fibre: str | None
    tex: float
    size: str
    put_up: PutUp
    put_up_text: str
    currency: str
    ashenhurst: Known
    shade: str = ""
    wraps: float | None = None
    estimated: bool = False
    on_hand: float = 0.0
    lot: str = ""


@dataclass(frozen=True, slots=True)
class YarnShare:
    """What one yarn does in the warp or in the weft: threads that are used, and what they need.

    `threads` are ends or picks of the cloth; `extra` counts the spare and floating ends of a warp,
    or the picks of the sample in a weft; `floating` are those of the extra that float.
    """

    yarn: ProjectYarn
    threads: int
    extra: int
    need: Need
    floating: int = 0


@dataclass(frozen=True, slots=True)
class Warp:
    """The warp: its ends and how they are ordered and threaded, its width and its length.

    `ends` are threaded through heddles; `floating` selvedges and `spare_ends` of each yarn come
    on top. `threading` and `order` are complete: nothing stands `to fill` any more. `selvedges`
    are how many of the ends belong to the selvedge at the first end and to the other one.
    `finished_width` is that of the cloth opened out, `widths` times a layer; of a tube lying flat.
    `state` is empty for a warp that is still to be wound, else "wound" or "on the loom".
    """

    ends: int
    ends_given: bool
    floating: int
    spare_ends: int
    threading: Sequence[int]
    order: Sequence[str]
    selvedges: tuple[int, int]
    first_end: str
    width_in_reed: float
    width_given: bool
    finished_width: float
    widths: Fraction
    length: float
    length_given: bool
    by_yarn: tuple[YarnShare, ...]
    state: str = ""

    @property
    def wound(self) -> int:
        """Ends to wind on the board: those threaded and the floating selvedges."""
        return self.ends + self.floating


@dataclass(frozen=True, slots=True)
class WovenSection:
    """One section of a piece, in weaving order.

    `sheds` says what is pressed or raised pick by pick, in the author's grouping: treadles when
    `by_treadle`, else shafts. `whole` is False when the treadling is cut off before its repeat is
    complete. `start` and `length` are mm on the loom under tension, `finished` mm of washed cloth.
    """

    name: str
    note: str
    first_pick: int
    picks: int
    start: float
    length: float
    finished: float
    by_treadle: bool
    sheds: Sequence[frozenset[int]]
    weft: Sequence[str]
    whole: bool


@dataclass(frozen=True, slots=True)
class Around:
    """What lies on the loom around the pieces, in mm under tension.

    `hem` is woven at both ends of each piece and part of it; `fringe` is left unwoven at both
    ends of each piece, `gap` between two pieces besides. `finished_fringe` is one fringe when it is
    twisted or knotted.
    """

    header: float
    sample: float
    hem: float
    fringe: float
    gap: float
    finished_fringe: float = 0.0


@dataclass(frozen=True, slots=True)
class Weft:
    """The weaving of one piece, its sections, and the weft of all pieces by yarn."""

    pieces: int
    picks_each: int
    sections: tuple[WovenSection, ...]
    by_yarn: tuple[YarnShare, ...]
    sample_picks: int
    picks_given: bool
    around: Around

    @property
    def picks(self) -> int:
        """Picks of all pieces together."""
        return self.pieces * self.picks_each


@dataclass(frozen=True, slots=True)
class Sett:
    """Ends and picks per mm: of one layer, and of all layers together on the loom.

    Where layers differ, `ends_layer` and `picks_layer` are those of the top one; the shares are
    ends and picks of all layers for each of the top one's. `in_a_round` is how many ends of all
    layers are threaded before the top one comes again. `ends_given` and `picks_given` tell
    whether the weaver gave them herself.
    """

    layers: int
    ends_layer: float
    picks_layer: float
    warp_share: Fraction
    weft_share: Fraction
    in_a_round: int
    ends_given: bool = False
    picks_given: bool = False

    @property
    def ends_total(self) -> float:
        """Ends per mm in the reed."""
        return float(self.warp_share) * self.ends_layer

    @property
    def picks_total(self) -> float:
        """Picks per mm on the loom, where the layers are not woven together."""
        return float(self.weft_share) * self.picks_layer


@dataclass(frozen=True, slots=True)
class Draft:
    """What is threaded and what rises, end by end and pick by pick, for one piece.

    `drawdown` has shape (picks, ends), true where the end lies over the pick. `treadling` is empty
    where the weaver raises shafts herself.
    """

    shafts: int
    threading: tuple[int, ...]
    lifts: tuple[frozenset[int], ...]
    treadling: tuple[frozenset[int], ...]
    weft: tuple[str, ...]
    drawdown: NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Totals:
    """Warp and weft of one yarn together: what is really bought.

    The warp is not in it where it is wound already.
    """

    yarn: ProjectYarn
    need: Need


@dataclass(frozen=True, slots=True)
class MostOf:
    """The most that one size could be, with the others as they are.

    `size` is "length" or "width" in mm, finished, or "pieces"; `value` is 0 where not even the
    least comes out. `limit` names in words what does not allow more, as "the sand runs out".
    """

    size: str
    value: float
    limit: str


class Sizes(Protocol):
    """Finds out the most that each size could be, when it is first asked."""

    @property
    def most(self) -> tuple[MostOf, ...]:
        """The most of each size."""


@dataclass(frozen=True, slots=True)
class Project:
    """The whole project, ready for any card.

    `chosen` says in words what was chosen where a layered draft was built. `reed` is dents per mm;
    `sleying` and `in_reed` are None without one. `bobbin` is what one holds. `asked` is the size
    that was to be the most, None where all sizes were written. Where pieces on the warp are not
    alike, `weft` and `draft` are those of the first kind, which is called `piece`, and `further`
    has the other kinds: the same project with weft and draft of their own. `totals`, `hours` and
    `bill` are always those of all, and `every_kind` the names and numbers of all kinds in weaving
    order. `candidate` is the name of the candidate of its spec that it is, empty for the spec as
    written. `pattern` is the text of its pattern as it was written, `exercises` are those that
    the spec asks for. `mirrored` is true where all that has a side lies at the other one, for a
    left-handed weaver. `needs` are those of who reads the sheets, and `seat` is the place in a
    class for which they are printed, empty for none.
    """

    info: ProjectInfo
    source: Source
    units: Units
    conventions: Conventions
    paper: Paper
    yarns: tuple[ProjectYarn, ...]
    sett: Sett
    warp: Warp
    weft: Weft
    draft: Draft
    loom: LoomPlan
    heddle_plan: HeddlePlan
    sleying: Sleying | None
    reed: float | None
    winding: Winding
    totals: tuple[Totals, ...]
    steps: tuple[Step, ...]
    cloth: Cloth
    cloth_weight: ClothWeight
    sett_advice: SettAdvice
    hours: Hours
    bill: Bill
    bobbin: Bobbin
    asked: MostOf | None = None
    sizes: Sizes | None = field(default=None, repr=False, compare=False)
    chosen: tuple[str, ...] = ()
    in_reed: InReed | None = None
    loom_width: float | None = None
    candidate: str = ""
    piece: str = ""
    further: tuple[Project, ...] = ()
    every_kind: tuple[tuple[str, int], ...] = ()
    measured: ReadBack | None = None
    pattern: Pattern | None = None
    photographs: tuple[ProjectPhotograph, ...] = ()
    exercises: tuple[SpecExercise, ...] = ()
    mirrored: bool = False
    needs: Needs = NONE
    seat: str = ""

    def yarn(self, key: str) -> ProjectYarn:
        """Return the yarn of that key in the spec."""
        return next(yarn for yarn in self.yarns if yarn.key == key)

    @property
    def kinds(self) -> tuple[Project, ...]:
        """The project once for each kind of piece, itself first."""
        return (self, *self.further)

    @property
    def pieces(self) -> int:
        """Pieces of all kinds on the warp."""
        return sum(number for _, number in self.every_kind)

    @property
    def allowances(self) -> tuple[Step, ...]:
        """What was allowed for, each once: value, usual range, given or assumed, source."""
        return tuple(step for step in self.steps if step.allowance)

    @property
    def most(self) -> tuple[MostOf, ...]:
        """The most that length, width and pieces could each be; it takes a while the first time."""
        return self.sizes.most if self.sizes is not None else ()

    @property
    def cost(self) -> Decimal | None:
        """Cost of all packages, or None while a price is missing or currencies differ."""
        if self.bill.missing or len(self.bill.yarn) > 1:
            return None
        return sum((each.amount for each in self.bill.yarn), Decimal(0))


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of working a spec out: the findings, and what could be worked out.

    `project` is None when an error stopped the work; `warp` may be there even then. `others` is the
    same project on the other looms of its spec. `is_kept` is true of a file of looms and yarns, of
    which there is nothing to work out.
    """

    findings: tuple[Finding, ...]
    project: Project | None = None
    warp: Warp | None = None
    others: tuple[Project, ...] = ()
    is_kept: bool = False

    @property
    def has_errors(self) -> bool:
        """Whether any finding is an error, so that nothing may be printed."""
        return any(finding.level == "error" for finding in self.findings)
