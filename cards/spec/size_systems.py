"""The systems by which yarn is numbered, as a spec names them.

A name that may mean two systems is refused with both readings.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal, get_args

from cards.spec.quoting import shortened
from cards.spec.refusal import NotationError
from cards.spec.words import near_miss, suggestion, text_of

System = Literal[
    "Ne", "lea", "worsted", "Nm", "tex", "denier", "dram", "run", "cut", "skein", "Galashiels",
    "Nf", "dtex", "jute", "grain/20 yd", "grain/120 yd",
    "yd/lb", "yd/oz", "m/kg", "m/100 g", "m/50 g",
]  # fmt: skip
SYSTEMS: Final[tuple[System, ...]] = get_args(System)
SPELLINGS: Final[dict[str, System]] = {
    "ne": "Ne", "cotton": "Ne", "lea": "lea", "linen lea": "lea", "linen": "lea",
    "worsted": "worsted", "nm": "Nm", "tex": "tex", "denier": "denier", "den": "denier",
    "dram": "dram", "run": "run", "woollen run": "run", "cut": "cut", "woollen cut": "cut",
    "skein": "skein", "yorkshire skein": "skein", "galashiels": "Galashiels",
    "galashiels cut": "Galashiels", "nf": "Nf", "french": "Nf", "dtex": "dtex",
    "decitex": "dtex", "jute": "jute", "spyndle": "jute", "spindle": "jute",
}  # fmt: skip
# The length of the yarn as it stands, plies and all.
WHOLE: Final[frozenset[System]] = frozenset({"yd/lb", "yd/oz", "m/kg", "m/100 g", "m/50 g"})
GRAINS: Final[tuple[System, System]] = ("grain/20 yd", "grain/120 yd")
DIRECT: Final[frozenset[System]] = frozenset({"tex", "dtex", "denier", "dram", "jute", *GRAINS})
# British and worsted usage puts the ply first, the others the count (Taylor, Cotton Weaving and
# Designing, p. 200; trade usage otherwise).
PLY_FIRST: Final[frozenset[System]] = frozenset({"worsted"})


@dataclass(frozen=True, slots=True)
class SizeParts:
    """A yarn size taken apart; `count` in the units of its system, of one ply."""

    system: System
    count: float
    ply: int


def read_system(value: object) -> System:
    """Return the system that a mapping names, capitals aside."""
    text = text_of(value, "a yarn system such as Ne").strip()
    word = " ".join(text.lower().split())
    for system in SYSTEMS:
        if word == system.lower():
            return system
    if "silk" in word or word in {"grain", "grains"}:
        raise unknown_system(text, text, "")
    message = f"unknown yarn system '{shortened(text)}'"
    raise NotationError(message, suggestion(text, SYSTEMS), code="unknown-choice")


def unknown_system(word: str, text: str, number: str) -> NotationError:
    """Return the complaint about a name that is no system, or that may be two."""
    at = text.index(word)
    if "silk" in word.lower():
        message = "a silk count may be metric, of the single or of the folded yarn"
        mend = "write Nm 20/2, or Ne 20 for a folded count, or give the label"
        return NotationError(message, mend, at, code="ambiguous-size")
    if word.lower() in {"grain", "grains", "gr"}:
        many = f"{number} grains" if number else "grains"
        message = f"{many} may be those of 20 yd, as of woollen yarn, or of 120 yd, six times finer"
        some = f"{number} " if number else ""
        mend = f"write {some}grain/20 yd or {some}grain/120 yd"
        return NotationError(message, mend, at, code="ambiguous-size")
    close = near_miss(word, SPELLINGS)
    named = [system for system in SYSTEMS if system not in WHOLE]
    mend = f"did you mean {SPELLINGS[close]}?" if close else f"use {', '.join(named)}"
    return NotationError(
        f"unknown yarn system '{shortened(word)}'", mend, at, code="unknown-system"
    )
