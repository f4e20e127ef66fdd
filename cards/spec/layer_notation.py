"""The notation of layered drafts: joins, weaves of one layer, the stack, ratios, yarns by layer."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final, Literal, TypeVar

from cards.sequence import Sequence
from cards.spec.quoting import shortened
from cards.spec.refusal import NotationError
from cards.spec.sequences import parse_lifts, parse_threading
from cards.spec.words import near_miss, read_numbers, read_yarn_name, suggestion, text_of

T = TypeVar("T")
Side = Literal["left", "right"]
JoinName = Literal["none", "tube", "left", "right", "closed", "pairs"]

MOST_LAYERS: Final = 8
_JOINS = ("none", "tube", "left", "right", "closed")
_PAIR = re.compile(r"\s*(\d+)\s*(?:-|–|and|to|\s)\s*(\d+)\s+(left|right)\s*", re.IGNORECASE)
_TWILL = re.compile(r"([1-9])\s*/\s*([1-9])\s+(twill|basket)", re.IGNORECASE)
_WEAVES = ("plain", "2/2 twill", "1/3 twill", "3/1 twill", "1/2 twill", "2/1 twill", "2/2 basket")
_WEAVE_KEYS = ("name", "threading", "lifts")
_MOST_IN_A_WEAVE = 400


@dataclass(frozen=True, slots=True)
class JoinText:
    """How layers are joined: by a name, or as `pairs` of layers, from 1, with their side."""

    name: JoinName
    pairs: tuple[tuple[int, int, Side], ...] = ()


@dataclass(frozen=True, slots=True)
class WeaveText:
    """The weave of one layer on shafts of its own, from 1."""

    name: str
    threading: tuple[int, ...]
    lifts: tuple[frozenset[int], ...]


def parse_join(value: object) -> JoinText:
    """Return a join such as `left`, `tube`, or `1-2 left, 2-3 right`, also as a list."""
    if isinstance(value, (list, tuple)):
        return JoinText("pairs", tuple(_pair_in_list(each, at) for at, each in enumerate(value)))
    text = text_of(value, "a join such as left, tube, or 1-2 left, 2-3 right")
    word = " ".join(text.lower().split())
    if word in _JOINS:
        return JoinText(word)  # type: ignore[arg-type]  # it is one of the names
    if not re.match(r"\s*\d", text):
        message = f"unknown join '{shortened(text)}'"
        mend = suggestion(word, _JOINS)
        if near_miss(word, _JOINS) is None:
            mend += ", or pairs of layers such as `1-2 left, 2-3 right`"
        raise NotationError(message, mend, code="unknown-choice")
    pairs, at = [], 0
    for part in text.split(","):
        pairs.append(_pair(part, at))
        at += len(part) + 1
    return JoinText("pairs", tuple(pairs))


def _pair_in_list(value: object, place: int) -> tuple[int, int, Side]:
    try:
        return _pair(text_of(value, "a join such as 1-2 left"), 0)
    except NotationError as error:
        path = (place, *error.path)
        raise NotationError(
            error.message, error.mend, error.offset, code=error.code, path=path
        ) from None


def _pair(text: str, offset: int) -> tuple[int, int, Side]:
    found = _PAIR.fullmatch(text)
    if found is None:
        offset += len(text) - len(text.lstrip())
        message = f"`{shortened(text.strip())}` is not a join of two layers"
        mend = "write both layers and the side, such as `1-2 left`"
        raise NotationError(message, mend, offset, code="bad-join")
    side: Side = "left" if found[3].lower() == "left" else "right"
    one, two = (int(number) if len(number) < 4 else 9999 for number in (found[1], found[2]))
    return one, two, side


def parse_weaves(value: object) -> tuple[WeaveText, ...]:
    """Return the weave of all layers, or one each: names, or threading and lifts of one's own."""
    if not isinstance(value, (list, tuple)):
        return (_weave(value),)
    weaves = []
    for place, each in enumerate(value):
        try:
            weaves.append(_weave(each))
        except NotationError as error:
            path = (place, *error.path)
            raise NotationError(
                error.message, error.mend, error.offset, code=error.code, path=path
            ) from None
    return tuple(weaves)


