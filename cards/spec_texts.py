"""The texts of a spec in which somebody may have written a figure of the plan."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from cards.mentions import mentions_in
from cards.spec import Reading, Section
from cards.spec.pattern_models import pattern_texts


@dataclass(frozen=True, slots=True)
class SpecText:
    """A text of a spec, where it stands, and what it is about: a stage or a section."""

    path: tuple[str | int, ...]
    text: str
    about: str = ""


def spec_texts(reading: Reading) -> Iterator[SpecText]:
    """Yield every text in which somebody may have written a figure of the plan."""
    spec = reading.spec
    if spec is None:
        return
    for key in ("summary", "notes"):
        yield SpecText(("project", key), getattr(spec.project, key) or "")
    weaves: list[tuple[tuple[str | int, ...], list[Section]]] = [((), spec.weave)]
    weaves += [(("pieces", number), piece.weave) for number, piece in enumerate(spec.pieces)]
    for path, sections in weaves:
        for place, section in enumerate(sections):
            yield SpecText((*path, "weave", place, "note"), section.note or "", section.section)
    if spec.pattern is None:
        return
    for path, text in pattern_texts(spec.pattern):
        stage = path[2] if path[1] == "steps" else None
        about = spec.pattern.steps[stage].stage if isinstance(stage, int) else ""
        yield SpecText(path, text, about)


def says_figures(reading: Reading) -> bool:
    """Whether a spec has a text that must be held against its plan."""
    if reading.spec is not None and reading.spec.pattern is not None:
        return True
    return any(any(mentions_in(each.text)) for each in spec_texts(reading))
