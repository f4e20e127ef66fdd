"""The spec as a model: every key that may be written, its kind, and what it means.

Keys are the trade's words. Optional values are None until something gives them a default; that
is done where they are worked out, so that the sheets can say given or assumed. Nothing is
checked here across fields.
"""

from typing import Annotated, Self

from pydantic import Field, PlainValidator, PrivateAttr, WithJsonSchema

from cards.spec import fields as kind
from cards.spec.base import SpecModel
from cards.spec.class_models import ClassOf
from cards.spec.conventions import Conventions
from cards.spec.cost_models import Costs, Pace
from cards.spec.exercise_models import SpecExercise
from cards.spec.layer_models import DoubleWeave, Join, LayerYarns, Stack
from cards.spec.measured_models import Measured
from cards.spec.paper_models import Paper
from cards.spec.pattern_models import Pattern
from cards.spec.photograph_models import Photograph
from cards.spec.quoting import shortened
from cards.spec.refusal import NotationError
from cards.spec.size_models import YarnSize
from cards.spec.sley_models import Reed, Reeds, Sley
from cards.spec.words import text_of

VERSION = 1


def _version(value: object) -> int:
    text = text_of(value, "1").strip()
    if text != str(VERSION):
        message = (
            f"this is a spec of version {shortened(text)}; this program reads version {VERSION}"
        )
        raise NotationError(message, "write `loomfolio: 1`", code="wrong-version")
    return VERSION


class ProjectInfo(SpecModel):
    """What the project is called and who weaves it."""

    title: kind.Title = Field(description="The name at the head of every sheet")
    code: kind.Name | None = Field(None, description="A short project number, such as FW-014")
    maker: kind.Name | None = Field(None, description="Who weaves it")
    date: kind.Date | None = Field(None, description="Date of the plan, as 2026-03-02")
    version: kind.Name | None = Field(None, description="Which state of the plan this is")
    summary: kind.Passage | None = Field(None, description="One or two sentences")
    notes: kind.Passage | None = Field(None, description="Anything to remember")


class Yarn(SpecModel):
    """One yarn. Its size, label or wraps must be given; the label wins over the size.

    Or `from` a file beside the spec, with its name there if that is another.
    """

    name: kind.Name | None = Field(None, description="What the shop calls it")
    fibre: kind.Fibre | None = Field(
        None, description="What it is spun from, or {cotton: 60 %, linen: 40 %} of a blend"
    )
    size: YarnSize | None = Field(
        None, description="Such as Ne 8/2, lea 16/2, worsted 2/18, Nm 12/2, tex 49 x 2, R 98 tex"
    )
    label: kind.LabelText | None = Field(None, description="Length per mass, as 590 m per 100 g")
    wraps: kind.Wraps | None = Field(
        None, description="Turns side by side round a ruler, as 14 per cm or 36 per in"
    )
    ashenhurst: kind.Ashenhurst | None = Field(
        None, description="Diameters to the inch over the root of yd/lb; by fibre if left out"
    )
    put_up: kind.PutUpText | None = Field(None, description="What one package holds, as 100 g")
    price: kind.PriceText | None = Field(None, description="Price of one put-up")
    colour: kind.Colour | None = Field(None, description='In quotes, such as "#44546a"')
    letter: kind.Letter | None = Field(None, description="Stands beside its patch of colour")
    on_hand: kind.PutUpText | None = Field(None, description="What is on the shelf, as 350 g")
    lot: kind.Name | None = Field(None, description="The dye lot of what is on hand")
    _shade: str | None = PrivateAttr(None)

    @property
    def shade(self) -> str | None:
        """The colour as it was written, by which yarns are ordered from light to dark."""
        return self._shade or self.colour

    def without_colour(self) -> Self:
        """Return the same yarn in white, for a print in black alone; its shade stays known."""
        copy = self.model_copy(update={"colour": "#ffffff"})
        copy._shade = self.shade  # noqa: SLF001 - of its own kind
        return copy


