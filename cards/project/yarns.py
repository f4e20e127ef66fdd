"""The yarns of a project: a letter each, a colour and a hatch each; their sizes in `sizes`."""

from __future__ import annotations

import string
from collections.abc import Mapping

from cards.calculation.yarn_need import PutUp
from cards.cloth_words import layer_letter
from cards.project.model import ProjectYarn
from cards.project.problems import Problems
from cards.project.sizes import constant_of, size_of
from cards.spec import Spec, Yarn

# Yarns without a colour of their own: apart in grey, and to eyes that lack a kind of cone, by 8 of
# CIEDE2000 at least.
_COLOURS = ("#e8dcc0", "#44546a", "#b4552d", "#8da76f", "#1c1c1c", "#deb83b", "#7587a3", "#57283c")


def letters_for(yarns: Mapping[str, Yarn], layers: int = 1) -> dict[str, str]:
    """Return a letter for each yarn: its own, else the first free letter of its key.

    The letters of the layers, if there are several, are not taken for yarns.
    """
    letters = {key: yarn.letter for key, yarn in yarns.items() if yarn.letter}
    taken = {letter.upper() for letter in letters.values()}
    taken |= {layer_letter(lane) for lane in range(layers)} if layers > 1 else set()
    for key in yarns:
        if key in letters:
            continue
        wanted = [char.upper() for char in key if char.isascii() and char.isalpha()]
        # I and O are left out of the spare letters: they are misread as 1 and 0.
        spare = [char for char in string.ascii_uppercase if char not in "IO"]
        pairs = [f"{first}{second}" for second in (*"123456789", *spare) for first in spare]
        letter = next((each for each in (*wanted, *spare, *pairs) if each not in taken), "??")
        letters[key] = letter
        taken.add(letter)
    return letters


def project_yarns(spec: Spec, problems: Problems) -> tuple[ProjectYarn, ...]:
    """Return every yarn of the spec, in its order."""
    built = spec.draft.double_weave
    letters = letters_for(spec.yarns, built.layers if built else spec.expect.layers or 1)
    return tuple(
        _project_yarn(key, yarn, letters[key], index, problems)
        for index, (key, yarn) in enumerate(spec.yarns.items())
    )


def _project_yarn(key: str, yarn: Yarn, letter: str, index: int, problems: Problems) -> ProjectYarn:
    price, own = yarn.price, _COLOURS[index % len(_COLOURS)]
    size = size_of(key, yarn, problems)
    put_up = yarn.put_up
    return ProjectYarn(
        key=key,
        name=yarn.name or key.replace("_", " ").replace("-", " "),
        letter=letter,
        colour=yarn.colour or own,
        shade=yarn.shade or own,
        hatch=index,
        fibre=yarn.fibre.text if yarn.fibre else None,
        tex=size.tex,
        size=size.text,
        put_up=PutUp(
            mass=put_up.mass if put_up else None,
            length=put_up.length if put_up else None,
            price=price.amount if price else None,
        ),
        put_up_text=put_up.text if put_up else "",
        currency=price.currency if price else "",
        on_hand=_on_hand(yarn, size.tex),
        lot=yarn.lot or "",
        ashenhurst=constant_of(yarn),
        wraps=yarn.wraps,
        estimated=size.estimated,
    )


def _on_hand(yarn: Yarn, tex: float) -> float:
    """Return the g on the shelf, also of yarn that was measured by its length."""
    there = yarn.on_hand
    if there is None:
        return 0.0
    return there.mass if there.mass is not None else (there.length or 0.0) * tex / 1e6
