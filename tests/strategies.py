"""Hypothesis strategies for all tests: what a weaver may write, beside what it must mean."""

from collections.abc import Callable
from typing import Any

from hypothesis import strategies as st

from cards.sequence import Repeat, Run, Sequence

Plain = tuple[str, list[Any]]  # a sequence as text, and the values that it stands for


def shafts(most: int = 8) -> st.SearchStrategy[int]:
    return st.integers(1, most)


def presses(most: int = 8) -> st.SearchStrategy[frozenset[int]]:
    return st.frozensets(shafts(most), min_size=1, max_size=3)


def lifts(most: int = 8) -> st.SearchStrategy[frozenset[int]]:
    return st.frozensets(shafts(most), max_size=most)


def yarn_names() -> st.SearchStrategy[str]:
    return st.sampled_from(["slate", "sand", "x-ray", "to_do", "filler", "Y2"])


_TIMES = st.sampled_from([" x {}", " x{}", "x {}", "× {}", " X {} "])


@st.composite
def sequences(
    draw: st.DrawFn,
    values: st.SearchStrategy[Any],
    write: Callable[[Any], str],
    joint: str = " ",
    depth: int = 3,
) -> Plain:
    """A sequence as text with what it stands for, written out by this strategy itself."""
    texts: list[str] = []
    meant: list[Any] = []
    for _ in range(draw(st.integers(1, 4))):
        if depth and draw(st.booleans()):
            inner, inside = draw(sequences(values, write, joint, depth - 1))
            times = draw(st.integers(1, 3))
            texts.append(f"({inner}){draw(_TIMES).format(times)}")
            meant += inside * times
        else:
            value = draw(values)
            texts.append(write(value))
            meant.append(value)
    return joint.join(texts), meant


@st.composite
def trees(draw: st.DrawFn, values: st.SearchStrategy[Any], depth: int = 3) -> tuple[Any, ...]:
    """The items of a sequence, runs of one and repeats, without offsets."""
    leaf = st.builds(Run, values)
    if not depth:
        return tuple(draw(st.lists(leaf, min_size=1, max_size=4)))
    group = st.builds(Repeat, trees(values, depth - 1), st.integers(2, 5))
    return tuple(draw(st.lists(leaf | group, min_size=1, max_size=4)))


def without_offsets(sequence: Sequence[Any]) -> Sequence[Any]:
    """The same tree with every offset 0."""

    def bare(item: Any) -> Any:
        if isinstance(item, Run):
            return Run(item.value, item.count)
        return Repeat(tuple(bare(each) for each in item.items), item.times)

    return Sequence(tuple(bare(each) for each in sequence.items))
