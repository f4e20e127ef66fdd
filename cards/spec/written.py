"""Sequences and tie-ups as they are written in a spec, to be shown as an example to paste."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TypeVar

from cards.sequence import Repeat, Run, Sequence

T = TypeVar("T")
Shed = frozenset[int]


def written_threading(threading: Sequence[int]) -> str:
    """Return a threading as text that reads the same.

    >>> written_threading(Sequence((Repeat((Run(1), Run(2)), None), Run(1, 2))))
    '(1 2) to fill, 1 1'
    """
    return _joined(threading.items, str, " ", ", ")


def written_lifts(lifts: Sequence[Shed]) -> str:
    """Return lifts as text that reads the same; a lift of no shaft is a 0.

    >>> written_lifts(Sequence((Repeat((Run(frozenset({1, 3})), Run(frozenset({2}))), 4),)))
    '(1 3; 2) x 4'
    """
    return _joined(lifts.items, lambda lift: _numbers(lift) or "0", "; ", "; ")


def written_tie_up(tie_up: Mapping[int, Shed]) -> str:
    """Return a tie-up as a mapping of YAML.

    >>> written_tie_up({1: frozenset({3, 1}), 2: frozenset({2})})
    '{1: 1 3, 2: 2}'
    """
    tied = (f"{treadle}: {_numbers(shafts) or '0'}" for treadle, shafts in sorted(tie_up.items()))
    return f"{{{', '.join(tied)}}}"


def _numbers(shafts: Shed) -> str:
    return " ".join(map(str, sorted(shafts)))


def _joined(
    items: tuple[Run[T] | Repeat[T], ...], write: Callable[[T], str], close: str, apart: str
) -> str:
    """Join items: plain ones by `close`, brackets from what stands beside them by `apart`."""
    text = ""
    before: Run[T] | Repeat[T] | None = None
    for item in items:
        if before is not None:
            text += close if isinstance(item, Run) and isinstance(before, Run) else apart
        text += _one(item, write, close, apart)
        before = item
    return text


def _one(item: Run[T] | Repeat[T], write: Callable[[T], str], close: str, apart: str) -> str:
    if isinstance(item, Run):
        return close.join([write(item.value)] * item.count)
    inner = _joined(item.items, write, close, apart)
    return f"({inner}) to fill" if item.times is None else f"({inner}) x {item.times}"
