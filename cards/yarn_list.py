"""The yarn list: it goes to the shop, and says what to buy and what another yarn must have."""

from __future__ import annotations

from dataclasses import dataclass

from cards.calculation.bill import Bill
from cards.calculation.bobbins import Bobbin, bobbins
from cards.cost_words import most_words, weft_lengths
from cards.figures import Figures
from cards.heading import Heading, loom_heading_of
from cards.plan_cloth import shuttle_shares
from cards.project.model import Project, ProjectYarn, Totals, YarnShare

# Another yarn within so much of the size makes the same cloth at the same sett (common practice).
WITHIN = 0.10


@dataclass(frozen=True, slots=True)
class Part:
    """What a yarn needs for the warp, the weft or both: length in mm, mass in g."""

    what: str
    length: float
    mass: float


@dataclass(frozen=True, slots=True)
class Entry:
    """One yarn on the list.

    `parts` are warp and weft where it does both, and what both take together. `length` is mm with
    the buying margin, `bobbins` those that its weft fills, 0 of a yarn that is only warped. A
    substitute has from `finest` to `thickest` tex. `shuttles` has number and mm of weft, where
    several shuttles carry the yarn.
    """

    total: Totals
    parts: tuple[Part, ...]
    length: float
    bobbins: int
    finest: float
    thickest: float
    shuttles: tuple[tuple[int, float], ...]

    @property
    def yarn(self) -> ProjectYarn:
        """The yarn itself."""
        return self.total.yarn


@dataclass(frozen=True, slots=True)
class YarnList:
    """All that the yarn list says: first the yarns to buy, then those that are there.

    There is enough of `enough` on hand; `wound` yarns are in a warp that is there already. `asked`
    says in words which size was to be the most, and how much that is; else it is empty.
    """

    heading: Heading
    entries: tuple[Entry, ...]
    enough: tuple[Entry, ...]
    wound: tuple[ProjectYarn, ...]
    margin: float
    bobbin: Bobbin
    bill: Bill
    hours: float
    asked: str
    figures: Figures


def yarn_list(project: Project) -> YarnList:
    """Return the yarn list of a project."""
    figures, asked = Figures(project.units), project.asked
    margin = next(step.value for step in project.steps if step.name == "buying margin")
    warp = project.warp
    every = tuple(_entry(project, total, margin) for total in project.totals)
    return YarnList(
        heading=loom_heading_of(project, "Yarn list"),
        entries=tuple(entry for entry in every if entry.total.need.buy),
        enough=tuple(entry for entry in every if not entry.total.need.buy),
        wound=tuple(share.yarn for share in warp.by_yarn if warp.state),
        margin=margin,
        bobbin=project.bobbin,
        bill=project.bill,
        hours=project.hours.counted,
        asked=f"{asked.size} {most_words(asked, figures)}" if asked is not None else "",
        figures=figures,
    )


def buy_words(entry: Entry, figures: Figures) -> str:
    """Return what to buy of a yarn: packages, a mass where none are known, or that it is enough."""
    need = entry.total.need
    if not need.buy:
        return "enough"
    if need.packages is None:
        return figures.mass(need.buy)
    return f"{need.packages} × {entry.yarn.put_up_text}"


def _entry(project: Project, total: Totals, margin: float) -> Entry:
    yarn, need = total.yarn, total.need
    weft = next((mm for each, mm in weft_lengths(project) if each.key == yarn.key), 0.0)
    warp = 0.0 if project.warp.state else _length(project.warp.by_yarn, yarn)
    parts = [
        Part(what, length, length * yarn.tex / 1e6)
        for what, length in (("warp", warp), ("weft", weft))
        if length
    ]
    if len(parts) > 1:
        parts.append(Part("together", need.length, need.mass))
    return Entry(
        total=total,
        parts=tuple(parts),
        length=need.length * (1 + margin),
        bobbins=bobbins(weft, yarn.tex, project.bobbin) if weft else 0,
        finest=yarn.tex * (1 - WITHIN),
        thickest=yarn.tex * (1 + WITHIN),
        shuttles=_shuttles(project, yarn),
    )


def _length(shares: tuple[YarnShare, ...], yarn: ProjectYarn) -> float:
    return sum(share.need.length for share in shares if share.yarn.key == yarn.key)


def _shuttles(project: Project, yarn: ProjectYarn) -> tuple[tuple[int, float], ...]:
    """Return the shuttles that carry a yarn with their weft, where there are several."""
    if project.further:
        return ()  # every kind of piece has shuttles of its own
    shares = [each for each in shuttle_shares(project) if each["yarn"] == yarn.key]
    if len(shares) < 2:
        return ()
    return tuple((each["shuttle"] + 1, each["length_mm"]) for each in shares)
