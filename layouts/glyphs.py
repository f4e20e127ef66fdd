"""Finds text of a spec that the font cannot print, before anything is printed.

A glyph that is not there would come out as an empty box, silently; that is an error here.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import fields, is_dataclass, replace
from typing import TypeVar

from cards.spec import Finding, Place, Places, Reading, Section, Spec
from cards.spec.pattern_models import pattern_texts
from layouts.typeface import missing_glyphs

Path = tuple[str | int, ...]
T = TypeVar("T")


def printable(made: T) -> T:
    """Return something made of texts with `?` in place of every character that the font lacks.

    It is for what is printed although errors are told of it; tuples and dataclasses are gone
    through, anything else is left as it is.
    """
    if isinstance(made, str):
        for character in missing_glyphs(made):
            made = made.replace(character, "?")  # type: ignore[assignment]
        return made
    if isinstance(made, tuple) and type(made) is tuple:
        return tuple(printable(each) for each in made)  # type: ignore[return-value]
    if is_dataclass(made) and not isinstance(made, type):
        return replace(
            made, **{key.name: printable(getattr(made, key.name)) for key in fields(made)}
        )
    return made


def glyph_findings(spec: Spec, places: Places) -> list[Finding]:
    """Return an error for every text of the spec that has a character the font lacks."""
    findings = []
    for path, text in printed_texts(spec):
        missing = missing_glyphs(text.replace("\n", " "))
        if missing:
            place = places.in_text(*path, text=text, offset=max(0, text.find(missing[0])))
            findings.append(_finding(missing, place))
    return findings


def name_findings(reading: Reading) -> list[Finding]:
    """Return an error for every name of a candidate that has a character the font lacks."""
    named = zip(reading.candidates, reading.candidate_places, strict=True)
    return [_finding(missing, place) for name, place in named if (missing := missing_glyphs(name))]


def name_finding(name: str, place: Place) -> list[Finding]:
    """Return an error for a name that has a character the font lacks, which stands at `place`."""
    missing = missing_glyphs(name)
    return [_finding(missing, place)] if missing else []


def _finding(missing: Sequence[str], place: Place) -> Finding:
    named = ", ".join(map(_named, missing[:5]))
    message = f"the font cannot print {named}"
    return Finding("error", "missing-glyph", message, _mend(missing), place)


def _named(character: str) -> str:
    """Show a character with its number; one that cannot be seen, or turns the line, by its name."""
    shown = character
    if _has_no_ink(character):
        name = unicodedata.name(character, "a control character").lower()
        shown = _CONTROLS.get(character, name)
    return f"{shown} (U+{ord(character):04X})"


def _mend(missing: Sequence[str]) -> str:
    if all(map(_has_no_ink, missing)):
        return "delete it" if len(missing) == 1 else "delete them"
    return "write it in letters of the Latin, Greek or Cyrillic alphabet"


# Those that people have on their keys; Unicode has no names for them.
_CONTROLS = {"\t": "a tab", "\r": "a carriage return", "\x1b": "an escape"}
_NO_INK = frozenset({"Cc", "Cf", "Zl", "Zp"})


def _has_no_ink(character: str) -> bool:
    chooses_a_shape = "\ufe00" <= character <= "\ufe0f"  # variation selectors
    return chooses_a_shape or unicodedata.category(character) in _NO_INK


def printed_texts(spec: Spec) -> Iterator[tuple[Path, str]]:
    """Yield every text of the spec that a sheet prints, with its path."""
    info = spec.project
    for key in ("title", "code", "maker", "version", "summary"):
        text = getattr(info, key)
        if text:
            yield ("project", key), str(text)
    places: list[Path] = [("loom",), *(("looms", index) for index in range(len(spec.looms)))]
    for place, loom in zip(places, (spec.loom, *spec.looms), strict=True):
        yield (*place, "name"), loom.name or ""
    yield from _yarns(spec)
    yield from _sections(spec)
    if spec.pattern is not None:
        yield from pattern_texts(spec.pattern)
        for number, stage in enumerate(spec.pattern.steps):
            yield ("pattern", "steps", number, "stage"), stage.stage
    for number, photograph in enumerate(spec.photographs):
        yield ("photographs", number, "of"), photograph.of
    yield from _class(spec)
    for number, exercise in enumerate(spec.exercises):
        yield ("exercises", number, "words"), exercise.words or ""


def _class(spec: Spec) -> Iterator[tuple[Path, str]]:
    """Yield what the class and its seats are called, with the paths."""
    if spec.class_ is None:
        return
    yield ("class", "title"), spec.class_.title or ""
    for number, seat in enumerate(spec.class_.seats):
        yield ("class", "seats", number, "seat"), seat.seat


def _yarns(spec: Spec) -> Iterator[tuple[Path, str]]:
    """Yield what the weaver calls her yarns and her money, with the paths."""
    for key, yarn in spec.yarns.items():
        for name in ("name", "letter", "lot"):
            yield ("yarns", key, name), getattr(yarn, name) or ""
        if yarn.price is not None:
            yield ("yarns", key, "price"), yarn.price.currency
    for name in ("hour", "budget"):
        price = getattr(spec.costs, name)
        if price is not None:
            yield ("costs", name), price.currency


def _sections(spec: Spec) -> Iterator[tuple[Path, str]]:
    """Yield the names of pieces and sections, and the notes, with their paths."""
    weaves: list[tuple[Path, list[Section]]] = [((), spec.weave)]
    for number, piece in enumerate(spec.pieces):
        yield ("pieces", number, "piece"), piece.piece
        weaves.append((("pieces", number), piece.weave))
    for path, sections in weaves:
        for index, section in enumerate(sections):
            yield (*path, "weave", index, "section"), section.section
            if section.note:
                yield (*path, "weave", index, "note"), section.note
