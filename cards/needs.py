"""What a reader of the sheets needs that not every reader does.

Each need changes how a sheet is drawn, never what it says: the figures are those of the plan.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

LARGE_PRINT = "large print"
LEFT_HANDED = "left-handed"
GREY = "grey"
NEEDS = (LARGE_PRINT, LEFT_HANDED, GREY)


@dataclass(frozen=True, slots=True)
class Needs:
    """Type of twice the size; all that has a side mirrored; hatches and black ink alone."""

    large_print: bool = False
    left_handed: bool = False
    grey: bool = False

    @classmethod
    def of(cls, names: Iterable[str]) -> Needs:
        """Take needs by their names.

        >>> Needs.of(["grey"])
        Needs(large_print=False, left_handed=False, grey=True)
        """
        known = set(names)
        return cls(LARGE_PRINT in known, LEFT_HANDED in known, GREY in known)

    @property
    def names(self) -> tuple[str, ...]:
        """The names of all that is needed, always in one order.

        >>> Needs(grey=True, large_print=True).names
        ('large print', 'grey')
        """
        given = (self.large_print, self.left_handed, self.grey)
        return tuple(name for name, need in zip(NEEDS, given, strict=True) if need)

    @property
    def words(self) -> str:
        """All that is needed in words, empty for none."""
        return ", ".join(self.names)

    @property
    def suffix(self) -> str:
        """What the name of a file says of the needs for which it is printed.

        >>> Needs(large_print=True, grey=True).suffix
        '.large-print.grey'
        """
        return "".join(f".{name.replace(' ', '-')}" for name in self.names)


NONE = Needs()
