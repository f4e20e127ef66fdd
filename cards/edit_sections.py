"""Which sections of a piece a sentence names."""

from __future__ import annotations

import re

from cards.plan_names import part_name
from cards.project import Project

# Shorter names are parts of other words, or numbers.
_SHORTEST = 3


def named_sections(sentence: str, about: str, project: Project) -> list[str]:
    """Return the sections that a sentence names, else those that it is `about`, by plain names.

    A section is named by its whole name, or by its last word where all that end so are meant, as
    the hems are by `hem`.
    """
    return _named(sentence, project) or _named(about, project)


def _named(text: str, project: Project) -> list[str]:
    plain = f"_{part_name(text)}_"
    called = dict.fromkeys(
        part_name(section.name) for kind in project.kinds for section in kind.weft.sections
    )
    whole = [each for each in called if len(each) >= _SHORTEST and _stands(each, plain)]
    if whole:
        # `first hem` is meant where a section `hem` is there too.
        return [each for each in whole if not any(each != o and each in o for o in whole)]
    return [
        each
        for each in called
        if "_" in each and len(last := each.rpartition("_")[2]) >= _SHORTEST
        if _stands(last, plain)
    ]


def _stands(name: str, plain: str) -> bool:
    return re.search(rf"_{re.escape(name)}s?_", plain) is not None
