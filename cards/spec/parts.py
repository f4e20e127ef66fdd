"""What could be read of a spec, as far as it goes, for checks across its fields.

When some values are refused the rest is still checked; a check asks `sound` before it complains
of something that may only be missing because it was refused.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from cards.sequence import Sequence
from cards.spec.class_models import ClassOf
from cards.spec.findings import Finding, Level
from cards.spec.models import (
    Cloth,
    Draft,
    Given,
    Loom,
    PieceKind,
    Section,
    Selvedges,
    Spec,
    Yarn,
)
from cards.spec.paper_models import Paper
from cards.spec.pattern_models import Pattern
from cards.spec.photograph_models import Photograph
from cards.spec.places import Places, Step
from cards.spec.sley_models import Sley

Path = tuple[Step, ...]
_MOST_TOLD = 200


@dataclass(slots=True)
class Parts:
    """The parts of a spec that checks look at, None where a part could not be read.

    `weave` has the sections of all kinds of pieces, which checks name by `("weave", position)`;
    `weave_paths` is where each of them really stands.
    """

    places: Places
    yarns: dict[str, Yarn] | None = None
    loom: Loom | None = None
    draft: Draft | None = None
    warp_order: Sequence[str] | None = None
    weft_order: Sequence[str] | None = None
    selvedges: Selvedges | None = None
    paper: Paper | None = None
    cloth: Cloth | None = None
    expected_pieces: str | None = None
    expected_layers: int | None = None
    weave: list[Section] = field(default_factory=list)
    weave_paths: list[Path] = field(default_factory=list)
    pieces: list[PieceKind] = field(default_factory=list)
    looms: list[Loom] = field(default_factory=list)
    sley: Sley | None = None
    given: Given | None = None
    pattern: Pattern | None = None
    photographs: list[Photograph] = field(default_factory=list)
    class_: ClassOf | None = None
    broken: frozenset[Path] = frozenset()
    findings: list[Finding] = field(default_factory=list)

    @classmethod
    def of(cls, spec: Spec, places: Places, broken: frozenset[Path] = frozenset()) -> Parts:
        """Take a spec apart; in one that was read in part, missing fields are None."""
        weave, paths = _sections(spec)
        return cls(
            places,
            spec.yarns,
            spec.loom,
            spec.draft,
            spec.warp_order,
            spec.weft_order,
            spec.selvedges,
            spec.paper,
            spec.cloth,
            getattr(spec.expect, "pieces", None),
            getattr(spec.expect, "layers", None),
            weave,
            paths,
            spec.pieces or [],
            spec.looms or [],
            spec.sley,
            spec.given,
            spec.pattern,
            spec.photographs or [],
            spec.class_,
            broken,
        )

    def where(self, path: Path) -> Path:
        """Return where a path really leads: sections may be those of a kind of piece."""
        if path[:1] != ("weave",) or len(path) < 2 or not isinstance(path[1], int):
            return path
        if path[1] >= len(self.weave_paths):
            return path
        return (*self.weave_paths[path[1]], *path[2:])

    def sound(self, *path: Step) -> bool:
        """Whether nothing at or under `path`, nor anything that it stands in, was refused."""
        path = self.where(path)
        return not any(
            each[: len(path)] == path or path[: len(each)] == each for each in self.broken
        )

    def tell(
        self, level: Level, code: str, message: str, mend: str, *path: Step, offset: int = 0
    ) -> None:
        """Note a finding at a value of the spec."""
        if len(self.findings) >= _MOST_TOLD:
            return
        place = self.places.of(*self.where(path), offset=offset)
        self.findings.append(Finding(level, code, message, mend, place))

    def tell_key(self, level: Level, code: str, message: str, mend: str, *path: Step) -> None:
        """Note a finding at a key of the spec."""
        self.findings.append(
            Finding(level, code, message, mend, self.places.key(*self.where(path)))
        )


def _sections(spec: Spec) -> tuple[list[Section], list[Path]]:
    """Return the sections of the spec and of its kinds of pieces, and where they stand.

    Those of the spec are left out where every kind of piece has its own.
    """
    pieces = spec.pieces or []
    own: list[Section] = [] if pieces and all(each.weave for each in pieces) else spec.weave or []
    found: list[tuple[Section, Path]] = [
        (section, ("weave", place)) for place, section in enumerate(own)
    ]
    for number, piece in enumerate(pieces):
        found += [
            (section, ("pieces", number, "weave", place))
            for place, section in enumerate(piece.weave or [])
        ]
    return [section for section, _ in found], [path for _, path in found]
