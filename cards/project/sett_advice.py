"""What a sett comes to: how close threads lie, beside the closest that weave and yarn allow."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from cards.calculation.cover import cloth_cover
from cards.calculation.sett import UseRange, is_far_off
from cards.draft.interlacing import Interlacing

# Weaves whose setts differ by less than this, as a share, are taken for one.
ALIKE: Final = 0.02


@dataclass(frozen=True, slots=True)
class YarnIn:
    """A yarn, by its key, in one layer, and how many threads of it there are."""

    key: str
    threads: int


@dataclass(frozen=True, slots=True)
class Threads:
    """The ends or the picks of one layer: yarns, intersections, mean diameter in mm, densities.

    `density` is threads to a mm on the loom, `most` the closest that they could lie there; `cover`
    is their cover factor.
    """

    yarns: tuple[YarnIn, ...]
    interlacing: Interlacing
    diameter: float
    density: float
    most: float
    cover: float

    @property
    def share(self) -> float:
        """How close they lie, as a share of the closest."""
        return self.density / self.most


@dataclass(frozen=True, slots=True)
class LayerAdvice:
    """One layer, counted from 0 at the top; `lane` is which of the piece's warps it is.

    `by_wraps` is the ends to a mm that the wraps of its warp advise, None where they are not known.
    """

    layer: int
    lane: int
    ends: Threads
    picks: Threads
    by_wraps: float | None

    @property
    def cover(self) -> float:
        """Cover factor of its cloth."""
        return cloth_cover(self.ends.cover, self.picks.cover)


@dataclass(frozen=True, slots=True)
class WeaveAdvice:
    """Sections, by name, that interlace alike, their picks, and their layers from the top down.

    The layers are those of the longest of the sections.
    """

    sections: tuple[str, ...]
    picks: int
    layers: tuple[LayerAdvice, ...]

    @property
    def share(self) -> float:
        """How close the ends of its closest layer lie, as a share of the closest."""
        return max(layer.ends.share for layer in self.layers)


@dataclass(frozen=True, slots=True)
class SettAdvice:
    """What the sett comes to: the weaves of a piece, the main one first, and the use, if told."""

    use: UseRange | None
    weaves: tuple[WeaveAdvice, ...]

    @property
    def layers(self) -> tuple[LayerAdvice, ...]:
        """The layers of the main weave; none where nothing interlaces."""
        return self.weaves[0].layers if self.weaves else ()

    @property
    def closer(self) -> tuple[WeaveAdvice, ...]:
        """The other weaves in which the same sett is closer than in the main one."""
        main = self.weaves[0].share if self.weaves else 0.0
        return tuple(each for each in self.weaves[1:] if each.share > main * (1 + ALIKE))

    @property
    def far_off(self) -> tuple[LayerAdvice, ...]:
        """The layers whose sett is far from what their use wants, or from that of any cloth."""
        return tuple(each for each in self.layers if is_far_off(each.ends.share, self.use))