class Loom(SpecModel):
    """A loom: its own description, or `from` a file beside the spec and the loom's name there."""

    name: kind.Name | None = Field(None, description="What the loom is called")
    action: kind.Action | None = Field(None, description="How the shed is opened")
    shafts: kind.Shafts = Field(description="Number of shafts")
    treadles: kind.Treadles | None = Field(None, description="Number of treadles")
    treadles_at_once: kind.AtOnce | None = Field(
        None, description="Most treadles pressed for one pick; 2 if left out"
    )
    treadle_order: kind.TreadleOrder | None = Field(
        None, description="How the treadles lie for the feet; as written if left out"
    )
    pairs: kind.Pairs | None = Field(
        None, description="Shafts of a sinking-shed loom that hang together; 1 2, 3 4 if left out"
    )
    rise_lamms: kind.LowerUpper = Field(
        "lower", description="Lamms of a countermarch to which rising shafts are tied"
    )
    picks_a_bar: kind.PicksABar = Field(1, description="Picks that one bar of a dobby gives")
    least_bars: kind.LeastBars | None = Field(None, description="Shortest chain of bars it takes")
    width: kind.LoomWidth | None = Field(None, description="Weaving width")
    longest_warp: kind.LongestWarp | None = Field(None, description="What the warp beam holds")
    reed: Reed | None = Field(None, description="Dents to a length, as 40 per 10 cm")
    reeds: Reeds | None = Field(
        None, description="Those that the weaver owns for it, of which the best is taken"
    )
    heddles: kind.Heddles | None = Field(
        None, description="On every shaft, or one number a shaft, shaft 1 first"
    )
    waste: kind.LengthOrNothing | None = Field(None, description="Warp that cannot be woven")
    shaft_1: kind.FrontBack = Field("front", description="Where shaft 1 hangs")
    treadle_1: kind.LeftRight = Field("left", description="Where treadle 1 lies")
    pace: Pace | None = Field(None, description="How fast work goes, for an estimate of hours")
    bobbin: kind.PutUpText | None = Field(None, description="What a bobbin holds, as 20 g")


class Fringe(SpecModel):
    """The fringe at each end of a piece, finished."""

    length: kind.LengthOrNothing = Field(description="Finished length of one fringe")
    from_waste: kind.YesNo = Field(
        default=False, description="Whether the outer fringes come out of the loom waste"
    )
    knot: kind.LengthOrNothing | None = Field(None, description="Length that a knot takes")
    twist: kind.Percent | None = Field(None, description="Length lost by twisting")


class Cloth(SpecModel):
    """The finished cloth."""

    use: kind.Use | None = Field(None, description="What it is for, by which its sett is judged")
    width: kind.ClothLength | None = Field(
        None, description="Finished width: of the cloth opened out, of a tube lying flat"
    )
    circumference: kind.ClothLength | None = Field(
        None, description="Of a tube, instead of its width"
    )
    length: kind.ClothLength | None = Field(None, description="Finished length of one piece")
    pieces: kind.Pieces = Field(1, description="How many pieces on one warp")
    hem: kind.LengthOrNothing | None = Field(None, description="At each end of a piece")
    fringe: Fringe | None = Field(None, description="Fringe at each end of a piece")
    gap: kind.LengthOrNothing | None = Field(None, description="Left between two pieces")
    most: kind.Most | None = Field(
        None, description="Make this the most that yarn on hand, warp, loom and budget allow"
    )


class Shrinkage(SpecModel):
    """What wet finishing takes, of the relaxed cloth off the loom."""

    length: kind.Percent | None = Field(None, description="Lengthwise")
    width: kind.Percent | None = Field(None, description="Widthwise")


