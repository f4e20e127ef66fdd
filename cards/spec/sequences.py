"""The notation of threadings, treadlings, lifts and yarn orders.

Items side by side, brackets with `x 6` or `to fill`; commas are always optional. The text is
read in one loop over its words, so neither depth nor length can overwhelm the reader, and the
length of the whole is known before anything is written out.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TypeVar

from cards.sequence import Repeat, Sequence
from cards.spec.growing_tree import LONGEST, GrowingTree
from cards.spec.quoting import shortened
from cards.spec.refusal import NotationError
from cards.spec.words import text_of

T = TypeVar("T")

MOST_SHAFTS = 40

_TOKEN = re.compile(
    r"""[\s,]*(?:
        (?P<times>[xX×]\s*(?P<count>\d+(?:\.\d+)?))(?![\w.])
      | (?P<fill>to\s+fill\b)
      | (?P<number>\d+(?:\.\d+)?)
      | (?P<name>[A-Za-z][\w-]*)
      | (?P<mark>[()+;])
      | (?P<stray>[^\s,])
    )""",
    re.VERBOSE | re.ASCII,
)


@dataclass(slots=True)
class _Token:
    kind: str
    text: str
    offset: int


Take = Callable[[GrowingTree[T], _Token], None]


def parse_threading(value: object) -> Sequence[int]:
    """Return a threading such as `(1 2 3 4) to fill, 3 2 1`: shafts, first end first."""
    return _numbers(value, "shaft", "a threading such as (1 2 3 4) to fill")


def parse_shuttles(value: object) -> Sequence[int]:
    """Return shuttles such as `1 2` or `(1 1 2 2)`: that of every pick, again and again."""
    return _numbers(value, "shuttle", "shuttles such as 1 2")


def _numbers(value: object, what: str, wanted: str) -> Sequence[int]:
    def take(tree: GrowingTree[int], token: _Token) -> None:
        tree.add(_numbered(token, what), 1, token.offset)

    return _read(value, wanted, take, _nothing)


def parse_treadling(value: object) -> Sequence[frozenset[int]]:
    """Return a treadling such as `(1 2 3+4) x 8`: the treadles pressed together, pick by pick."""
    press: list[_Token] = []
    joined = False

    def flush(tree: GrowingTree[frozenset[int]]) -> None:
        nonlocal joined
        if joined:
            raise _stray(press[-1], "a treadle is missing beside `+`", "write it as 3+4")
        if press:
            tree.add(_together(press, "treadle"), 1, press[0].offset)
            press.clear()

    def take(tree: GrowingTree[frozenset[int]], token: _Token) -> None:
        nonlocal joined
        if token.text == "+":
            if joined or not press:
                raise _stray(token, "a treadle is missing beside `+`", "write it as 3+4")
            joined = True
            return
        if not joined:
            flush(tree)
        joined = False
        press.append(token)

    return _read(value, "a treadling such as (1 2) x 60", take, flush, marks="+")


def parse_lifts(value: object) -> Sequence[frozenset[int]]:
    """Return lifts such as `(1; 1 2 3; 3; 1 3 4) x 30`: the shafts raised, pick by pick.

    A pick that lifts nothing is written `0`. Beside a bracket the semicolon may be left out.
    """
    lift: list[_Token] = []
    ended = False  # whether a semicolon may stand here

    def flush(tree: GrowingTree[frozenset[int]]) -> None:
        nonlocal ended
        if lift:
            tree.add(_lifted(lift), 1, lift[0].offset)
            lift.clear()
        ended = False

    def take(tree: GrowingTree[frozenset[int]], token: _Token) -> None:
        nonlocal ended
        if token.text != ";":
            lift.append(token)
            return
        items = tree.groups[-1].items
        after_group = not ended and (
            tree.closed is not None or (bool(items) and isinstance(items[-1], Repeat))
        )
        if not lift and not after_group:
            raise _stray(
                token, "a pick is missing before `;`", "write 0 for one that lifts nothing"
            )
        flush(tree)
        ended = True

    return _read(value, "lifts such as (1; 1 2 3) x 30", take, flush, marks=";")


def parse_order(value: object) -> Sequence[str]:
    """Return a yarn order such as `24 slate, (2 sand, 2 slate) to fill, 24 slate`.

    One yarn alone stands for every end or pick. Beside others a yarn without a number stands for
    one, unless some of them have numbers: then it could also mean the rest, and is refused.
    """
    count: list[_Token] = []
    bare: list[_Token] = []
    counted: list[_Token] = []

    def flush(_tree: GrowingTree[str]) -> None:
        if count:
            number = shortened(count[0].text)
            message = f"{number} of what?"
            mend = f"write the yarn after it, or (...) x {number} for a repeat"
            raise NotationError(message, mend, count[0].offset, code="count-without-yarn")

    def take(tree: GrowingTree[str], token: _Token) -> None:
        if token.kind == "number":
            flush(tree)
            count.append(token)
            return
        outside = len(tree.groups) == 1
        if count:
            first = count.pop()
            tree.add(token.text, _count(first), first.offset)
            counted.extend([token] if outside else [])
        else:
            tree.add(token.text, 1, token.offset)
            bare.extend([token] if outside else [])

    order = _read(value, "a yarn order such as 24 slate, 2 sand", take, flush, names=True)
    if bare and counted:
        name = shortened(bare[0].text)
        message = f"how many {name}? some yarns have a number, and {name} has none"
        mend = f"write `1 {name}` for one, or `({name}) to fill` for all that is left"
        raise NotationError(message, mend, bare[0].offset, code="count-missing")
    if bare and len(order.items) == 1:
        return Sequence((Repeat(order.items, None, bare[0].offset),))
    return order


def _nothing(_tree: GrowingTree[int]) -> None:
    """Do nothing: a threading keeps nothing back."""


def _read(
    value: object,
    wanted: str,
    take: Take[T],
    flush: Callable[[GrowingTree[T]], None],
    *,
    marks: str = "",
    names: bool = False,
) -> Sequence[T]:
    if isinstance(value, Sequence):
        return value
    tree: GrowingTree[T] = GrowingTree()
    for token in _tokens(text_of(value, wanted)):
        if token.kind == "mark" and token.text in "()":
            flush(tree)
            if token.text == "(":
                tree.open(token.offset)
            else:
                tree.close(token.offset)
        elif token.kind in {"times", "fill"}:
            flush(tree)
            tree.repeat(_times(token), token.offset)
        elif token.kind == "number" or token.text in marks or (names and token.kind == "name"):
            take(tree, token)
        else:
            raise _unexpected(token)
    flush(tree)
    return tree.sequence()


def _tokens(text: str) -> Iterator[_Token]:
    for match in _TOKEN.finditer(text):
        kind = match.lastgroup or "stray"
        if match["times"]:
            yield _Token("times", match["count"], match.start("times"))
        else:
            yield _Token(kind, match[kind], match.start(kind))


def _times(token: _Token) -> int | None:
    return None if token.kind == "fill" else _whole(token.text, token.offset)


def _whole(text: str, offset: int) -> int:
    if "." in text:
        message = f"`{shortened(text)}` is not a whole number"
        raise NotationError(message, "write a whole number", offset, code="not-a-whole-number")
    if len(text) > 12 or int(text) > LONGEST:
        raise NotationError(
            f"{text[:20]} is more than {LONGEST:,}",
            "write fewer repeats",
            offset,
            code="sequence-too-long",
        )
    return int(text)


def _count(token: _Token) -> int:
    count = _whole(token.text, token.offset)
    if not count:
        message = "nought of a yarn"
        raise NotationError(message, "write 1 or more", token.offset, code="count-of-zero")
    return count


def _numbered(token: _Token, what: str) -> int:
    number = _whole(token.text, token.offset)
    if not 1 <= number <= MOST_SHAFTS:
        message = f"there is no {what} {number}"
        mend = f"{what}s are numbered from 1 to {MOST_SHAFTS}"
        raise NotationError(message, mend, token.offset, code=f"no-such-{what}")
    return number


def _together(tokens: list[_Token], what: str) -> frozenset[int]:
    numbers: set[int] = set()
    for token in tokens:
        number = _numbered(token, what)
        if number in numbers:
            message = f"{what} {number} stands twice in one pick"
            raise NotationError(message, "write it once", token.offset, code="twice-in-a-pick")
        numbers.add(number)
    return frozenset(numbers)


def _lifted(tokens: list[_Token]) -> frozenset[int]:
    if any(token.text == "0" for token in tokens):
        if len(tokens) > 1:
            message = "0 means that nothing is lifted, yet shafts stand beside it"
            mend = "write 0 alone, or the shafts alone"
            raise NotationError(message, mend, tokens[0].offset, code="nothing-and-something")
        return frozenset()
    return _together(tokens, "shaft")


def _stray(token: _Token, message: str, mend: str) -> NotationError:
    return NotationError(message, mend, token.offset, code="stray-character")


def _unexpected(token: _Token) -> NotationError:
    message = f"`{shortened(token.text)}` is not expected here"
    mend = "write numbers, brackets and `x 6`"
    if token.text in {"*", "x", "X", "×"}:
        mend = "write a repeat as (...) x 6"
    elif token.text in "[]{}":
        mend = "use round brackets"
    elif token.text == ";":
        mend = "part what stands here by spaces or commas"
    elif token.text in {"-", "–"}:
        mend = "write every number out"
    elif token.text == "+":
        mend = "write what stands here side by side"
    elif token.kind == "name":
        mend = "write numbers only"
    return _stray(token, message, mend)
