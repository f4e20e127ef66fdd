"""An order that looks like chance and is always the same: that of the digests of a seed.

No generator of random numbers is used, whose numbers might be others in another version.
"""

from __future__ import annotations

from collections.abc import Sequence
from hashlib import sha256
from typing import TypeVar

from cards.project.model import Project

T = TypeVar("T")


def seed_of(project: Project, number: int, seed: int | None) -> str:
    """Return the seed of the exercise `number`: the one that was given, or of title and code."""
    if seed is not None:
        return str(seed)
    return f"{project.info.title}\n{project.info.code or ''}\n{number}"


def shuffled(things: Sequence[T], seed: str) -> list[T]:
    """Return things in an order that depends on the seed alone.

    >>> shuffled("abcd", "1") == shuffled("abcd", "1") != shuffled("abcd", "5")
    True
    """
    places = sorted(range(len(things)), key=lambda place: _digest(f"{seed}\n{place}"))
    return [things[place] for place in places]


def _digest(text: str) -> bytes:
    return sha256(text.encode("utf-8")).digest()
