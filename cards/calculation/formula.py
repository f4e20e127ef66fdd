"""The notation of a formula in the workings: what is printed is what can be reckoned with.

Names of inputs stand between numbers, brackets and the signs + − × ÷, each name just as the input
has it. Behind the first comma stands what is done to the result: `up to ...` and `to the nearest
...` tell of rounding, and `at least NAME` puts up with nothing less than that input, or `nothing`.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Final

_SIGNS: Final = "+−×÷()"
_PARTS: Final = re.compile(rf"[{re.escape(_SIGNS)}]|[^{re.escape(_SIGNS)}]+")
_NUMBER: Final = re.compile(r"\d+(\.\d+)?")
_LEAST: Final = "at least "
_ROUNDED: Final = ("up to ", "to the nearest ")
NOTHING: Final = "nothing"

Exact = Fraction


def evaluate(formula: str, values: Mapping[str, Exact]) -> Exact:
    """Return what a formula comes to, before anything is rounded.

    Raises ValueError for a name that is no input, an input without use, or signs that do not fit.

    >>> evaluate("width ÷ (1 − loss)", {"width": Fraction(10), "loss": Fraction(1, 5)})
    Fraction(25, 2)
    """
    unused = set(values) - {name for part, name in _tokens(formula) if part == "name"}
    if unused:
        raise ValueError(f"{formula!r} makes no use of {sorted(unused)}")
    tail = formula.partition(", ")[2]
    result = _Reader(formula, values).read()
    if tail.startswith(_LEAST):
        name = tail.removeprefix(_LEAST)
        result = max(result, Fraction(0) if name == NOTHING else _value(name, values))
    elif tail and not tail.startswith(_ROUNDED):
        raise ValueError(f"what is {tail!r}?")
    return result


def with_figures(formula: str, figures: Mapping[str, str]) -> str:
    """Return a formula with the figures in the place of the names.

    >>> with_figures("width ÷ (1 − loss)", {"width": "10 in", "loss": "0.2"})
    '10 in ÷ (1 − 0.2)'
    """
    head, comma, tail = formula.partition(", ")
    text = _PARTS.sub(lambda part: _replaced(part[0], figures), head)
    if tail.startswith(_LEAST):
        name = tail.removeprefix(_LEAST)
        return f"{text}{comma}{_LEAST}{figures.get(name, name)}"
    return text


def _replaced(part: str, figures: Mapping[str, str]) -> str:
    name = part.strip()
    if name not in figures:
        return part
    before, after = part[: len(part) - len(part.lstrip())], part[len(part.rstrip()) :]
    return f"{before}{figures[name]}{after}"


def _tokens(formula: str) -> list[tuple[str, str]]:
    """Return signs, numbers and names, each with its kind; also the name of a least value."""
    head, _, tail = formula.partition(", ")
    found = []
    for part in _PARTS.findall(head):
        text = part.strip()
        if text in _SIGNS and text:
            found.append(("sign", text))
        elif _NUMBER.fullmatch(text):
            found.append(("number", text))
        elif text:
            found.append(("name", text))
    if tail.startswith(_LEAST) and tail.removeprefix(_LEAST) != NOTHING:
        found.append(("name", tail.removeprefix(_LEAST)))
    return found


def _value(name: str, values: Mapping[str, Exact]) -> Exact:
    if name not in values:
        raise ValueError(f"{name!r} is no input")
    return values[name]


_SUMS: Final[Mapping[str, Callable[[Exact, Exact], Exact]]] = {
    "+": lambda one, two: one + two,
    "−": lambda one, two: one - two,
}
_PRODUCTS: Final[Mapping[str, Callable[[Exact, Exact], Exact]]] = {
    "×": lambda one, two: one * two,
    "÷": lambda one, two: one / two,
}


class _Reader:
    """Reads a formula from left to right, products before sums."""

    def __init__(self, formula: str, values: Mapping[str, Exact]) -> None:
        self._tokens = _tokens(formula.partition(", ")[0])
        self._values = values
        self._at = 0

    def read(self) -> Exact:
        result = self._sum()
        if self._at < len(self._tokens):
            raise ValueError(f"{self._tokens[self._at][1]!r} is one too many")
        return result

    def _next(self) -> str:
        return self._tokens[self._at][1] if self._at < len(self._tokens) else ""

    def _sum(self) -> Exact:
        return self._chain(self._product, _SUMS)

    def _product(self) -> Exact:
        return self._chain(self._single, _PRODUCTS)

    def _chain(
        self,
        part: Callable[[], Exact],
        signs: Mapping[str, Callable[[Exact, Exact], Exact]],
    ) -> Exact:
        result = part()
        while self._next() in signs:
            sign = self._next()
            self._at += 1
            result = signs[sign](result, part())
        return result

    def _single(self) -> Exact:
        if self._at >= len(self._tokens):
            raise ValueError("something is missing at the end")
        kind, text = self._tokens[self._at]
        self._at += 1
        if kind == "number":
            return Fraction(text)
        if kind == "name":
            return _value(text, self._values)
        if text != "(":
            raise ValueError(f"{text!r} stands where a figure is wanted")
        result = self._sum()
        if self._next() != ")":
            raise ValueError("a bracket is not closed")
        self._at += 1
        return result
