"""The largest cloth that limits allow: what `most` asks for, and the most each size could be.

Every size is tried whole: the spec is changed and reckoned from the beginning, so what is named
here is what comes out when it is written into the spec. Lengths go by steps of 1 cm or half an
inch, widths by 1 mm or an eighth of an inch.
"""

from __future__ import annotations

from contextlib import suppress
from functools import cached_property
from math import inf

from cards.cloth_words import listed
from cards.project.ends import whole_threading
from cards.project.largest import Found, Limits, Search
from cards.project.limits import Limit, ends_limit, has_limits, limits_of
from cards.project.model import MostOf
from cards.project.pieces import Reckoned, first_kind, reckon
from cards.project.problems import Problems, Stopped
from cards.project.reckoning import Reckoning
from cards.project.trial import LENGTH_STEP, WIDTH_STEP, of_width, with_cloth
from cards.spec import Finding, Section, Spec

SIZES = ("length", "width", "pieces")

# Far beyond what is woven: no piece is longer or wider, in mm, and no warp has more pieces.
_TOP = {"length": 50_000.0, "width": 10_000.0, "pieces": 100.0}
_START = {"length": 1_000.0, "width": 500.0, "pieces": 1.0}

# A size that could be so many times as large is not told: nobody asks for it.
_TIMES = 10

# Limits that a size has nothing to do with.
_APART = {"length": {"loom", "ends"}, "pieces": {"loom", "ends"}, "width": {"warp", "beam"}}

# A warp that is too short is what is to be found out, no hindrance to it.
_WANTED = {"warp-too-short"}


def sized(spec: Spec, problems: Problems) -> tuple[Spec, MostOf | None]:
    """Return the spec with the size that is to be the most put in, and that size.

    Where not even the least holds, the least is put in, so that it is found what is wrong with it,
    and the value is 0. Raises Stopped where the size is fixed, or where nothing limits it.
    """
    size = spec.cloth.most
    if size is None:
        return spec, None
    fixed = _fixed(spec, size)
    if fixed:
        what, mend = fixed
        raise problems.stop("most-is-fixed", what, mend, "cloth", "most")
    trial = _Trial(spec, size, problems)
    bound = _bound(spec, size)
    if bound is not None and trial.fits(bound) and trial.limited(bound):
        return trial.spec_of(bound), MostOf(_called(spec, size), bound, "no more was asked for")
    found = trial.found(bound)
    endless = bound is None and found.number and not found.broken
    if found.least and (not trial.limits or endless):
        raise _nothing_limits(spec, size, problems)
    number = found.number or found.least
    value = number * trial.step if number else bound or _START[size]
    # What is between the last step and the bound is too much by what the bound itself breaks.
    broken = found.broken or (trial.broken(bound) if bound is not None else ())
    most = MostOf(_called(spec, size), found.number * trial.step, _limit(broken, size))
    return trial.spec_of(value), most if found.least else None


def of_size(spec: Spec, most: MostOf) -> Spec:
    """Return a spec with the size that was found to be the most for another loom."""
    size = "width" if most.size.startswith("width") else most.size
    fixed = with_cloth(spec, most=None)
    if size == "width":
        return of_width(fixed, most.value)
    return with_cloth(fixed, **{size: int(most.value) if size == "pieces" else most.value})


class Largest:
    """The most that each size of a spec could be, the others as they are; tried when asked."""

    def __init__(self, spec: Spec, problems: Problems) -> None:
        """Remember a spec whose sizes are all settled."""
        self._spec = spec
        self._problems = problems

    @cached_property
    def most(self) -> tuple[MostOf, ...]:
        """The most of length, width and pieces, of those that could be another."""
        spec, most = self._spec, []
        if not has_limits(spec):
            return ()
        for size in SIZES:
            if _fixed(spec, size):
                continue
            trial = _Trial(spec, size, self._problems)
            found = trial.found(None, _TIMES * (_written(spec, size) or _START[size]))
            if trial.limits and (found.broken or not found.number) and found.least:
                value = found.number * trial.step
                most.append(MostOf(_called(spec, size), value, _limit(found.broken, size)))
        return tuple(most)


class _AnySize(Exception):  # noqa: N818 -- it ends the search, it is no fault of the program
    """Raised where nothing comes out whatever the size."""


