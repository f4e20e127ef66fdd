"""Checks of a layered draft that is to be built: one of everything, or one for each layer."""

from __future__ import annotations

from cards.spec.layer_models import DoubleWeave
from cards.spec.models import Draft, Section
from cards.spec.parts import Parts, Path
from cards.spec.quoting import shortened
from cards.spec.words import suggestion

_PLANS = ("threading", "tie_up", "treadling", "lifts", "shuttles")
_SECTION_PLANS = ("treadling", "lifts", "shuttles")
_LAYERED = ("join", "stack", "wefts")


def check_built(parts: Parts, draft: Draft, built: DoubleWeave) -> None:
    """Note every finding about layers of which the draft is to be built."""
    _check_alone(parts, draft)
    _check_each(parts, built)
    for name in ("warps", "wefts"):
        _check_yarns(parts, getattr(built, name), ("draft", "double_weave", name))
    for position, section in enumerate(parts.weave):
        _check_section(parts, built, position, section)
    _check_edges(parts)
    _check_told_twice(parts, built)


def check_not_built(parts: Parts, draft: Draft) -> None:
    """Note what only a draft that is to be built may have, and that the threading is missing."""
    if draft.threading is None and parts.sound("draft"):
        mend = 'add `threading: "(1 2 3 4) to fill"`, or `double_weave: {layers: 2}`'
        parts.tell_key("error", "missing-key", "'threading' is missing in 'draft'", mend, "draft")
    for position, section in enumerate(parts.weave):
        for key in _LAYERED:
            if getattr(section, key) is not None:
                message = f"'{key}' belongs to layers that are built from `double_weave`"
                mend = "leave it out, or let the draft be built: `draft: {double_weave: {...}}`"
                parts.tell_key("error", "layers-not-built", message, mend, "weave", position, key)


def check_expected(parts: Parts) -> None:
    """Whether pieces are expected of a written draft without saying of how many layers."""
    built = parts.draft is not None and parts.draft.double_weave is not None
    if parts.expected_pieces and not parts.expected_layers and parts.draft and not built:
        message = "pieces are expected, and nothing is said of layers"
        mend = "add `layers: 2` (or how many there are) to `expect`"
        parts.tell_key("error", "pieces-without-layers", message, mend, "expect", "pieces")


def check_circumference(parts: Parts) -> None:
    """Whether a circumference stands alone, and belongs to a tube."""
    cloth = parts.cloth
    if cloth is None or cloth.circumference is None:
        return
    path = ("cloth", "circumference")
    if cloth.width is not None:
        message = "the cloth has both a width and a circumference"
        parts.tell_key("error", "two-widths", message, "keep one of them", *path)
    built = parts.draft.double_weave if parts.draft else None
    tube = built is not None and built.join.name in {"tube", "pairs"}
    if not tube and parts.expected_pieces != "tube" and parts.sound("draft"):
        message = "only a tube has a circumference"
        mend = "give the width of the cloth, or say `join: tube` in double_weave"
        parts.tell_key("error", "no-tube", message, mend, *path)


def _check_alone(parts: Parts, draft: Draft) -> None:
    for key in _PLANS:
        if getattr(draft, key) is not None:
            message = f"the draft is built from its layers, and has '{key}' beside them"
            mend = f"leave '{key}' out, or write the whole draft without `double_weave`"
            parts.tell_key("error", "two-drafts", message, mend, "draft", key)
    if parts.places.has("draft", "start"):
        message = "the draft is built from its layers, and has 'start' beside them"
        mend = "write `start` inside `double_weave`"
        parts.tell_key("error", "two-drafts", message, mend, "draft", "start")
    for position, section in enumerate(parts.weave):
        for key in _SECTION_PLANS:
            if getattr(section, key) is not None:
                name = shortened(section.section)
                message = f"section '{name}' has '{key}', and the draft is built from its layers"
                mend = "say how its layers are joined (`join`) or lie (`stack`) instead"
                parts.tell_key("error", "two-drafts", message, mend, "weave", position, key)