class Allowances(SpecModel):
    """What is lost between warp and cloth; each share is of the larger, earlier size."""

    take_up: kind.Percent | None = Field(None, description="Warp lost by bending round the weft")
    relaxation: kind.Percent | None = Field(None, description="From under tension to relaxed")
    draw_in: kind.Percent | None = Field(None, description="From the reed to the relaxed cloth")
    shrinkage: Shrinkage | None = Field(None, description="Lost in wet finishing")
    weft_take_up: kind.Percent | None = Field(None, description="Weft beyond the width in reed")
    joins: kind.Percent | None = Field(None, description="Weft for joins and bobbin ends")
    warp_margin: kind.Percent | None = Field(None, description="Added to the warp length")
    buy_margin: kind.Percent | None = Field(None, description="Bought beyond the need")
    header: kind.LengthOrNothing | None = Field(None, description="Woven before the first piece")
    sample: kind.LengthOrNothing | None = Field(None, description="Woven to be washed and measured")
    spare_ends: kind.SpareEnds | None = Field(None, description="Ends for repairs")


class Given(SpecModel):
    """Figures that are not to be worked out."""

    ends: kind.Ends | None = Field(None, description="Ends of the warp")
    width_in_reed: kind.ClothLength | None = Field(None, description="Width in the reed")
    warp_length: kind.Length | None = Field(None, description="Length of the warp")
    warp: kind.WarpState | None = Field(
        None, description="If the warp is there already: its yarn and its hours are not counted"
    )
    picks: kind.Picks | None = Field(None, description="Picks of one piece")


class Draft(SpecModel):
    """The draft: a threading, and either a tie-up with its treadling or lifts; or layers."""

    double_weave: DoubleWeave | None = Field(
        None, description="Layers from which the draft is worked out, instead of all else"
    )
    threading: kind.Threading | None = Field(None, description="Shafts, the first end first")
    tie_up: dict[kind.Treadle, kind.TiedShafts] | None = Field(
        None, description="For each treadle the shafts that rise, whatever the loom"
    )
    treadling: kind.Treadling | None = Field(None, description="Treadles, pick by pick")
    lifts: kind.Lifts | None = Field(None, description="Raised shafts, picks parted by semicolons")
    shuttles: kind.Shuttles | None = Field(
        None, description="Which shuttle weaves each pick, if yarns do not tell them apart"
    )
    start: kind.LeftRight = Field("right", description="The side at which shuttles start")


class Expect(SpecModel):
    """What the cloth should turn out to be, to be checked against the draft."""

    layers: kind.Layers | None = Field(None, description="Number of layers")
    pieces: kind.ExpectedPieces | None = Field(
        None, description="separate cloths, a tube, or one cloth folded into the layers"
    )
    longest_float: kind.Length | None = Field(None, description="No float longer than this")


class Selvedges(SpecModel):
    """Ends added at the edges, beside those of the threading."""

    right: kind.Threading | None = Field(None, description="Shafts of the right selvedge")
    left: kind.Threading | None = Field(None, description="Shafts of the left selvedge")
    yarn: kind.YarnName | None = Field(None, description="The yarn of the selvedges")
    floating: kind.YesNo = Field(
        default=False, description="Whether an end outside all heddles stands at each edge"
    )


class Section(SpecModel):
    """One section of a piece, in weaving order."""

    section: kind.Name = Field(description="What it is called")
    length: kind.SectionLength | None = Field(
        None, description="Finished length, or `fill` for what is left of the piece"
    )
    picks: kind.Picks | None = Field(None, description="Instead of a length")
    repeats: kind.Repeats | None = Field(None, description="Of its treadling, instead of a length")
    treadling: kind.Treadling | None = Field(None, description="If it has one of its own")
    lifts: kind.Lifts | None = Field(None, description="If it has its own")
    join: Join | None = Field(None, description="Of its layers, if it is another")
    stack: Stack | None = Field(None, description="Its layers from the top down, such as 2 1")
    wefts: LayerYarns | None = Field(None, description="By layer, if they are others")
    shuttles: kind.Shuttles | None = Field(None, description="If it has its own")
    weft: kind.Order | None = Field(None, description="Yarn, or picks and yarns in order")
    note: kind.Note | None = Field(None, description="Printed beside the section")


