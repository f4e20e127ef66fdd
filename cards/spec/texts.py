"""Free texts of a spec: those that are printed in a line, and those that may be long.

Every text is limited, so that no sheet has to set an endless one.
"""

from __future__ import annotations

import re

from cards.spec.refusal import NotationError
from cards.spec.words import text_of

MOST_IN_A_TITLE = 200
MOST_IN_A_NAME = 120
MOST_IN_A_NOTE = 1_000
MOST_IN_A_PASSAGE = 20_000
_BREAK = re.compile(r"[ \t\r\n]*[\t\r\n][ \t\r\n]*")


def read_line(value: object, most: int) -> str:
    """Return a text that is printed in a line; a tab or a line break becomes one space.

    Raises NotationError when it is empty or has more than `most` characters.
    """
    return _limited(_BREAK.sub(" ", text_of(value, "plain text").strip()), most)


def read_passage(value: object) -> str:
    """Return a text of several lines; refuse an empty or an endless one."""
    text = text_of(value, "plain text").strip()
    return _limited(text.replace("\r\n", "\n").replace("\r", "\n"), MOST_IN_A_PASSAGE)


def _limited(text: str, most: int) -> str:
    if not text:
        raise NotationError("the text is empty", "write it or leave the key out", code="empty-text")
    if len(text) > most:
        message = f"the text has {len(text):,} characters, and {most:,} are the most"
        raise NotationError(message, "shorten it", code="text-too-long")
    return text
