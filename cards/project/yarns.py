"""The yarns of a project: sizes as tex, a letter each, a colour and a hatch each."""

from __future__ import annotations

import string
from collections.abc import Mapping

from cards.calculation.yarn_need import PutUp
from cards.calculation.yarn_size import tex_of, tex_of_label
from cards.cloth_words import layer_letter
from cards.project.model import ProjectYarn
from cards.project.problems import Problems
from cards.spec import Spec, Yarn

# Yarns without a colour of their own: light to dark, apart in grey as well as in hue.
_COLOURS = ("#e8dcc0", "#44546a", "#b4552d", "#7a9a78", "#2b2b2b", "#c9a227", "#7d8fa9", "#6b3a4f")

# A label and a count that differ by more than this are probably not the same yarn.
_LABEL_TOLERANCE = 0.05


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
    price = yarn.price
    put_up = yarn.put_up
    tex = _tex(key, yarn, problems)
    return ProjectYarn(
        key=key,
        name=yarn.name or key.replace("_", " ").replace("-", " "),
        letter=letter,
        colour=yarn.colour or _COLOURS[index % len(_COLOURS)],
        hatch=index,
        fibre=yarn.fibre,
        tex=tex,
        size=yarn.size.text if yarn.size else yarn.label.text if yarn.label else "",
        put_up=PutUp(
            mass=put_up.mass if put_up else None,
            length=put_up.length if put_up else None,
            price=price.amount if price else None,
        ),
        put_up_text=put_up.text if put_up else "",
        currency=price.currency if price else "",
        on_hand=_on_hand(yarn, tex),
        lot=yarn.lot or "",
    )


def _on_hand(yarn: Yarn, tex: float) -> float:
    """Return the g on the shelf, also of yarn that was measured by its length."""
    there = yarn.on_hand
    if there is None:
        return 0.0
    return there.mass if there.mass is not None else (there.length or 0.0) * tex / 1e6


def _tex(key: str, yarn: Yarn, problems: Problems) -> float:
    """Return the size in tex. The label wins over the count: it was measured on this yarn."""
    counted = tex_of(yarn.size.system, yarn.size.count, yarn.size.ply) if yarn.size else None
    if yarn.label is None:
        if counted is None:
            raise problems.stop(
                "yarn-without-size",
                f"yarn '{key}' has neither a size nor a label",
                "add `size: Ne 8/2` or `label: 590 m per 100 g`",
                "yarns",
                key,
            )
        return counted
    labelled = tex_of_label(yarn.label.length, yarn.label.mass)
    if counted is not None and abs(counted / labelled - 1) > _LABEL_TOLERANCE:
        problems.warning(
            "label-against-size",
            f"the label of '{key}' makes it {labelled:.0f} tex, its size {counted:.0f} tex",
            "the label is used; correct whichever is wrong, or leave the size out",
            "yarns",
            key,
            "label",
        )
    return labelled