class _Trial:
    """One size tried in steps; `limits` are the kinds of limits that it has to do with."""

    def __init__(self, spec: Spec, size: str, problems: Problems) -> None:
        steps = {"length": LENGTH_STEP, "width": WIDTH_STEP}
        self.step = steps[size][spec.units] if size in steps else 1.0
        self.limits: set[str] = set()
        self._base = spec
        self._size = size
        self._problems = problems
        self._doubted = False

    def found(self, bound: float | None, most: float = inf) -> Found:
        """Return the largest number of steps, no more than `bound` where one is written.

        Nothing over `most` is tried either. Nothing is found where an error stands that no size
        would mend.
        """
        size = self._size
        top = int(min(bound or _TOP[size], most) / self.step * (1 + 1e-9))
        written = _written(self._base, size)
        start = round((bound or written or _START[size]) / self.step)
        with suppress(_AnySize):
            return Search(self._limits_at, top).largest(max(1, min(start, top)))
        return Found(0, (), 0)

    def fits(self, value: float) -> bool:
        """Whether a size holds."""
        limits = self._tried(value)
        return limits is not None and all(limit.holds for limit in limits)

    def broken(self, value: float) -> Limits:
        """Return the limits that a size breaks."""
        return tuple(limit for limit in self._tried(value) or () if not limit.holds)

    def limited(self, value: float) -> bool:
        """Whether anything limits this size at all."""
        self._tried(value)
        return bool(self.limits)

    def spec_of(self, value: float) -> Spec:
        """Return the spec with a size of `value` mm, or pieces."""
        return of_size(self._base, MostOf(self._size, value, ""))

    def _limits_at(self, number: int) -> Limits | None:
        limits = self._tried(number * self.step)
        if limits is None and not self._doubted:
            self._doubted = True
            self._check_size_matters(number * self.step)
        return limits

    def _check_size_matters(self, value: float) -> None:
        """Raise _AnySize where the very same error stands at half the size and at double."""
        sizes = (max(self.step, value / 2), value, value * 2)
        first, *others = (self._errors(self._reckoned(size)[0]) for size in sizes)
        if first.intersection(*others):
            raise _AnySize

    def _errors(self, first: Reckoning) -> frozenset[Finding]:
        """Return what makes nothing of a size."""
        return frozenset(
            each
            for each in first.problems.findings
            if each.level == "error" and each.code not in _WANTED
        )

    def _reckoned(self, value: float) -> tuple[Reckoning, Reckoned | None]:
        """Return the reckoning at a size, and what it came to, None where it was stopped."""
        spec, given = self.spec_of(value), self._base.given.ends
        if self._size == "width" and given is not None:
            # As many ends as the width asks for are held against those that are there.
            free = spec.given.model_copy(update={"ends": None})
            spec = spec.model_copy(update={"given": free})
        first = first_kind(spec, self._problems.apart())
        with suppress(Stopped):
            return first, reckon(spec, first)
        return first, None

    def _tried(self, value: float) -> Limits | None:
        """Return the limits at a size, None where nothing comes of it."""
        first, reckoned = self._reckoned(value)
        if reckoned is None or self._errors(first):
            return None
        limits: list[Limit] = list(limits_of(self._base, reckoned))
        given = self._base.given.ends
        if self._size == "width" and given is not None:
            limits.append(ends_limit(reckoned.taken.warp.ends, given))
        self.limits |= {limit.kind for limit in limits} - _APART[self._size]
        return tuple(limits)


def _written(spec: Spec, size: str) -> float | None:
    """Return a size as it is written, a circumference as the width lying flat."""
    cloth = spec.cloth
    if size == "width":
        return cloth.circumference / 2 if cloth.circumference is not None else cloth.width
    return cloth.length if size == "length" else float(cloth.pieces)


def _bound(spec: Spec, size: str) -> float | None:
    """Return the size that the most is not to pass; a single piece unwritten is no bound."""
    if size == "pieces" and "pieces" not in spec.cloth.model_fields_set:
        return None
    return _written(spec, size)


def _called(spec: Spec, size: str) -> str:
    return "width, flat" if size == "width" and spec.cloth.circumference is not None else size


def _limit(broken: Limits, size: str) -> str:
    """Return what does not allow more, in words."""
    if broken:
        return listed([limit.words for limit in broken])
    words = {"length": "no longer one", "width": "no wider one", "pieces": "no further piece"}
    return f"{words[size]} comes out"


def _fixed(spec: Spec, size: str) -> tuple[str, str] | None:
    """Return why a size cannot be another, and what to do about it; None where it can."""
    if size == "width":
        return _fixed_width(spec)
    if spec.pieces:
        return "the kinds of pieces have sizes of their own", "leave `most` out"
    return _fixed_length(spec) if size == "length" else None


def _fixed_width(spec: Spec) -> tuple[str, str] | None:
    if spec.given.width_in_reed is not None:
        return "the width in the reed is given", "leave width_in_reed out"
    threading = whole_threading(spec)
    if spec.draft.double_weave is None and threading.fill is None:
        mend = "let a group of the threading stand `to fill`"
        return f"the threading has {threading.length} ends, and no more", mend
    return None


def _fixed_length(spec: Spec) -> tuple[str, str] | None:
    if spec.given.picks is not None:
        return "the picks of a piece are given", "leave the picks out"
    built = spec.draft.double_weave is not None
    if spec.weave and not any(_fills(section, built=built) for section in spec.weave):
        return "the sections are as long as they are", "let one section say `length: fill`"
    return None


def _fills(section: Section, *, built: bool) -> bool:
    if section.length is not None:
        return section.length == "fill"
    return built and section.picks is None and section.repeats is None


def _nothing_limits(spec: Spec, size: str, problems: Problems) -> Stopped:
    what = {"length": "length of the cloth", "width": "width of the cloth", "pieces": "pieces"}
    verb = "s" if size != "pieces" else ""
    message = f"nothing limits the {what[size]}" if verb else "nothing limits the number of pieces"
    things = ["`on_hand: 350 g` to a yarn", "`costs: {budget: 150}`"]
    if spec.costs.budget is not None:
        things[1] = "price and put-up, in the currency of the budget, to every yarn"
    things.append("`width` to the loom" if size == "width" else "`longest_warp` to the loom")
    mend = f"add {', '.join(things[:-1])} or {things[-1]}; or leave `most` out"
    return problems.stop("nothing-limits", message, mend, "cloth", "most")