class PieceAllowances(SpecModel):
    """What is lost of one kind of piece, where that is not what the others lose."""

    take_up: kind.Percent | None = Field(None, description="Warp lost by bending round the weft")
    relaxation: kind.Percent | None = Field(None, description="From under tension to relaxed")
    draw_in: kind.Percent | None = Field(None, description="From the reed to the relaxed cloth")
    shrinkage: Shrinkage | None = Field(None, description="Lost in wet finishing")


class PieceKind(SpecModel):
    """Pieces that are not as the others on the warp: what is left out is as in the spec."""

    piece: kind.Name = Field(description="What it is called")
    number: kind.Pieces = Field(1, description="How many of them")
    length: kind.ClothLength | None = Field(None, description="Finished length of one")
    hem: kind.LengthOrNothing | None = Field(None, description="At each end")
    picks: kind.Density | None = Field(None, description="Picks to a length, of one layer")
    allowances: PieceAllowances | None = Field(None, description="Where they differ")
    weft_order: kind.Order | None = Field(None, description="Picks and yarns, first pick first")
    weave: list[Section] = Field([], description="Its sections, instead of those of the spec")


class Warping(SpecModel):
    """How the warp is wound."""

    strands: kind.Strands | None = Field(None, description="Threads wound together")
    bout: kind.Bout | None = Field(None, description="Most ends in one bout")
    raddle: kind.Length | None = Field(None, description="Width of one raddle group")
    choke: kind.Length | None = Field(None, description="Distance of the choke ties")


class Spec(SpecModel):
    """One weaving project, as the weaver wrote it. Lengths in mm, masses in g, shares of one."""

    loomfolio: Annotated[int, PlainValidator(_version), WithJsonSchema({"const": VERSION})] = Field(
        description="Version of the spec format"
    )
    project: ProjectInfo = Field(description="Title, maker, date, notes")
    units: kind.Units = Field("metric", description="Which units stand first on the sheets")
    yarns: dict[kind.YarnName, Yarn] = Field(description="Every yarn by the name used in orders")
    loom: Loom = Field(description="The loom")
    looms: list[Loom] = Field([], description="Others for which cards are printed too")
    cloth: Cloth = Field(description="The finished cloth")
    sett: kind.Sett | None = Field(None, description="Ends to a length, of one layer")
    picks: kind.Density | None = Field(None, description="Picks to a length, of one layer")
    allowances: Allowances = Field(
        Allowances.model_construct(), description="Shares and lengths lost"
    )
    costs: Costs = Field(Costs.model_construct(), description="Cost of an hour, and a budget")
    given: Given = Field(Given.model_construct(), description="Figures not to be worked out")
    draft: Draft = Field(description="Threading with tie-up and treadling, or lifts; or layers")
    expect: Expect = Field(
        Expect.model_construct(), description="What the cloth should turn out to be"
    )
    warp_order: kind.Order | None = Field(None, description="Ends and yarns, first end first")
    weft_order: kind.Order | None = Field(None, description="Picks and yarns, first pick first")
    selvedges: Selvedges = Field(Selvedges.model_construct(), description="Ends added at the edges")
    sley: Sley = Field(Sley.model_construct(), description="How the ends lie in the reed")
    weave: list[Section] = Field([], description="The sections of one piece, in weaving order")
    pieces: list[PieceKind] = Field(
        [], description="Kinds of pieces on one warp that are not alike, in weaving order"
    )
    warping: Warping = Field(Warping.model_construct(), description="How the warp is wound")
    measured: Measured | None = Field(None, description="What was measured as it was woven")
    pattern: Pattern | None = Field(None, description="Its text, with figures of the plan by name")
    photographs: list[Photograph] = Field([], description="Of samples and cloth, for the record")
    exercises: list[SpecExercise] = Field(
        [], description="What students fill in, answers in a file of their own"
    )
    conventions: Conventions = Field(
        Conventions.model_construct(), description="How drafts are drawn: a tradition, or a mapping"
    )
    paper: Paper = Field(Paper.model_construct(), description="Size, binding edge, holes, folding")
    class_: ClassOf | None = Field(
        None, alias="class", description="Seats of a class, for each of which a folio is printed"
    )
