"""Checks of looms that need no draft: heddles, pairs, reeds and names.

The further looms of a spec are checked one by one when each is taken as its loom; those of a file
of looms and yarns where they stand.
"""

from __future__ import annotations

from cards.spec.models import Loom
from cards.spec.parts import Parts
from cards.spec.places import Step
from cards.spec.quoting import shortened
from cards.spec.words import plain_name

# Everything is worked out for each of them, and that takes its time.
MOST_LOOMS = 20


def check_loom(parts: Parts, loom: Loom, *path: Step) -> None:
    """Tell what in the description of a loom, which stands at `path`, does not go together."""
    _check_heddles(parts, loom, path)
    _check_pairs(parts, loom, path)
    _check_reeds(parts, loom, path)


def check_further_looms(parts: Parts) -> None:
    """Tell further looms of a spec that are too many, and what `check_looms` tells."""
    if len(parts.looms) > MOST_LOOMS:
        message = f"{len(parts.looms)} further looms, and cards are printed for {MOST_LOOMS}"
        mend = "write those that are used now; `--loom` takes any other of a file"
        parts.tell_key("error", "too-many", message, mend, "looms")
        return
    check_looms(parts)


def check_looms(parts: Parts) -> None:
    """Tell looms of a list without a name of their own: it stands on their cards."""
    taken = {plain_name(parts.loom.name)} if parts.loom is not None and parts.loom.name else set()
    for position, loom in enumerate(parts.looms):
        if not parts.sound("looms", position, "name"):
            continue
        if loom.name is None:
            message, mend = "a loom of `looms` has no name", "add `name: class loom 2`"
            parts.tell("error", "nameless-loom", message, mend, "looms", position)
            continue
        if plain_name(loom.name) in taken and parts.sound("loom"):
            message = f"the loom '{shortened(loom.name)}' stands here twice"
            mend = "leave it out, or give it another name"
            parts.tell("error", "loom-twice", message, mend, "looms", position)
        taken.add(plain_name(loom.name))


def _check_heddles(parts: Parts, loom: Loom, path: tuple[Step, ...]) -> None:
    if not isinstance(loom.heddles, tuple):
        return
    if len(loom.heddles) == loom.shafts:
        if not any(loom.heddles):
            message, mend = "no shaft has a heddle", "write how many there are, or leave it out"
            parts.tell("error", "no-heddles", message, mend, *path, "heddles")
        return
    message = f"{len(loom.heddles)} numbers of heddles for {loom.shafts} shafts"
    mend = "write one number a shaft, or a single one for all"
    parts.tell("error", "heddles-mismatch", message, mend, *path, "heddles")


def _check_pairs(parts: Parts, loom: Loom, path: tuple[Step, ...]) -> None:
    if loom.pairs is None or not parts.sound(*path, "shafts"):
        return
    beyond = [shaft for pair in loom.pairs for shaft in pair if shaft > loom.shafts]
    if beyond:
        message = f"shaft {beyond[0]} hangs in a pair, but the loom has {loom.shafts} shafts"
        mend = "write pairs of its shafts, such as 1 2, 3 4"
        parts.tell("error", "shaft-beyond-loom", message, mend, *path, "pairs")


def _check_reeds(parts: Parts, loom: Loom, path: tuple[Step, ...]) -> None:
    reeds = loom.reeds or ()
    for place, reed in enumerate(reeds):
        twin = next((each for each in reeds[:place] if abs(each / reed - 1) < 1e-9), None)
        if twin is not None:
            message = f"reed {place + 1} of the list stands there before"
            mend = "write every reed once"
            parts.tell("warning", "reed-twice", message, mend, *path, "reeds", place)
