"""What a binder says of its projects: an entry for each, and the indexes by which one is found.

All of it is plain text, so that it can be kept beside a project's finished pages and read again.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from cards.heading import heading_of
from cards.project import Project
from cards.structures import structures_of

NO_DATE = "without a date"
# Not those of `calendar`, which speak the language of the surroundings.
_MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)


@dataclass(frozen=True, slots=True)
class BinderEntry:
    """One project as the contents and the indexes of a binder name it; what is not known is empty.

    `date` is as 2026-03-02, `about` code, version and date in one line, `fingerprint` that of the
    spec from which the pages were printed. `yarns` and `looms` are named as their cards name them.
    """

    title: str
    maker: str
    date: str
    about: str
    fingerprint: str
    units: str
    structures: tuple[str, ...]
    yarns: tuple[str, ...]
    looms: tuple[str, ...]


def entry_of(project: Project, others: Sequence[Project] = ()) -> BinderEntry:
    """Return the entry of a project; `others` is it on other looms."""
    heading, info = heading_of(project, ""), project.info
    yarns = (f"{yarn.name} · {yarn.size}" if yarn.size else yarn.name for yarn in project.yarns)
    return BinderEntry(
        title=heading.title,
        maker=heading.maker,
        date=info.date.isoformat() if info.date else "",
        about=" · ".join(text for text in (heading.code, heading.date) if text),
        fingerprint=heading.fingerprint,
        units=project.units,
        structures=structures_of(project),
        yarns=tuple(dict.fromkeys(yarns)),
        looms=tuple(dict.fromkeys(heading_of(each, "").loom for each in (project, *others))),
    )


@dataclass(frozen=True, slots=True)
class Index:
    """An index: its title, and each term with the places of its projects in the binder, from 0."""

    title: str
    terms: tuple[tuple[str, tuple[int, ...]], ...]


def indexes_of(entries: Sequence[BinderEntry]) -> tuple[Index, ...]:
    """Return the indexes by structure, yarn, loom and date."""
    return (
        _index("By structure", entries, lambda each: each.structures),
        _index("By yarn", entries, lambda each: each.yarns),
        _index("By loom", entries, lambda each: each.looms),
        _by_date(entries),
    )


def _index(
    title: str, entries: Sequence[BinderEntry], terms: Callable[[BinderEntry], Sequence[str]]
) -> Index:
    """Return an index in the order of its terms, capitals or not."""
    found: dict[str, list[int]] = {}
    for place, entry in enumerate(entries):
        for term in terms(entry):
            found.setdefault(term, []).append(place)
    named = sorted(found, key=lambda term: (term.casefold(), term))
    return Index(title, tuple((term, tuple(found[term])) for term in named))


def _by_date(entries: Sequence[BinderEntry]) -> Index:
    """Return the index by month, the latest first, those without a date last."""
    found: dict[str, list[int]] = {}
    order = sorted(range(len(entries)), key=lambda place: entries[place].date, reverse=True)
    for place in order:
        found.setdefault(month_words(entries[place].date), []).append(place)
    return Index("By date", tuple((term, tuple(places)) for term, places in found.items()))


def month_words(date: str) -> str:
    """Return the month of a date in words.

    >>> month_words("2026-03-02"), month_words("")
    ('March 2026', 'without a date')
    """
    if not date:
        return NO_DATE
    year, month, _ = date.split("-")
    return f"{_MONTHS[int(month) - 1]} {year}"