def _check_told_twice(parts: Parts, built: DoubleWeave) -> None:
    """Refuse yarns told by layer where an order of ends or picks tells them already."""
    told: list[tuple[Path, str]] = []
    if built.warps is not None and parts.warp_order is not None:
        told.append((("draft", "double_weave", "warps"), "the warp order names"))
    if built.wefts is not None and parts.weft_order is not None:
        told.append((("draft", "double_weave", "wefts"), "the weft order names"))
    told += [
        (("weave", position, "wefts"), "its order `weft` names")
        for position, section in enumerate(parts.weave)
        if section.wefts is not None and section.weft is not None
    ]
    for path, what in told:
        message = f"{what} the yarns, and so does '{path[-1]}'"
        parts.tell_key("error", "told-twice", message, "keep one of them", *path)


def _check_each(parts: Parts, built: DoubleWeave) -> None:
    """Whether lists have one item for all layers, or one each."""
    path: Path = ("draft", "double_weave")
    if not parts.sound(*path, "layers"):
        return
    for key, what in (("weave", "weaves"), ("warps", "warps"), ("wefts", "wefts")):
        found = getattr(built, key)
        if found is not None and len(found) not in {1, built.layers} and parts.sound(*path, key):
            _tell_number(parts, len(found), what, built.layers, (*path, key))
    if built.ratio and len(built.ratio) != built.layers:
        message = f"a ratio of {len(built.ratio)} numbers for {built.layers} layers"
        parts.tell("error", "layers-mismatch", message, "write one a layer", *path, "ratio")


def _tell_number(parts: Parts, number: int, what: str, layers: int, path: Path) -> None:
    message = f"{number} {what} for {layers} layers"
    parts.tell("error", "layers-mismatch", message, "give one for all, or one a layer", *path)


def _check_yarns(parts: Parts, names: tuple[str, ...] | None, path: Path) -> None:
    known = parts.places.keys("yarns")
    for place, name in enumerate(names or ()):
        if known and name not in known:
            message = f"there is no yarn '{shortened(name)}'"
            listed = parts.places.has(*parts.where((*path, place)))
            where = (*path, place) if listed else path
            parts.tell("error", "unknown-yarn", message, suggestion(name, known), *where)


def _check_section(parts: Parts, built: DoubleWeave, position: int, section: Section) -> None:
    path: Path = ("weave", position)
    stack = section.stack
    if stack is not None and sorted(stack) != list(range(1, built.layers + 1)):
        message = f"the stack does not name each of the {built.layers} layers once"
        mend = f"write them from the top down, such as {_reversed(built.layers)}"
        parts.tell("error", "bad-stack", message, mend, *path, "stack")
    if section.wefts is not None and len(section.wefts) not in {1, built.layers}:
        _tell_number(parts, len(section.wefts), "wefts", built.layers, (*path, "wefts"))
    _check_yarns(parts, section.wefts, (*path, "wefts"))


def _reversed(layers: int) -> str:
    return " ".join(str(layer) for layer in range(layers, 0, -1))


def _check_edges(parts: Parts) -> None:
    """Refuse ends beside the layers: they would hold them together (common practice)."""
    selvedges = parts.selvedges
    for side in ("right", "left"):
        if getattr(selvedges, side, None) is not None:
            message = "selvedge ends of their own would hold the layers together"
            mend = "leave them out: the edges of the layers are their own"
            parts.tell_key("error", "selvedge-on-layers", message, mend, "selvedges", side)
    if selvedges is not None and selvedges.yarn is not None:
        message = "layers have no selvedge ends of their own, and so no yarn for them"
        mend = "leave it out; a `warp_order` may give the edges another yarn"
        parts.tell_key("error", "selvedge-on-layers", message, mend, "selvedges", "yarn")
    if selvedges is not None and selvedges.floating:
        message = "a floating selvedge would be caught by every layer and hold them together"
        mend = "leave it out; a line that is drawn out afterwards may lie in a fold"
        parts.tell_key("error", "selvedge-on-layers", message, mend, "selvedges", "floating")
