"""Checks of the text of a pattern that need no plan: braces that open and close, stages to do."""

from __future__ import annotations

from cards.spec.braces import parts_of
from cards.spec.findings import Finding
from cards.spec.parts import Parts
from cards.spec.pattern_models import pattern_texts
from cards.spec.quoting import shortened
from cards.spec.refusal import NotationError

_MOST_TOLD = 50


def check_pattern(parts: Parts) -> None:
    """Note braces that cannot be read, and stages without a step."""
    pattern = parts.pattern
    if pattern is None:
        return
    wrong: list[Finding] = []
    for path, text in pattern_texts(pattern):
        try:
            parts_of(text)
        except NotationError as error:
            place = parts.places.in_text(*path, text=text, offset=error.offset)
            wrong.append(Finding("error", error.code, error.message, error.mend, place))
    parts.findings += wrong[:_MOST_TOLD]
    for number, stage in enumerate(pattern.steps):
        path = ("pattern", "steps", number)
        if not stage.do and parts.sound(*path):
            message = f"the stage '{shortened(stage.stage)}' has no steps"
            mend = "write its sentences under `do`, or leave it out"
            parts.tell("error", "no-steps", message, mend, *path, "do")
