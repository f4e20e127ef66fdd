"""The technical edit: numbers written out in a text that contradict the plan.

Few false alarms matter more than finding everything. A number is told of only when the words
beside it say plainly which figure of the plan it is, and it agrees with no figure of the plan of
that kind, be it rounded, in other units, of another loom or of a part. Sentences that speak of
what might be are left alone.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from cards.edit_rules import Held, Told, rule_for
from cards.mentions import Mention, mentions_in

# A word that makes the number behind it no exact figure, or one of something else.
_VAGUE_BEFORE: Final = re.compile(
    r"\b(?:every|each|another|about|around|roughly|approximately|approx\.?|nearly|almost|circa|at"
    r" least|at most|up to|more than|less than|fewer than|over|under|within|than|between|(?:in )?"
    r"(?:groups?|bundles?|blocks?|bunches|sets|pairs?|repeats?) of|first|last|next|other|middle|"
    r"after|not|instead of|rather than|from|some|say|maybe|perhaps|or|if|extra|spare|further|until"
    r"|by|of the|to|these|those)\s*(?:the\s+|an?\s+|only\s+)?$",
    re.IGNORECASE,
)
_VAGUE_AFTER: Final = re.compile(
    r"^\s*(?:at a time|at once|at the same time|apart|each\b|or\b|together|from\b|beyond|more\b|"
    r"less\b|fewer|extra|longer|shorter|wider|narrower|too\b|spare|as\b|further|on either|on both|"
    r"on each|at each|at either|at both|to spare|in turn|away|a day|"
    r"per day|on the (?:first|second|third|next|last)|to begin|to start)",
    re.IGNORECASE,
)
_MIGHT: Final = re.compile(
    r"\b(?:would|could|might|if you|instead|alternatively|another size|other sizes?|for example|"
    r"for instance|e\.g|such as|as many|twice as|half as|variation|larger|smaller|try|trying)\b",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Contradiction:
    """A number with which no figure of the plan agrees.

    `start` is where it begins in its text, `written` the number with its word, `told` the figures
    that the plan has instead.
    """

    start: int
    written: str
    told: Told


def contradictions(text: str, held: Held) -> Iterator[Contradiction]:
    """Yield the numbers of a text that contradict the plan against which it is held, in order."""
    for mention in mentions_in(_without_names(text)):
        if not _vague(mention) and (told := rule_for(mention, held)):
            yield Contradiction(mention.start, " ".join(mention.text.split()), told)


def _vague(mention: Mention) -> bool:
    sentence = f"{mention.before} {mention.text} {mention.after}"
    return bool(
        _VAGUE_BEFORE.search(mention.before)
        or _VAGUE_AFTER.search(mention.after)
        or _MIGHT.search(sentence)
    )


_NAMES: Final = re.compile(r"\{[^{}]*\}|\{\{|\}\}")


def _without_names(text: str) -> str:
    """Return a text of the same length in which figures by name are blank, for they are right."""
    return _NAMES.sub(lambda match: "\u25a1" * len(match[0]), text)