def _weave(value: object) -> WeaveText:
    if isinstance(value, dict):
        return _own_weave(value)
    text = text_of(value, "a weave such as plain or 2/2 twill")
    word = " ".join(text.lower().split())
    if word == "plain":
        return WeaveText("plain", (1, 2), (frozenset({1}), frozenset({2})))
    found = _TWILL.fullmatch(word)
    if found is None:
        message = f"unknown weave '{shortened(text)}'"
        mend = suggestion(word, _WEAVES)
        if near_miss(word, _WEAVES) is None:
            mend += ", or give `threading` and `lifts` of its own"
        raise NotationError(message, mend, code="unknown-choice")
    up, down = int(found[1]), int(found[2])
    if found[3] == "twill":
        return _twill(up, down)
    threading = (1,) * up + (2,) * down
    lifts = (frozenset({1}),) * up + (frozenset({2}),) * down
    return WeaveText(f"{up}/{down} basket", threading, lifts)


def _twill(up: int, down: int) -> WeaveText:
    """Return a twill: each end over `up` picks, under `down`, one pick later than the one before.

    The definition of a regular twill.
    """
    ends = up + down
    lifts = tuple(frozenset((pick + step) % ends + 1 for step in range(up)) for pick in range(ends))
    return WeaveText(f"{up}/{down} twill", tuple(range(1, ends + 1)), lifts)


def _own_weave(value: dict[object, object]) -> WeaveText:
    for key in value:
        if key not in _WEAVE_KEYS:
            name = str(key)
            mend = suggestion(name, _WEAVE_KEYS)
            message = f"unknown key '{shortened(name)}'"
            raise NotationError(message, mend, code="unknown-key", path=(name,))
    for key in ("threading", "lifts"):
        if value.get(key) is None:
            message = f"the weave of a layer needs '{key}'"
            mend = 'write `{threading: "1 2 3", lifts: "1; 2; 3"}`'
            raise NotationError(message, mend, code="missing-key")
    threading = _whole("threading", parse_threading, value["threading"])
    lifts = _whole("lifts", parse_lifts, value["lifts"])
    name = text_of(value.get("name") or "its own weave", "a name").strip()[:60]
    _check_own(threading, lifts)
    return WeaveText(name, tuple(threading), tuple(lifts))


def _whole(key: str, reader: Callable[[object], Sequence[T]], value: object) -> list[T]:
    try:
        sequence = reader(value)
    except NotationError as error:
        raise NotationError(
            error.message, error.mend, error.offset, code=error.code, path=(key,)
        ) from None
    if sequence.fill is not None or not 0 < sequence.length <= _MOST_IN_A_WEAVE:
        message = f"the {key} of a layer's weave is one repeat, of {_MOST_IN_A_WEAVE} at most"
        raise NotationError(message, "write one repeat", code="bad-weave", path=(key,))
    return sequence.values()


def _check_own(threading: list[int], lifts: list[frozenset[int]]) -> None:
    used = set(threading)
    missing = sorted(set(range(1, max(used) + 1)) - used)
    if missing:
        message = f"no end of this weave is on its shaft {missing[0]}"
        mend = "number the shafts of a layer's own weave from 1 on, without gaps"
        raise NotationError(message, mend, code="bad-weave", path=("threading",))
    beyond = sorted(set().union(*lifts) - used)
    if beyond:
        message = f"this weave raises shaft {beyond[0]}, on which it has no end"
        mend = f"raise its own shafts, 1 to {max(used)}"
        raise NotationError(message, mend, code="bad-weave", path=("lifts",))
    _check_binds(used, lifts)


def _check_binds(used: set[int], lifts: list[frozenset[int]]) -> None:
    """Whether every pick has ends over and under it, and every end picks."""
    message = ""
    for pick, lift in enumerate(lifts, start=1):
        if not lift or lift == used:
            raised = "nothing" if not lift else "every end"
            message = f"pick {pick} of this weave raises {raised} of its layer, and lies loose"
    for shaft in used:
        times = sum(shaft in lift for lift in lifts)
        if not message and times in {0, len(lifts)}:
            often = "never" if times == 0 else "always"
            message = f"shaft {shaft} of this weave is {often} raised, so its ends lie loose"
    if message:
        mend = "each end must lie over some picks and under others, and each pick likewise"
        raise NotationError(message, mend, code="bad-weave", path=("lifts",))


def parse_ratio(value: object) -> tuple[int, ...]:
    """Return the ends of each layer in a round, such as `2 1` or `2:1`."""
    if isinstance(value, str):
        value = value.replace(":", " ")
    return read_numbers(value, "ends in a round", 12)


def parse_layer_yarns(value: object) -> tuple[str, ...]:
    """Return one yarn for all layers, or a list with one each."""
    if isinstance(value, (list, tuple)):
        names = []
        for place, each in enumerate(value):
            try:
                names.append(read_yarn_name(each))
            except NotationError as error:
                raise NotationError(
                    error.message, error.mend, error.offset, code=error.code, path=(place,)
                ) from None
        return tuple(names)
    return (read_yarn_name(value),)
