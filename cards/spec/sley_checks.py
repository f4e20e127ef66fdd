"""Checks of the sleying that need nothing worked out."""

from __future__ import annotations

from cards.spec.parts import Parts

_SETTINGS = ("pattern", "doubled", "fold_open", "fold_line")


def check_sley(parts: Parts) -> None:
    """Tell a sleying that has no reed."""
    sley, loom = parts.sley, parts.loom
    if sley is None or loom is None or not parts.sound("loom"):
        return
    if loom.reed is not None or loom.reeds:
        return
    given = [key for key in _SETTINGS if getattr(sley, key)]
    if given:
        message = f"`{given[0]}` says how to sley, and the loom has no reed"
        mend = "add `reed: 40 per 10 cm` or the list of your `reeds` to the loom"
        parts.tell("warning", "sley-without-reed", message, mend, "sley", given[0])
