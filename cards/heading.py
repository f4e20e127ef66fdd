"""What stands at the head and foot of every card: which project, which version, whose."""

from __future__ import annotations

from dataclasses import dataclass, replace

from cards.project import Project

# Looms that are named after their shed.
_SHEDS = frozenset({"rising", "sinking"})


@dataclass(frozen=True, slots=True)
class Heading:
    """The words that identify a card.

    `fingerprint` is that of what the card was `printed_from`, empty for several specs. `seat` says
    for which place in a class it is, `mirrored` that it is for a left-handed weaver.
    """

    card: str
    title: str
    code: str
    date: str
    maker: str
    units: str
    loom: str
    fingerprint: str = ""
    printed_from: str = "spec"
    seat: str = ""
    mirrored: str = ""


def loom_heading_of(project: Project, card: str) -> Heading:
    """Return the heading of a card that is another on every loom: its loom is named at the top."""
    heading = heading_of(project, card)
    named = project.loom.name
    return replace(heading, card=f"{card} · {named}") if named else heading


def card_name(project: Project, card: str) -> str:
    """Return the name of a card that is another for every kind of piece, where there are several.

    It is the kind's name that tells two such cards apart.
    """
    return f"{card} · {project.piece}" if len(project.every_kind) > 1 else card


def heading_of(project: Project, card: str) -> Heading:
    """Return the heading of one card of a project."""
    info, loom = project.info, project.loom
    kind = f"{loom.action} shed" if loom.action in _SHEDS else f"{loom.action} loom"
    named = kind.casefold() in loom.name.casefold()
    parts = [loom.name, "" if named else kind, f"{loom.shafts} shafts"]
    version = f"version {info.version}" if info.version else ""
    date = info.date.isoformat() if info.date else ""
    return Heading(
        card=card,
        title=f"{info.title} · {project.candidate}" if project.candidate else info.title,
        code=info.code or "",
        date=" · ".join(text for text in (version, date) if text),
        maker=info.maker or "",
        units=project.units,
        loom=", ".join(text for text in parts if text),
        fingerprint=project.source.fingerprint,
        seat=_seat(project.seat),
        mirrored="left-handed: mirror image of the cloth as written" if project.mirrored else "",
    )


def _seat(name: str) -> str:
    """Return a seat as it is named on a card."""
    return name if not name or name.casefold().startswith("seat") else f"seat: {name}"
