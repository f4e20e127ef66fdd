"""Checks of the list of photographs."""

from __future__ import annotations

from cards.spec.parts import Parts
from cards.spec.photograph_models import MOST_PHOTOGRAPHS


def check_photographs(parts: Parts) -> None:
    """Note a list that is longer than a record can be."""
    number = len(parts.photographs)
    if number > MOST_PHOTOGRAPHS:
        message = f"there are {number} photographs, and {MOST_PHOTOGRAPHS} are the most"
        mend = "keep those that say most about the cloth"
        parts.tell("error", "too-many-photographs", message, mend, "photographs", MOST_PHOTOGRAPHS)
