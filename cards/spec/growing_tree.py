"""The tree of a sequence as it grows: brackets, repeats, and the length of the whole.

Knows nothing of what stands between the brackets. The length is kept as the tree grows, so that
a repeat of a million is refused before anything is written out.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Generic, TypeVar

from cards.sequence import Repeat, Run, Sequence
from cards.spec.refusal import NotationError

T = TypeVar("T")

LONGEST = 100_000
DEEPEST = 20


@dataclass(slots=True)
class OpenGroup(Generic[T]):
    """A group whose bracket is still open; `length` counts its values so far."""

    offset: int
    items: list[Run[T] | Repeat[T]] = field(default_factory=list)
    length: int = 0


class GrowingTree(Generic[T]):
    """Grows the tree of one text; knows brackets and repeats, not what stands between them."""

    def __init__(self) -> None:
        self.groups: list[OpenGroup[T]] = [OpenGroup(0)]
        self.closed: OpenGroup[T] | None = None
        self.fills = 0

    def add(self, value: T, count: int, offset: int) -> None:
        """Add one value standing `count` times."""
        self.finish()
        self.groups[-1].items.append(Run(value, count, offset))
        self.lengthen(count, offset)

    def lengthen(self, count: int, offset: int) -> None:
        """Count values of the innermost group; refuse more than 100,000."""
        group = self.groups[-1]
        group.length += count
        if group.length > LONGEST:
            raise NotationError(
                f"the sequence is longer than {LONGEST:,}",
                "write fewer repeats",
                offset,
                code="sequence-too-long",
            )

    def open(self, offset: int) -> None:
        """Open a bracket."""
        self.finish()
        if len(self.groups) > DEEPEST:
            message = f"the brackets are nested deeper than {DEEPEST}"
            raise NotationError(message, "use fewer", offset, code="nested-too-deep")
        self.groups.append(OpenGroup(offset))

    def close(self, offset: int) -> None:
        """Close the innermost bracket; its number of times may follow."""
        self.finish()
        if len(self.groups) == 1:
            raise NotationError(
                "this bracket closes nothing",
                "delete it, or open a bracket before it",
                offset,
                code="unbalanced-brackets",
            )
        group = self.groups.pop()
        if not group.items:
            message = "there is nothing between the brackets"
            raise NotationError(message, "fill or delete them", group.offset, code="empty-group")
        self.closed = group

    def repeat(self, times: int | None, offset: int) -> None:
        """End the group just closed with its number of times, None for `to fill`."""
        group = self.closed
        word = "to fill" if times is None else f"x {times}"
        if group is None and len(self.groups) > 1:
            message = f"this bracket is not closed before `{word}`"
            mend = f"close it, or put what is repeated in brackets: (...) {word}"
            at = self.groups[-1].offset
            raise NotationError(message, mend, at, code="unbalanced-brackets")
        if group is None:
            message = f"`{word}` does not stand after a bracket"
            mend = f"put what is repeated in brackets: (...) {word}"
            raise NotationError(message, mend, offset, code="repeat-without-brackets")
        if times is None:
            self.check_fill(offset)
        elif times == 0:
            message = "a group woven no times at all"
            raise NotationError(message, "delete it, or write x 1", offset, code="repeat-of-zero")
        self.closed = None
        self.groups[-1].items.append(Repeat(tuple(group.items), times, group.offset))
        self.lengthen(group.length * (times or 0), offset)

    def check_fill(self, offset: int) -> None:
        """Refuse a second group to fill, and one inside another group."""
        if len(self.groups) > 1:
            raise NotationError(
                "a group to fill stands inside another group",
                "only an outermost group can fill",
                offset,
                code="fill-inside-group",
            )
        self.fills += 1
        if self.fills > 1:
            raise NotationError(
                "two groups stand to fill, and only one can",
                "give one of them a number",
                offset,
                code="two-fills",
            )

    def finish(self) -> None:
        """Let a group that closed without a number stand once."""
        if self.closed is not None:
            self.repeat(1, self.closed.offset)

    def sequence(self) -> Sequence[T]:
        """Return the whole, once every bracket is closed."""
        self.finish()
        if len(self.groups) > 1:
            raise NotationError(
                "this bracket is never closed",
                "close it with )",
                self.groups[-1].offset,
                code="unbalanced-brackets",
            )
        if not self.groups[0].items:
            raise NotationError(
                "the sequence is empty", "write at least one item", 0, code="empty-sequence"
            )
        return Sequence(tuple(self.groups[0].items))
