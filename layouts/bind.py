"""A folder of specs bound into one PDF: what has changed is drawn, the rest is as it was kept."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from layouts.attachment import Attachment, attachments_of
from layouts.binder_cache import FolioCache
from layouts.binder_folio import BoundFolio, Unbound
from layouts.binder_front import Front, settled_front
from layouts.binder_page import stamps
from layouts.binder_pool import drawn_folios
from layouts.numbering import numbered
from layouts.paper import Frame
from layouts.pdf import pdf_bytes
from layouts.typeface import BODY, wrap

# What the number of a page and the dots of a title that is cut off take at the foot, in mm.
_NUMBER_ROOM = 25.0


@dataclass(frozen=True, slots=True)
class Gathered:
    """What was found in a folder, in the order of a binder; `drawn` names what was drawn anew."""

    inside: tuple[BoundFolio | Unbound, ...]
    drawn: frozenset[str]

    @property
    def folios(self) -> tuple[BoundFolio, ...]:
        """What goes into the binder."""
        return tuple(each for each in self.inside if isinstance(each, BoundFolio))

    @property
    def unbound(self) -> tuple[Unbound, ...]:
        """What does not."""
        return tuple(each for each in self.inside if isinstance(each, Unbound))

    @property
    def kept(self) -> int:
        """How many folios are as they were."""
        return sum(each.name not in self.drawn for each in self.folios)


def gather(
    folder: Path,
    names: Sequence[str],
    frame: Frame,
    cache: FolioCache,
    step: Callable[[float], None] = lambda share: None,
    processes: int | None = None,
) -> Gathered:
    """Return the folios of all specs named, each drawn only if it was not kept as it is now."""
    found: dict[str, BoundFolio | Unbound] = {}
    for name in names:
        kept = cache.find(name)
        if kept is not None:
            found[name] = kept
    wanted = [name for name in names if name not in found]
    for number, folio in enumerate(drawn_folios(folder, wanted, frame, processes), start=1):
        if isinstance(folio, BoundFolio):
            cache.keep(folio)
        found[folio.name] = folio
        step(number / len(wanted))
    inside = tuple(found[name] for name in names)
    drawn = (name for name in wanted if isinstance(found[name], BoundFolio))
    return Gathered(inside, frozenset(drawn))


def binder_bytes(
    gathered: Gathered, title: str, frame: Frame, *, with_spec: bool = True
) -> bytes | None:
    """Return the binder as a PDF, None if nothing goes into it. The same specs, the same bytes."""
    from layouts.binder_pdf import Bound, bind_pdfs  # noqa: PLC0415 - pypdf is slow to load

    folios = gathered.folios
    if not folios:
        return None
    entries = tuple(folio.entry for folio in folios)
    front = Front(title, _fingerprint(folios), entries, gathered.unbound)
    drawings = settled_front(front, frame, [folio.pages for folio in folios])
    pages = sum(len(drawing.pages) for drawing in drawings)
    places = [place for place, folio in enumerate(folios) for _ in range(folio.pages)]
    inside = [each for folio in folios for each in _attachments(folio)] if with_spec else []
    words = _shortened(title, frame.content[2] - _NUMBER_ROOM)
    return bind_pdfs(
        pdf_bytes(numbered(drawings, frame, 1, words), title=title, attachments=inside),
        [(drawing.title, len(drawing.pages)) for drawing in drawings],
        pdf_bytes(numbered([stamps(frame, places)], frame, pages + 1, words), title=title),
        [
            Bound(
                folio.entry.title,
                folio.pdf,
                tuple((sheet.title, sheet.pages) for sheet in folio.sheets),
            )
            for folio in folios
        ],
    )


def _shortened(title: str, width: float) -> str:
    """Return the title of a binder as it stands at the foot of every page, in one line."""
    lines = wrap(title, width, BODY)
    return lines[0] if len(lines) == 1 else f"{lines[0]} …"


def _attachments(folio: BoundFolio) -> list[Attachment]:
    """Return what a folio was worked out from, under its names in the binder's folder."""
    above = PurePosixPath(folio.name).parent
    folder = "" if above == PurePosixPath() else above.as_posix()
    return list(attachments_of(folio.source, folder))


def _fingerprint(folios: Sequence[BoundFolio]) -> str:
    """Return what stands for all specs of a binder together, as that of a spec does for one."""
    told = "\n".join(f"{folio.name} {folio.entry.fingerprint}" for folio in folios)
    first = hashlib.sha256(told.encode("utf-8", "surrogatepass")).hexdigest()[:8]
    return f"{first[:4]}-{first[4:]}"
