"""How yarns are told apart in pictures of cloth: by their colours, or in black and white.

Without colours the lightest yarn of a picture is white and the darkest black, as they look in the
cloth; those between have the hatch of their patch. Cells and threads are too small for hatches
alone.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from cards.project.model import ProjectYarn
from layouts.drawing import BLACK, WHITE, Mark
from layouts.patch import hatched, luminance
from layouts.sheets.parts import hatch_of


@dataclass(frozen=True, slots=True)
class Shade:
    """The ground of a yarn in a picture, and the hatch on it, 0 for none."""

    fill: str
    hatch: int = 0

    @property
    def words(self) -> str:
        """What the shade is called."""
        return "hatched" if self.hatch else "black" if self.fill == BLACK else "white"

    def hatching(self, x: float, y: float, width: float, height: float) -> tuple[Mark, ...]:
        """Return the hatch over a part of a picture that shows the yarn."""
        return hatched(x, y, width, height, self.hatch) if self.hatch else ()


def shades_of(yarns: Iterable[ProjectYarn]) -> dict[str, Shade]:
    """Return the shade of every yarn of a picture by its key."""
    each = list({yarn.key: yarn for yarn in yarns}.values())
    if not _colourless(each) or len(each) == 1:
        return {yarn.key: Shade(yarn.colour) for yarn in each}
    light, *between, dark = sorted(each, key=lambda yarn: -luminance(yarn.shade))
    found = {yarn.key: Shade(WHITE, hatch_of(yarn)) for yarn in between}
    return {light.key: Shade(WHITE), **found, dark.key: Shade(BLACK)}


def shade_words(yarns: Iterable[ProjectYarn]) -> str:
    """Return which yarn has which shade, empty where colours tell them."""
    each = list({yarn.key: yarn for yarn in yarns}.values())
    if not _colourless(each) or len(each) == 1:
        return ""
    shades = shades_of(each)
    return ", ".join(f"{yarn.letter} {shades[yarn.key].words}" for yarn in each)


def _colourless(yarns: Iterable[ProjectYarn]) -> bool:
    return any(yarn.colour != yarn.shade for yarn in yarns)
