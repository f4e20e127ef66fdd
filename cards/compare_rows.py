"""The rows of a comparison: what is said of each candidate, words or a figure, side by side.

A figure has its unit in the head of its row, so that all of a row can stand in one line; the least
and the most of a row are found by what is printed, not by what is hidden in the rounding.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from itertools import chain

from cards.calculation.bill import Bill, Sum
from cards.calculation.rounding import whole_up
from cards.compared import Compared, finished_of, fit_words
from cards.figures import OUNCE, Figures, count
from cards.project import Project
from cards.project.model import ProjectYarn

_NOTHING = "–"
# The longest size of a yarn that is kept on one line, such as `worsted 2/18`.
_SHORT = 12


@dataclass(frozen=True, slots=True)
class Cell:
    """What a row says of one candidate: lines of words, or a figure whose `number` is known.

    `mark` is `least`, `most` or empty. `yarns` have a patch each, beside their line.
    """

    lines: tuple[str, ...]
    number: float | None = None
    mark: str = ""
    yarns: tuple[ProjectYarn, ...] = ()


@dataclass(frozen=True, slots=True)
class Row:
    """A row: its name, the unit of its figures, and a cell for each candidate.

    `explained` is what a word of the trade in it means, for those who do not weave.
    """

    name: str
    unit: str
    cells: tuple[Cell, ...]
    explained: str = ""

    @property
    def is_figures(self) -> bool:
        """Whether any of its cells is a figure."""
        return any(cell.number is not None for cell in self.cells)


@dataclass(frozen=True, slots=True)
class Part:
    """Rows under one heading."""

    title: str
    rows: tuple[Row, ...]


def parts_of(compared: Sequence[Compared], figures: Figures) -> tuple[Part, ...]:
    """Return all rows in the order in which a customer asks for them."""
    made = _Rows(compared, figures)
    parts = [
        Part("The finished cloth", tuple(_cloth(made))),
        Part("Yarn, work and cost", tuple(_cost(made))),
        Part("At the loom", tuple(_loom(made))),
    ]
    return tuple(part for part in parts if part.rows)


class _Rows:
    """Makes rows; a candidate that was not worked out has nothing in any."""

    def __init__(self, compared: Sequence[Compared], figures: Figures) -> None:
        self.compared, self.figures = compared, figures
        self.projects = [each.project for each in compared]

    @property
    def known(self) -> list[Project]:
        """Those that could be worked out."""
        return [project for project in self.projects if project is not None]

    def words(self, name: str, say: Callable[[Project], list[str]]) -> Row:
        """Return a row of words."""
        cells = [Cell(tuple(say(each)) if each else (_NOTHING,)) for each in self.projects]
        return Row(name, "", tuple(cells))

    def figure(
        self,
        name: str,
        value: Callable[[Project], float | None],
        printed: Callable[[float], str],
        explained: str = "",
    ) -> Row:
        """Return a row of figures; `printed` gives a figure with its unit behind a space."""
        numbers = [value(project) if project is not None else None for project in self.projects]
        texts = ["" if number is None else printed(number) for number in numbers]
        units = {_apart(text)[1] for text in texts if text}
        alike = len(units) == 1
        if alike:
            texts = [_apart(text)[0] if text else "" for text in texts]
        made = zip(texts, numbers, strict=True)
        cells = [Cell((text or _NOTHING,), number) for text, number in made]
        return Row(name, units.pop() if alike else "", _marked(cells), explained)


def _apart(text: str) -> tuple[str, str]:
    """Return a figure and its unit.

    >>> _apart("8.5 per cm"), _apart("13 ½ in"), _apart("2 lb 6.6 oz"), _apart("1360")
    (('8.5', 'per cm'), ('13 ½', 'in'), ('2 lb 6.6 oz', ''), ('1360', ''))
    """
    words = text.split(" ")
    last = max(place for place, word in enumerate(words) if word[:1].isnumeric())
    if any(word.isalpha() for word in words[:last]):
        return text, ""
    return " ".join(words[: last + 1]), " ".join(words[last + 1 :])


def _marked(cells: Iterable[Cell]) -> tuple[Cell, ...]:
    """Return figures with the least and the most marked, where they differ as printed."""
    made = list(cells)
    numbers = [cell for cell in made if cell.number is not None]
    if not numbers:
        return tuple(made)
    least = min(numbers, key=lambda cell: cell.number or 0.0).lines
    most = max(numbers, key=lambda cell: cell.number or 0.0).lines
    if least == most:
        return tuple(made)
    marks = {least: "least", most: "most"}
    return tuple(
        replace(cell, mark=marks.get(cell.lines, "")) if cell.number is not None else cell
        for cell in made
    )


def _cloth(rows: _Rows) -> Iterable[Row]:
    cells = [Cell(tuple(_sizes(each, rows.figures)) or (_NOTHING,)) for each in rows.compared]
    yield Row("finished size", "", tuple(cells))
    yield Row("cloth", "", tuple(Cell(each.cloth or (_NOTHING,)) for each in rows.compared))
    yield _yarns(rows)
    yield rows.figure("weight", mean_weight, rows.figures.by_area)


def _sizes(compared: Compared, figures: Figures) -> Iterable[str]:
    """Yield lines that say the size in both systems; of several kinds each with its name."""
    kinds = finished_of(compared)
    for each in kinds:
        number = each.number * each.sheets
        if len(kinds) > 1:
            yield f"{number} × {each.name}, {_by(figures, each.width, each.length)}"
            continue
        yield _by(figures, each.width, each.length)
        yield f"({_by(figures.other(), each.width, each.length)})"
        if number > 1:
            yield f"{number} pieces"
    if kinds and kinds[0].fringe:
        yield f"fringes {figures.width(kinds[0].fringe)}"


def _by(figures: Figures, width: float, length: float) -> str:
    """Return two sides with their unit once.

    >>> _by(Figures("metric"), 1300, 1700)
    '130.0 × 170.0 cm'
    """
    first = figures.width(width).rsplit(" ", 1)[0]
    return f"{first} × {figures.width(length)}"


def mean_weight(project: Project) -> float:
    """Return g/m2 of the finished cloth, of all kinds of pieces together."""
    areas = [
        kind.weft.pieces * kind.warp.finished_width * sum(s.finished for s in kind.weft.sections)
        for kind in project.kinds
    ]
    masses = (
        area * kind.cloth_weight.total for area, kind in zip(areas, project.kinds, strict=True)
    )
    return _sum(masses) / _sum(areas)


def _size(yarn: ProjectYarn) -> str:
    """Return the size of a yarn, short ones on one line, in long ones every figure by its unit."""
    spaces = r" " if len(yarn.size) <= _SHORT else r"(?<=\d) "
    return re.sub(spaces, "\N{NO-BREAK SPACE}", yarn.size)


def _yarns(rows: _Rows) -> Row:
    cells = []
    for project in rows.projects:
        yarns = tuple(total.yarn for total in project.totals) if project else ()
        sizes = [_size(yarn) for yarn in yarns]
        names = [", ".join(filter(None, (y.name, s))) for y, s in zip(yarns, sizes, strict=True)]
        cells.append(Cell(tuple(names) or (_NOTHING,), yarns=yarns))
    return Row("yarn", "", tuple(cells))


def _cost(rows: _Rows) -> Iterable[Row]:
    figures = rows.figures
    yield rows.figure(
        "yarn to buy", lambda each: _sum(t.need.buy for t in each.totals), _mass(figures)
    )
    yield rows.words("packages", _packages)
    bills = [project.bill for project in rows.known]
    for currency in _currencies(bills, lambda bill: bill.yarn):
        yield _money_row(rows, "cost of yarn", currency, _yarn)
    if any(bill.missing for bill in bills):
        yield rows.words("no price for", _priceless)
    yield rows.figure("hours of work", lambda each: each.hours.counted, _amount)
    if any(bill.hours for bill in bills):
        for currency in _currencies(bills, _hours):
            yield _money_row(rows, "cost of work", currency, _hours)
        for currency in _currencies(bills, _total):
            yield _money_row(rows, "yarn and work", currency, _total)
    if any(_pieces(project) > 1 for project in rows.known):
        for currency in _currencies(bills, _total):
            yield rows.figure(f"cost a piece, {currency}".rstrip(", "), _a_piece(currency), _amount)


def _mass(figures: Figures) -> Callable[[float], str]:
    """Return how a mass is printed; in ounces alone, since pounds would hide them."""

    def ounces(grams: float) -> str:
        return f"{whole_up(grams / OUNCE * 10) / 10:.1f} oz"

    return figures.mass if figures.metric else ounces


def _packages(project: Project) -> list[str]:
    """Return the packages of each yarn, told by its letter where there are several."""
    lines = []
    for total in project.totals:
        letter = f"{total.yarn.letter}: " if len(project.totals) > 1 else ""
        number = total.need.packages
        words = "not known" if number is None else f"{number} × {total.yarn.put_up_text}"
        lines.append(f"{letter}{words}")
    return lines


def _priceless(project: Project) -> list[str]:
    return [project.yarn(key).name for key in project.bill.missing] or [_NOTHING]


def _yarn(bill: Bill) -> tuple[Sum, ...]:
    """Return the cost of yarn; where a price is missing there is no sum to compare."""
    return () if bill.missing else bill.yarn


def _hours(bill: Bill) -> tuple[Sum, ...]:
    return (bill.hours,) if bill.hours else ()


def _total(bill: Bill) -> tuple[Sum, ...]:
    return (bill.total,) if bill.total else ()


def _currencies(bills: Iterable[Bill], sums: Callable[[Bill], tuple[Sum, ...]]) -> list[str]:
    return list(dict.fromkeys(each.currency for bill in bills for each in sums(bill)))


def _money_row(
    rows: _Rows, name: str, currency: str, sums: Callable[[Bill], tuple[Sum, ...]]
) -> Row:
    """Return what is paid in one currency."""

    def value(project: Project) -> float | None:
        amounts = [each.amount for each in sums(project.bill) if each.currency == currency]
        return float(sum(amounts, Decimal(0))) if amounts else None

    return rows.figure(f"{name}, {currency}".rstrip(", "), value, _amount)


def _amount(value: float) -> str:
    return f"{value:.2f}"


def _a_piece(currency: str) -> Callable[[Project], float | None]:
    def value(project: Project) -> float | None:
        total = project.bill.total
        if total is None or total.currency != currency:
            return None
        return float(total.amount) / _pieces(project)

    return value


def _pieces(project: Project) -> int:
    return project.pieces


def _loom(rows: _Rows) -> Iterable[Row]:
    figures = rows.figures
    yield rows.figure("ends", lambda each: each.warp.ends, lambda n: count(int(n)), _ENDS)
    yield rows.figure("sett", lambda each: each.sett.ends_layer, figures.density, _SETT)
    yield rows.figure("of closest sett", closeness, lambda share: f"{share * 100:.0f} %", _MOST)
    yield rows.figure("picks", lambda each: each.sett.picks_layer, figures.density, _PICKS)
    yield rows.figure(
        "width in the reed", lambda each: each.warp.width_in_reed, figures.width, _REED
    )
    yield rows.figure("length of the warp", lambda each: each.warp.length, figures.long)
    yield rows.figure("yarn in the warp", warp_yarn, figures.yarn)
    yield rows.figure("yarn in the weft", weft_yarn, figures.yarn)
    if len({loom_of(project) for project in rows.known}) > 1:
        yield rows.words("loom", lambda each: [loom_of(each)])
    cells = [Cell(tuple(fit_words(each, rows.figures))) for each in rows.compared]
    yield Row("fits the loom", "", tuple(cells))
    if any(each.warnings for each in rows.compared):
        counted = tuple(Cell((str(each.warnings or _NOTHING),)) for each in rows.compared)
        yield Row("warnings", "", counted)


_ENDS = "ends: the threads of the warp, that lie along the cloth"
_SETT = "sett: how close they lie side by side, in one layer"
_MOST = "closest sett: the most threads that this yarn and weave leave room for"
_PICKS = "picks: the threads of the weft, that lie across it"
_REED = "reed: the comb that spaces the warp; from its width the cloth draws in and shrinks"


def loom_of(project: Project) -> str:
    """Return what the loom of a project is called."""
    return project.loom.name or f"{project.loom.action} loom"


def closeness(project: Project) -> float | None:
    """Return how close the ends of the main weave lie, as a share of the closest."""
    weaves = project.sett_advice.weaves
    return weaves[0].share if weaves else None


def warp_yarn(project: Project) -> float:
    """Return mm of yarn in the warp, with spare ends and floating selvedges."""
    return _sum(share.need.length for share in project.warp.by_yarn)


def weft_yarn(project: Project) -> float:
    """Return mm of yarn in the weft of all pieces, with the sample."""
    shares = chain.from_iterable(kind.weft.by_yarn for kind in project.kinds)
    return _sum(share.need.length for share in shares)


def _sum(values: Iterable[float]) -> float:
    return sum(values, 0.0)
