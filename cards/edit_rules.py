"""Which figure of the plan a number in a text is, and whether it agrees.

A rule for each kind of number: it gives the figures that the plan has instead, or nothing where
the number agrees with any figure of its kind, or where the words do not say plainly what it is.
Counts agree exactly, sizes within what rounding and other units make of them.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from cards.edit_sections import named_sections
from cards.mentions import Kind, Mention
from cards.plan_facts import PlanFacts
from cards.plan_names import PlanFigure, PlanNames, part_name, plain_name
from cards.project import Project

# What rounding makes of a size; of a density in other units; of a mass, rounded up to buy.
_SIZE, _DENSITY, _MASS = 0.01, 0.025, 0.06
# A figure with few digits is rounded further.
_ROUNDED: Final = 0.02
_EIGHTH: Final = 1.6  # mm, half an eighth of an inch

# Of a whole, as if it were most of it: what is less is a part that nobody has reckoned.
_HALF: Final = 0.5


@dataclass(frozen=True, slots=True)
class Held:
    """A plan against which a text is held: its names, and all figures that a number may be.

    `about` is what the text stands under: a stage of the work, or a section.
    """

    project: Project
    names: PlanNames
    facts: PlanFacts
    about: str = ""


# The figures that the plan has instead of a number.
Told = tuple[PlanFigure, ...]


def rule_for(mention: Mention, held: Held) -> Told:
    """Return what the plan has instead of a number, nothing where the number is right."""
    return _RULES[mention.kind](mention, held)


def _figures(held: Held, *wanted: str) -> Told:
    """Return the figures of names; where pieces differ, those of each kind of piece."""
    found: list[PlanFigure] = []
    for name in wanted:
        plain = plain_name(name)
        each = [plain, *held.names.unclear.get(plain, ())]
        found += [figure for figure in map(held.names.find, each) if figure is not None]
    return tuple(found)


def _says(pattern: str, text: str) -> bool:
    return re.search(pattern, text, re.IGNORECASE) is not None


def _near(mention: Mention, figures: Iterable[float], share: float) -> bool:
    """Whether a size is that of a figure, give or take a `share` of it."""
    value = mention.value
    for figure in figures:
        off = abs(value - figure)
        if off <= max(share * figure, _EIGHTH if mention.kind == "length" else 0.0):
            return True
        if off <= min(mention.step / 2, _ROUNDED * figure):
            return True
    return False


def _counts(mention: Mention, counts: Iterable[int]) -> bool:
    return mention.value in set(counts)


def _is_most_of(mention: Mention, figures: Told) -> bool:
    return bool(figures) and mention.value > _HALF * min(each.value for each in figures)


def _sentence(mention: Mention) -> str:
    return f"{mention.before} {mention.text} {mention.after}"


# Words that make a number the whole.
_TOTAL_BEFORE: Final = r"\b(?:total(?: of)?|in all|in total|altogether)[:,]?\s*$"
_TOTAL_AFTER: Final = r"^(?:in (?:all|total)|altogether|total)\b"
_WARP_BEFORE: Final = r"\bwarp (?:of|has|is)\s*$|\bwarp:\s*$"
_WARP_AFTER: Final = r"^(?:warp\b|in the (?:whole |entire )?warp\b|wide\b)"
_WIND: Final = (
    r"\b(?:wind|winding|wound|thread|threading|sley|sleying|dress|measure|beam|warp)"
    r"(?:\s+(?:a warp of|all|the|on|up))*\s*$"
)


def _ends(mention: Mention, held: Held) -> Told:
    if _counts(mention, held.facts.ends):
        return ()
    before, after = mention.before, mention.after
    total = _says(_TOTAL_BEFORE, before) or _says(_TOTAL_AFTER, after)
    yarn = _of_yarn(after, held)
    if yarn is not None:
        figures = _figures(held, f"yarn.{yarn}.ends")
        spoken = total or _says(_WIND, before)
        return figures if spoken and _is_most_of(mention, figures) else ()
    figures = _figures(held, "warp.ends")
    if total or _says(_WARP_BEFORE, before) or _says(_WARP_AFTER, after):
        return figures
    wound = _says(_WIND, before) or "warp" in mention.text.lower()
    # What goes on, or is `of` no yarn of the plan, is a part or something else.
    if not wound or _says(r"^of |^,? ?(?:and )?then\b|^before\b", after):
        return ()
    return figures if _is_most_of(mention, figures) else ()


def _of_yarn(after: str, held: Held) -> str | None:
    """Return the key of the yarn of which a text goes on to speak, as in `of slate`."""
    found = re.match(r"(?:of|in)\s+(?:the\s+)?(.*)", after, re.IGNORECASE)
    if found is None:
        return None
    begin = part_name(found[1])
    for yarn in held.project.yarns:
        for called in (yarn.key, yarn.name):
            if f"{begin}_".startswith(f"{part_name(called)}_"):
                return yarn.key
    return None


_WEAVE: Final = r"\b(?:weav\w*|wove|woven|beat|work)\b"
_PIECE_AFTER: Final = r"^(?:in|to|for|per|a|each) ?(?:a|one|the|each|every)? ?(?:whole )?pieces?\b"


def _picks(mention: Mention, held: Held) -> Told:
    if _counts(mention, held.facts.picks):
        return ()
    before, after = mention.before, mention.after
    sections = named_sections(f"{before} {after}", held.about, held.project)
    if sections and _says(_WEAVE, _sentence(mention)) and not _says(r"^(?:of|with) ", after):
        figures = _figures(held, *(f"section.{each}.picks" for each in sections))
        return figures if _is_most_of(mention, figures) else ()
    total = _says(_TOTAL_BEFORE, before) or _says(_TOTAL_AFTER, after)
    if not sections and (total or _says(_PIECE_AFTER, after)):
        return _figures(held, "weft.picks_each", "weft.picks")
    return ()


_IN_REED: Final = (
    r"\bwidth in the reed(?: of| is|:)?\s*$|\bin the reed(?: it is| is|:)?\s*$"
    r"|\bwarp width(?: of| is|:)?\s*$"
)
_LENGTH_OF_WARP: Final = (
    r"\bwarp length(?: of| is|:)?\s*$|\blength of the warp(?: is|:)?\s*$"
    r"|\bguide string(?: of| is|:)?\s*$"
)
# The warp is the last thing that was named.
_WARP_LAST: Final = r"\bwarp(?:\s+(?:of|is|that is|an?))*\s*$|\b(?:warp|ends?)\b[^.]{0,30}[, ]\s*$"
_OTHER_LAST: Final = (
    r"\b(?:cloth|pieces?|fringes?|string|section|hems?|ties?|chokes?|samples?|header|loops?|knots?"
    r"|yarn|weft|advance|roll|move|turn|pull|unroll|tail)\b[^.]*$"
)
_WARP_LEAST: Final = 0.4  # of the warp; less is a part of it


def _length(mention: Mention, held: Held) -> Told:
    before, after, facts = mention.before, mention.after, held.facts
    if _says(r"^(?:wide )?(?:in|at) the reed\b", after) or _says(_IN_REED, before):
        return () if _near(mention, facts.widths, _SIZE) else _figures(held, "warp.width_in_reed")
    if _near(mention, facts.lengths, _SIZE):
        return ()
    warp = _warp_length(before, after, mention.value, held)
    if warp:
        return warp
    section = _section_length(mention, held)
    if section or _near(mention, facts.widths, _SIZE):
        return section
    return _finished(mention, held)


_FINISHED: Final = r"\b(?:finished|washed|after washing)\b"
_NOT_FINISHED: Final = (
    r"\b(?:off the loom|before washing|unwashed|on the loom|under tension|samples?|hems?"
    r"|fringes?)\b"
)


def _finished(mention: Mention, held: Held) -> Told:
    sentence = _sentence(mention)
    if not _says(_FINISHED, sentence) or _says(_NOT_FINISHED, sentence):
        return ()
    for word, adjective in (("width", "wide"), ("length", "long")):
        # What goes on, as in `10 cm long swatches`, is the size of something else.
        behind = _says(rf"^(?:{adjective}|in {word})(?:$|\W?$|[,:)]| and\b| when\b)", mention.after)
        if behind or _says(rf"\b{word}(?: of| is|:)?\s*$", mention.before):
            return _figures(held, f"cloth.{word}")
    return ()


def _warp_length(before: str, after: str, value: float, held: Held) -> Told:
    figures = _figures(held, "warp.length")
    if _says(_LENGTH_OF_WARP, before):
        return figures
    named = _says(r"^[- ]?(?:long )?warp\b", after)
    last = _says(_WARP_LAST, before) and not _says(_OTHER_LAST, before) and _says(
        r"^(?:long\b|$|[,:)])", after
    )  # fmt: skip
    if (named or last) and value > _WARP_LEAST * held.project.warp.length:
        return figures
    return ()


def _section_length(mention: Mention, held: Held) -> Told:
    before, after = mention.before, mention.after
    if not _says(_WEAVE, _sentence(mention)) or _says(r"^(?:wide|in width)\b", after):
        return ()
    sections = named_sections(f"{before} {after}", held.about, held.project)
    straight = _says(r"\b(?:weave|woven|weaving|work)(?: for)?\s*$", before)
    behind = [each for each in sections if _says(_behind(each), before)]
    if not straight and not behind:
        return ()
    sizes = (f"section.{each}.{size}" for each in sections for size in ("length", "on_loom"))
    figures = _figures(held, *sizes)
    return figures if _is_most_of(mention, figures) else ()


def _behind(section: str) -> str:
    """Return a pattern for what ends with the name of a section, before a number."""
    return rf"\b{section.replace('_', '.')}s?\s*(?:of|is|for|:|,|\()?\s*$"


_OTHER_SETT: Final = (
    r"\b(?:finished|washed|off the loom|relaxed|wraps?|layers?|stripes?|cramm?\w*|edges?"
    r"|selvedges?|borders?|folds?|denser|closer|header|sample)\b"
)


def _ends_density(mention: Mention, held: Held) -> Told:
    agrees = _near(mention, held.facts.sett, _DENSITY)
    other = agrees or _says(_OTHER_SETT, _sentence(mention))
    return () if other else _figures(held, "sett")


def _picks_density(mention: Mention, held: Held) -> Told:
    agrees = _near(mention, held.facts.beat, _DENSITY)
    other = agrees or _says(_OTHER_SETT, _sentence(mention))
    return () if other else _figures(held, "picks")


def _density(mention: Mention, held: Held) -> Told:
    """Take a density without its threads for sett or beat where one of them is named."""
    if _says(r"\bsett(?: of| is| at|:)?\s*$", mention.before):
        return _ends_density(mention, held)
    if _says(r"\bbeat(?:ing)?(?: at| of|:)?\s*$", mention.before):
        return _picks_density(mention, held)
    return ()


def _per_dent(mention: Mention, held: Held) -> Told:
    facts, sleying = held.facts, held.project.sleying
    if sleying is None or _counts(mention, facts.per_dent):
        return ()
    mean = sleying.ends / sleying.dents
    if abs(mention.value - mean) < _DENSITY * mean or _says(_OTHER_SETT, _sentence(mention)):
        return ()
    return _figures(held, "sley.pattern")


_LEAST_REED: Final = 4


def _reed(mention: Mention, held: Held) -> Told:
    # Reeds are called by their dents in 10 cm, in an inch or in a centimetre.
    values = (mention.value * per for per in (1.0, 1 / 100, 1 / 25.4, 1 / 10))
    for value in values:
        if any(abs(value - reed) <= _DENSITY * reed for reed in held.facts.reeds):
            return ()
    bare = mention.text.strip().isdigit()
    if bare and (mention.value < _LEAST_REED or not _says(r"^(?:$|[,:)(])", mention.after)):
        return ()
    return _figures(held, "reed")


_NEED: Final = (
    r"\b(?:needs?|uses?|using|requires?|takes?|wants?|tie|tying|has|on)"
    r"(?:\s+(?:an?|the|all|only|just|up))*\s*$"
)
_PART: Final = (
    r"\b(?:each|every|per|layers?|blocks?|half|other|both|pattern|raise|lift|sink|press)\b"
)
_KIND_AFTER: Final = r"^(?:weave|draft|pattern|threading|twill|tie-up)\b"


def _shafts(mention: Mention, held: Held) -> Told:
    if _counts(mention, held.facts.shafts) or _says(_PART, _sentence(mention)):
        return ()
    figures = _figures(held, "draft.shafts")
    if _says(r"^looms?\b", mention.after):
        # A loom may have more of them.
        return figures if mention.value < figures[0].value else ()
    named = _says(_NEED, mention.before) or _says(_KIND_AFTER, mention.after)
    return figures if named else ()


def _treadles(mention: Mention, held: Held) -> Told:
    if _counts(mention, held.facts.treadles) or _says(_PART, _sentence(mention)):
        return ()
    return _figures(held, "loom.tied") if _says(_NEED, mention.before) else ()


def _bouts(mention: Mention, held: Held) -> Told:
    if _counts(mention, held.facts.bouts):
        return ()
    named = _says(r"\b(?:in|into|wind|make)\s*$", mention.before)
    return _figures(held, "warp.bouts") if named else ()


_BUY: Final = r"\b(?:buy|buys|order|purchase|get)\b[^.]*$"


def _packages(mention: Mention, held: Held) -> Told:
    yarn = _of_yarn(mention.after, held)
    counts = held.facts.packages
    if yarn is not None:
        own = _figures(held, f"yarn.{yarn}.packages")
        counts = frozenset(round(each.value) for each in own)
    if not counts or _counts(mention, counts):
        return ()
    return _bought(mention, held, "packages")


def _mass(mention: Mention, held: Held) -> Told:
    packed = r"^(?:skein|ball|cone|package|hank|spool|tube|put-up)"
    if _near(mention, held.facts.masses, _MASS) or _says(packed, mention.after):
        return ()
    return _bought(mention, held, "mass")


def _bought(mention: Mention, held: Held, figure: str) -> Told:
    """Return what is to be bought of the yarn of which a number speaks, of the only one, or all."""
    if not _says(_BUY, mention.before):
        return ()
    yarn = _of_yarn(mention.after, held)
    keys = [yarn] if yarn is not None else [each.key for each in held.project.yarns]
    if yarn is None and len(keys) > 1 and mention.after.startswith(("of ", "for ")):
        return ()
    return _figures(held, *(f"yarn.{key}.{figure}" for key in keys))


_RULES: Final[Mapping[Kind, Callable[[Mention, Held], Told]]] = {
    "ends": _ends,
    "picks": _picks,
    "length": _length,
    "ends density": _ends_density,
    "picks density": _picks_density,
    "density": _density,
    "per dent": _per_dent,
    "reed": _reed,
    "shafts": _shafts,
    "treadles": _treadles,
    "bouts": _bouts,
    "packages": _packages,
    "mass": _mass,
}
