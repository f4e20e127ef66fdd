"""Places along a line in reading order: from the left, or mirrored, as ends are threaded.

Everything that reads along a line asks here where it goes, so that turning round is one thing.
"""

from __future__ import annotations

from dataclasses import dataclass

from layouts.drawing import Anchor


@dataclass(frozen=True, slots=True)
class Across:
    """A line from `x` on, `width` mm wide; `u` is the distance from where reading starts."""

    x: float
    width: float
    mirrored: bool

    def part(self, u: float, width: float) -> Across:
        """Return a part of the line that begins at `u`, read the same way."""
        return Across(self.left(u, width), width, self.mirrored)

    def left(self, u: float, width: float = 0.0) -> float:
        """Return the x of the left edge of something `width` mm wide."""
        return self.x + self.width - u - width if self.mirrored else self.x + u

    def anchor(self, anchor: Anchor) -> Anchor:
        """Return the anchor that keeps text on its side."""
        if not self.mirrored or anchor == "middle":
            return anchor
        return "end" if anchor == "start" else "start"
