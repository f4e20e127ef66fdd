"""What a yarn is spun from: one fibre, or the shares of a blend, which make up the whole yarn.

A list without shares is refused: a blend behaves as what there is most of, or takes most.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from cards.spec.notation import parse_percent
from cards.spec.quoting import shortened
from cards.spec.refusal import NotationError
from cards.spec.words import in_words, read_choice

FIBRES: Final = ("cotton", "linen", "worsted", "woollen", "woollen fulled", "silk", "alpaca")
# Mixed of nobody knows what.
BLEND: Final = "blend"
_WHOLE_WITHIN = 1e-6


@dataclass(frozen=True, slots=True)
class Fibre:
    """The fibres of a yarn with their shares of one, in the order in which they are written."""

    shares: tuple[tuple[str, float], ...]

    @property
    def names(self) -> tuple[str, ...]:
        """What the yarn is spun from."""
        return tuple(name for name, _ in self.shares)

    @property
    def text(self) -> str:
        """The fibre in words, such as `silk` or `60 % cotton, 40 % linen`."""
        if len(self.shares) == 1:
            return self.names[0]
        return ", ".join(f"{share * 100:.4g} % {name}" for name, share in self.shares)


def parse_fibre(value: object) -> Fibre:
    """Return a fibre such as `cotton`, or a blend such as `{cotton: 60 %, linen: 40 %}`.

    Raises NotationError for an unknown fibre, and for shares that do not make up the whole.
    """
    if isinstance(value, dict):
        return _blend(value)
    names = _listed(value)
    if len(names) > 1:
        even = ", ".join(
            f"{name}: {_even(len(names), place)} %" for place, name in enumerate(names)
        )
        message = "of several fibres the shares must be told"
        mend = f"write them as {{{even}}}, with the shares that they have"
        raise NotationError(message, mend, code="blend-without-shares")
    return Fibre(((read_choice(value, (*FIBRES, BLEND), "fibre"), 1.0),))


def _listed(value: object) -> list[str]:
    """Return the fibres of a list, which is how blends are not written."""
    words = list(value) if isinstance(value, (list, tuple)) else [value]
    texts = [each for each in words if isinstance(each, str)]
    if len(texts) == 1 == len(words):
        texts = re.split(r"[,+/&;]|\band\b", texts[0])
    if len(texts) < len(words) or len(texts) > len(FIBRES):
        return []
    bare = [re.sub(r"[\d.\s]*(?:%|per ?cent)|[:\s]+$", "", each).strip() for each in texts]
    return [shortened(each) for each in bare if each]


def _even(number: int, place: int) -> int:
    """Return an even share in percent; the first takes what is left over."""
    each = 100 // number
    return each if place else 100 - each * (number - 1)


def _blend(value: dict[object, object]) -> Fibre:
    shares: dict[str, float] = {}
    for key, each in value.items():
        written = str(key)
        name = _component(written)
        if name in shares:
            message, mend = f"'{name}' stands twice in the blend", "add its shares up"
            raise NotationError(message, mend, code="bad-blend", path=(written,))
        shares[name] = _share(each, written)
    if len(shares) < 2:
        message = "a blend has two fibres or more"
        mend = f"write `fibre: {in_words(shares)}`" if shares else "write `fibre: cotton`"
        raise NotationError(message, mend, code="bad-blend")
    whole = sum(shares.values()) * 100
    if abs(whole - 100) > _WHOLE_WITHIN:
        message = f"the shares of the blend make up {whole:.6g} %"
        apart = f"{abs(100 - whole):.6g} %"
        mend = f"take {apart} off" if whole > 100 else f"add the {apart} that are missing"
        raise NotationError(message, mend, code="blend-not-whole")
    return Fibre(tuple(shares.items()))


def _component(written: str) -> str:
    try:
        return read_choice(written, FIBRES, "fibre")
    except NotationError as error:
        raise NotationError(error.message, error.mend, code=error.code, path=(written,)) from None


def _share(value: object, written: str) -> float:
    try:
        share = parse_percent(value, most=100)
    except NotationError as error:
        raise NotationError(
            error.message, error.mend, error.offset, code=error.code, path=(written, *error.path)
        ) from None
    if not share:
        message, mend = f"there is no {shortened(written)} in it", "leave it out"
        raise NotationError(message, mend, code="zero", path=(written,))
    return share
