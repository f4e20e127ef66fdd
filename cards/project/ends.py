"""How many ends: from the width, from the threading, from the warp order, or as given."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from cards.calculation.rounding import whole_up
from cards.calculation.warp import Rates, width_in_reed
from cards.calculation.workings import Inputs, Workings
from cards.project.model import Sett
from cards.project.problems import Problems
from cards.sequence import Repeat, Run, Sequence
from cards.spec import Spec

# More ends than this are a slip of the pen, not a warp.
MOST_ENDS = 20_000

# How far from the wanted number a number of ends that suits everything is looked for.
_REACH = 5000


@dataclass(frozen=True, slots=True)
class Ends:
    """The ends of a warp, its threading and colour order complete, the ends of its selvedges."""

    number: int
    threading: Sequence[int]
    order: Sequence[str]
    selvedges: tuple[int, int]


def _selvedges(spec: Spec) -> tuple[Sequence[int], Sequence[int]]:
    """Return the threading of the selvedges, that at the first end first."""
    right = spec.selvedges.right or Sequence(())
    left = spec.selvedges.left or Sequence(())
    return (right, left) if spec.conventions.first_end == "right" else (left, right)


def whole_threading(spec: Spec) -> Sequence[int]:
    """Return the threading with the selvedges at its sides, first end first."""
    first, last = _selvedges(spec)
    body = spec.draft.threading.items if spec.draft.threading else ()
    return Sequence(first.items + body + last.items)


def whole_order(spec: Spec, problems: Problems) -> Sequence[str]:
    """Return the yarn of every end, first end first; selvedges of their own yarn included."""
    order = spec.warp_order
    if order is None:
        if len(spec.yarns) > 1:
            raise problems.stop(
                "no-warp-order",
                "there are several yarns and no warp order",
                "add `warp_order: slate` for one yarn, or an order such as "
                '`warp_order: "24 slate, (2 sand, 2 slate) to fill, 24 slate"`',
                "yarns",
            )
        order = Sequence((Repeat((Run(next(iter(spec.yarns))),), None),))
    yarn = spec.selvedges.yarn
    if yarn is None:
        return order
    first, last = (_edge(threading, yarn) for threading in _selvedges(spec))
    return Sequence(first + order.items + last)


def _edge(threading: Sequence[int], yarn: str) -> tuple[Run[str], ...]:
    return (Run(yarn, threading.length),) if threading.length else ()


def settle_ends(spec: Spec, sett: Sett, rates: Rates, work: Workings, problems: Problems) -> Ends:
    """Return the number of ends, with threading and colour order filled to it."""
    width = width_wanted(spec, sett, rates, written_widths(spec), work, problems)
    threading = whole_threading(spec)
    number = _number(spec, sett, width, threading, work, problems)
    check_ends(number, problems)
    order = filled_order(spec, threading, number, problems)
    first, last = _selvedges(spec)
    return Ends(
        number,
        threading.filled(number),
        order,
        (first.length, last.length),
    )


def width_wanted(
    spec: Spec, sett: Sett, rates: Rates, widths: Fraction, work: Workings, problems: Problems
) -> float:
    """Return the width in the reed in mm, of cloth that opens out to `widths` times its width."""
    work.begin("width")
    if spec.given.width_in_reed is not None:
        return work.given("width in the reed", spec.given.width_in_reed, "mm")
    wanted = finished_width_wanted(spec)
    if wanted is not None and widths != 1:
        inputs: Inputs = (("finished width", wanted, "mm"), ("widths", float(widths), "number"))
        formula = "finished width ÷ widths"
        wanted = work.worked(
            "finished width of one layer", formula, inputs, wanted / float(widths), "mm"
        )
    if wanted is not None:
        return width_in_reed(wanted, rates, work)
    if spec.given.ends is not None:
        return spec.given.ends / sett.ends_total
    raise problems.stop(
        "no-width",
        "the width of the cloth is missing",
        "add `width: 45 cm` to the cloth, or give the ends",
        "cloth",
    )


def finished_width_wanted(spec: Spec) -> float | None:
    """Return the finished width in mm, of a tube lying flat; None if it is not given."""
    cloth = spec.cloth
    return cloth.circumference / 2 if cloth.circumference is not None else cloth.width


def written_widths(spec: Spec) -> Fraction:
    """Return how many times as wide as the warp the cloth of a written draft should open out."""
    if spec.expect.pieces in {None, "separate"}:
        return Fraction(1)
    return opened_widths(spec.expect.layers or 1, tube=spec.expect.pieces == "tube")


def opened_widths(layers: int, *, tube: bool) -> Fraction:
    """Return how many times as wide as one layer joined layers are: opened out, or a tube flat."""
    return Fraction(layers, 2 if tube else 1)


def check_ends(number: int, problems: Problems) -> None:
    """Refuse more ends than a warp can have."""
    if number > MOST_ENDS:
        raise problems.stop(
            "too-many-ends",
            f"the warp has {number} ends; {MOST_ENDS} are the most",
            "is the width or the sett mistyped?",
            "cloth",
            "width",
        )


def filled_order(
    spec: Spec, threading: Sequence[int], number: int, problems: Problems
) -> Sequence[str]:
    """Return the warp order filled to so many ends."""
    order = whole_order(spec, problems)
    if not order.fits(number):
        raise _order_misfit(spec, threading, order, number, problems)
    return order.filled(number)


def _number(
    spec: Spec,
    sett: Sett,
    width: float,
    threading: Sequence[int],
    work: Workings,
    problems: Problems,
) -> int:
    work.begin("ends")
    raw = width * sett.ends_total
    if spec.given.ends is not None:
        number = spec.given.ends
        if not threading.fits(number):
            near = _nearest(number, (threading,))
            raise problems.stop(
                "threading-does-not-divide",
                f"the threading does not come out on the {number} ends given",
                f"give {_either(near)} ends, or change the threading",
                "draft",
                "threading",
            )
        return int(work.given("ends", number, "ends"))
    inputs: Inputs = (("width in the reed", width, "mm"), ("sett", sett.ends_total, "per mm"))
    if threading.fill is None:
        number = threading.length
        note = "as many as the threading has"
    else:
        number = threading.reach(whole_up(raw))
        note = "raised until the threading comes out whole"
    work.worked("ends", "width in the reed × sett", inputs, raw, "ends", rounded=number, note=note)
    return number


def _nearest(number: int, sequences: Iterable[Sequence[int] | Sequence[str]]) -> list[int]:
    """Return the nearest numbers below and above `number` that suit all sequences."""
    every = tuple(sequences)
    fixed = [each.length for each in every if each.fill is None]
    if fixed:
        return [fixed[0]] if all(each.fits(fixed[0]) for each in every) else []
    down = (each for each in range(number - 1, max(0, number - _REACH), -1))
    up = (each for each in range(number, number + _REACH))
    found = []
    for way in (down, up):
        match = next((each for each in way if all(one.fits(each) for one in every)), None)
        if match is not None:
            found.append(match)
    return found


def _either(numbers: list[int]) -> str:
    return " or ".join(str(number) for number in numbers)


def _order_misfit(
    spec: Spec,
    threading: Sequence[int],
    order: Sequence[str],
    number: int,
    problems: Problems,
) -> Exception:
    """Record that the colour order and the threading come to different numbers of ends."""
    near = _nearest(number, (threading, order))
    if order.fill is None:
        message = f"the warp has {number} ends, the warp order {order.length}"
    else:
        message = f"the warp has {number} ends, and the warp order does not come out on them"
    if near:
        verb = "suits" if len(near) == 1 else "suit"
        mend = (
            f"{_either(near)} {verb} both the threading and the order: say `given: {{ends: "
            f"{near[0]}}}`, or let another group of the order stand `to fill`"
        )
    else:
        mend = (
            "no number of ends suits both the threading and the order; change the ends at the "
            "edges of one of them, or let a group of it stand `to fill`"
        )
    path = "warp_order" if spec.warp_order is not None else "yarns"
    return problems.stop("order-does-not-divide", message, mend, path)
