"""The words of the draft sheet: its key, what of a draft is drawn, and its longest floats."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from cards.draft_sheet import DraftSheet, LongestFloat, SectionDraft
from cards.figures import count
from cards.project.model import ProjectYarn
from layouts.drawing import Box, Mark
from layouts.sheets.draft_picture import tie_mark, tie_number
from layouts.sheets.draft_tiles import Ranges
from layouts.sheets.parts import INK, SOFT, Block, paragraph, yarn_patch
from layouts.typeface import BODY, cap_height, measure

_SAMPLE = 3.5
_PATCH_WIDTH, _PATCH_HEIGHT = 8.0, 4.8
_ROW = 6.4
_BETWEEN = 6.0


def foot_words(card: DraftSheet) -> str:
    """Return how the draft is read, for the foot of every page."""
    ways = card.conventions
    first_pick = "top" if ways.treadling == "down" else "bottom"
    near = "nearest the weaver" if card.shaft_1 == "front" else "farthest from the weaver"
    words = f"First end at the {ways.first_end}, first pick at the {first_pick}. Shaft 1 {near}"
    if any(each.by_treadle for each in card.sections):
        words += f", treadle 1 {card.treadle_1}"
    return f"{words}."


@dataclass(frozen=True, slots=True)
class _Item:
    """One thing that the key explains: how it looks, so many mm wide, and in words."""

    width: float
    draw: Callable[[float, float], Iterable[Mark]]
    words: str

    @property
    def whole(self) -> float:
        return self.width + 1.6 + measure(self.words, BODY)


def key(card: DraftSheet, width: float) -> tuple[list[Block], list[Block]]:
    """Return the rows of the key: what marks mean in this draft, and each yarn with its letter."""
    return _rows(_meanings(card), width), _rows(_yarns(card), width)


def _rows(items: Iterable[_Item], width: float) -> list[Block]:
    rows: list[list[tuple[float, _Item]]] = []
    left = width
    for item in items:
        if rows and left + item.whole <= width:
            rows[-1].append((left, item))
        else:
            rows.append([(0.0, item)])
            left = 0.0
        left += item.whole + _BETWEEN
    return [_row(row, width) for row in rows]


def _row(row: list[tuple[float, _Item]], width: float) -> Block:
    texts = [paragraph(item.words, width - at - item.width - 1.6, BODY) for at, item in row]
    height = max(_ROW, *(text.height + 1.2 for text in texts))

    def draw(x: float, y: float) -> Iterable[Mark]:
        for (at, item), text in zip(row, texts, strict=True):
            yield from item.draw(x + at, y + _ROW / 2)
            top = y + _ROW / 2 - cap_height(BODY) / 2 - (_BODY_TOP - cap_height(BODY))
            yield from text.draw(x + at + item.width + 1.6, top)

    return Block(height, draw)


# How far the baseline of a paragraph in BODY stands below its top.
_BODY_TOP = BODY * 25.4 / 72 * 0.98


def _meanings(card: DraftSheet) -> Iterable[_Item]:
    ways = card.conventions
    yield _Item(_SAMPLE, _filled, f"filled: the {ways.filled} is on top")
    if any(each.by_treadle for each in card.sections):
        yield from _tie_meanings(card)
    if not all(each.by_treadle for each in card.sections):
        yield _Item(_SAMPLE, _filled, "filled in the lift plan: the shaft is raised")


def _tie_meanings(card: DraftSheet) -> Iterable[_Item]:
    if card.ties == "both":
        words = "a disc in the tie-up: the shaft rises"
        yield _Item(_SAMPLE, lambda x, y: _tie(x, y, rise=True), words)
        words = "a cross: it sinks; without either the treadle does not move it"
        yield _Item(_SAMPLE, lambda x, y: _tie(x, y, rise=False), words)
        return
    rise = card.ties == "rise"
    numbers = card.conventions.tie_up_as == "numbers"
    words = f"a {'number' if numbers else 'mark'} in the tie-up: the shaft {card.ties}s"
    if card.action == "countermarch":
        words += f"; without one it {'sinks' if rise else 'rises'}"
    elif card.action != ("rising" if rise else "sinking"):
        words += f"; this loom ties those that {'sink' if rise else 'rise'}: see the tie-up card"
    yield _Item(_SAMPLE, lambda x, y: _tie(x, y, rise=rise, number=numbers), words)


def _yarns(card: DraftSheet) -> Iterable[_Item]:
    for yarn in card.yarns:
        yield _Item(_PATCH_WIDTH, _patch(yarn), yarn.name)


def _patch(yarn: ProjectYarn) -> Callable[[float, float], Iterable[Mark]]:
    return lambda x, y: yarn_patch(yarn, x, y - _PATCH_HEIGHT / 2, _PATCH_WIDTH, _PATCH_HEIGHT)


def _filled(x: float, y: float) -> Iterable[Mark]:
    yield Box(x, y - _SAMPLE / 2, _SAMPLE, _SAMPLE, INK, INK, 0.2)


def _tie(x: float, y: float, *, rise: bool, number: bool = False) -> Iterable[Mark]:
    yield Box(x, y - _SAMPLE / 2, _SAMPLE, _SAMPLE, None, SOFT, 0.2)
    if number:
        yield tie_number(x + _SAMPLE / 2, y, 1)
    else:
        yield tie_mark(x + _SAMPLE / 2, y, _SAMPLE, rise=rise)


def section_title(section: SectionDraft) -> str:
    """Return the names of all sections that are woven so."""
    return ", ".join(section.names)


def _weft(card: DraftSheet, section: SectionDraft) -> list[str]:
    """Name the wefts of a section where another has the same sheds, or the same name."""
    others = [each for each in card.sections if each is not section]
    alike = any(each.sheds == section.sheds for each in others)
    if not alike and not any(set(each.names) & set(section.names) for each in others):
        return []
    keys = {yarn.key for yarn in section.picks.yarns}
    wefts = [f"{yarn.letter} {yarn.name}" for yarn in card.yarns if yarn.key in keys]
    return [f"Weft: {'; '.join(wefts)}."]


def section_words(
    card: DraftSheet, section: SectionDraft, ranges: Ranges, *, framed: bool = True
) -> str:
    """Return what is drawn of the draft, how often it comes, and its longest floats.

    A repeat is `framed` where all that `ranges` have is drawn on one page.
    """
    ends, picks = ranges.ends, ranges.picks
    words = [*_weft(card, section), _shown(ranges)]
    repeated = [each for side in (ends, picks) for each in side.drawn if each.stretch.times > 1]
    if repeated:
        words.append(_bracketed(ranges, framed=framed))
    if not ends.coloured:
        words.append("The warp\u2019s colours are not drawn: take them from the warping card.")
    if not picks.coloured:
        words.append("The weft\u2019s colours are not drawn: take them from the pick tally.")
    if card.floating:
        words.append("The floating selvedges go through no heddle and are not drawn.")
    words.append(_floats(section))
    return " ".join(words)


def _shown(ranges: Ranges) -> str:
    ends, picks = ranges.ends, ranges.picks
    if ends.whole and picks.whole:
        return f"All {count(ends.total)} ends and all {count(picks.total)} picks."
    parts = [
        f"all {count(side.total)} {name}"
        if side.whole
        else f"{count(side.count)} of {count(side.total)} {name}"
        for side, name in ((ends, "ends"), (picks, "picks"))
    ]
    return f"Drawn: {parts[0]} and {parts[1]}."


def _bracketed(ranges: Ranges, *, framed: bool) -> str:
    """Explain the bracket of the longest repeat, as an example for all."""
    sides = ((ranges.ends, "ends"), (ranges.picks, "picks"))
    pairs = [(each, name) for side, name in sides for each in side.drawn if each.stretch.times > 1]
    chosen, name = max(pairs, key=lambda pair: (pair[0].stretch.rest > 0, pair[0].stretch.total))
    stretch = chosen.stretch
    words = f"{stretch.once} × {stretch.times} on a bracket: {stretch.once} {name}"
    words += f" {stretch.times} times"
    if stretch.rest:
        again = f"the first {stretch.rest}" if stretch.rest > 1 else "the first"
        words = words.replace(" on a", f" + {stretch.rest} on a", 1)
        words += f", then {again} of them once more"
    if framed and any(each.repeats > 1 for each, _ in pairs):
        words += "; one repeat is framed"
    return f"{words}."


def _floats(section: SectionDraft) -> str:
    within = " within each layer" if section.layers > 1 else ""
    found = (section.warp_float, section.weft_float)
    if all(each is not None and each.length == 1 and not each.endless for each in found):
        each_thread = "each layer" if section.layers > 1 else "the cloth"
        return f"Plain weave: in {each_thread} no thread passes more than one other at once."
    warp = _float(section.warp_float, "end", "pick")
    weft = _float(section.weft_float, "pick", "end")
    return f"Longest float{within}: warp {warp}; weft {weft}."


def _float(found: LongestFloat | None, thread: str, passed: str) -> str:
    if found is None:
        return "none"
    side = "over" if found.over else "under"
    if found.endless:
        return f"{side} every {passed} ({thread} {found.thread + 1})"
    many = passed if found.length == 1 else f"{passed}s"
    place = f"{thread} {found.thread + 1} from {passed} {found.start + 1}"
    return f"{side} {found.length} {many} ({place})"
