"""Checks of the reeds and of the sleying that need nothing worked out."""

from __future__ import annotations

from cards.spec.parts import Parts

_SETTINGS = ("pattern", "doubled", "fold_open", "fold_line")


def check_sley(parts: Parts) -> None:
    """Tell reeds that stand twice in a list, and a sleying that has no reed."""
    _check_reeds(parts)
    _check_settings(parts)


def _check_reeds(parts: Parts) -> None:
    reeds = (parts.loom.reeds if parts.loom is not None else None) or ()
    for place, reed in enumerate(reeds):
        twin = next((each for each in reeds[:place] if abs(each / reed - 1) < 1e-9), None)
        if twin is not None:
            message = f"reed {place + 1} of the list stands there before"
            mend = "write every reed once"
            parts.tell("warning", "reed-twice", message, mend, "loom", "reeds", place)


def _check_settings(parts: Parts) -> None:
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
