"""A spec file read: from bytes to a model, with everything that is wrong with it.

Nothing here raises for what a file may hold; all of it becomes findings, sorted by place.
"""

from __future__ import annotations

import copy
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

from pydantic import ValidationError, create_model

from cards.needs import NONE, Needs
from cards.spec.candidates import Candidates
from cards.spec.checks import check
from cards.spec.complaints import complaints, refused_paths
from cards.spec.findings import Finding, Place
from cards.spec.for_reader import for_reader
from cards.spec.kept import is_kept_file, kept_findings
from cards.spec.kept_source import KeptSource
from cards.spec.models import Spec
from cards.spec.nodes import Mapping, compose, plain
from cards.spec.opening import name_of, read_bytes
from cards.spec.parts import Parts
from cards.spec.places import Places, Step
from cards.spec.references import References
from cards.spec.source import Lines, decoded

_ROUNDS = 8  # each frees the data of at least one refused value
_ALONE = (("pattern",), ("photographs",))  # nothing else in a spec hangs on them
_IN_ITS_PLACE = {"exercise": "threading"}
_MOST_BROKEN = 200  # beyond this, checks across fields say nothing worth reading


@dataclass(frozen=True, slots=True)
class Reading:
    """A spec file as read: `spec` is None when the models refused it; `source` its very bytes.

    `path` is where it was read, None for standard input. `is_kept` is true of a file of looms and
    yarns, which is no spec. `loom` and `candidate` are those for which it was read, None for its
    own; `candidates` are the names of all that are to be compared, none where there is one alone,
    and `candidate_places` where they stand. `kept` are the files that it refers to, as they were
    read. `needs` are those of the reader, for whose left hand it may be `mirrored`.
    """

    spec: Spec | None
    findings: tuple[Finding, ...]
    places: Places
    source: bytes
    name: str
    path: Path | None = None
    is_kept: bool = False
    loom: str | None = None
    candidate: str | None = None
    candidates: tuple[str, ...] = ()
    candidate_places: tuple[Place, ...] = ()
    kept: tuple[KeptSource, ...] = ()
    needs: Needs = NONE
    mirrored: bool = False

    def on_loom(self, loom: str) -> Reading:
        """Return the same spec read for another of its looms."""
        return self._again(loom, self.candidate)

    def on_candidate(self, name: str) -> Reading:
        """Return the same spec read with the changes of one of its candidates."""
        return self._again(self.loom, name)

    def for_reader(self, needs: Needs) -> Reading:
        """Return the same spec, as it was written, for who has these needs."""
        if self.spec is None:
            return replace(self, needs=needs)
        mirrored = needs.left_handed and self.spec.conventions.first_end == "right"
        return replace(self, spec=for_reader(self.spec, needs), needs=needs, mirrored=mirrored)

    def _again(self, loom: str | None, candidate: str | None) -> Reading:
        reading = read_source(self.source, self.name, self.path, loom, candidate)
        return reading.for_reader(self.needs)


def read_spec(path: str | Path, loom: str | None = None, candidate: str | None = None) -> Reading:
    """Read the spec at `path`, or from standard input when it is `-`.

    With `loom` it is read for the loom of that name, which the spec or a file beside it describes;
    with `candidate` it has the changes of its candidate of that name.
    """
    name, found = name_of(path), read_bytes(path)
    if isinstance(found, Finding):
        return _nothing(name, b"", found)
    place = None if str(path) == "-" else Path(path)
    return read_source(found, name, place, loom, candidate)


def read_source(
    source: bytes,
    name: str,
    path: Path | None = None,
    loom: str | None = None,
    candidate: str | None = None,
) -> Reading:
    """Read a spec from its bytes; `name` stands for the file in the findings.

    `path` is its place, beside which it may keep looms and yarns; `loom` and `candidate` as in
    `read_spec`.
    """
    text, finding = decoded(source, name)
    if finding is not None:
        return _nothing(name, source, finding)
    lines = Lines(text, name)
    root, findings = compose(lines)
    places = Places(root, lines)
    if root is None:
        return Reading(None, _in_order(findings), places, source, name, path)
    kept, spec = is_kept_file(root), None
    candidates = Candidates(Mapping(0) if kept else root, lines)
    chosen = candidates.use(candidate) if candidate else ""
    references = References(root, lines, path)
    # What a reference leads to is part of the spec, so without it nothing more can be said.
    there = chosen is not None and references.resolve()
    if there and (loom is None or kept or references.use_loom(loom)):
        if kept:
            findings += kept_findings(root, places, lines)
        else:
            spec, more = _modelled(plain(root), places)
            findings += more
    found = _in_order([*findings, *references.findings, *candidates.findings])
    return Reading(
        spec, found, places, source, name, path, kept,
        loom, chosen or None, candidates.names, candidates.places, references.kept,
    )  # fmt: skip


def _in_order(findings: list[Finding]) -> tuple[Finding, ...]:
    return tuple(sorted(findings, key=lambda each: (each.place, each.code, each.message)))


def _modelled(data: Any, places: Places) -> tuple[Spec | None, list[Finding]]:  # noqa: ANN401
    try:
        spec = Spec.model_validate(data)
    except ValidationError as error:
        findings = complaints(error, places)
        wrong = [each for each in findings if each.code == "wrong-version"]
        if wrong:
            return None, wrong  # the rest may be right in that version
        return None, findings + check(_partly(data, error, places))
    return spec, check(Parts.of(spec, places))


def _partly(data: Any, error: ValidationError, places: Places) -> Parts:  # noqa: ANN401
    """Read what is left when everything that was refused is taken out."""
    data = copy.deepcopy(data)
    broken: set[tuple[Step, ...]] = set()
    for _ in range(_ROUNDS):
        broken.update(refused_paths(error))
        if len(broken) > _MOST_BROKEN:
            break
        for path in refused_paths(error):
            _take_out(data, path[:1] if path[:1] in _ALONE else path)
        try:
            return Parts.of(_partial_model().model_validate(data), places, frozenset(broken))
        except ValidationError as again:
            error = again
    return Parts(places, broken=frozenset(broken))


@cache
def _partial_model() -> type[Spec]:
    """Return the spec model with no key required."""
    wanted = {name: info for name, info in Spec.model_fields.items() if info.is_required()}
    fields: dict[str, Any] = {
        name: (info.annotation if name != "loomfolio" else Any, None)
        for name, info in wanted.items()
    }
    return create_model("PartialSpec", __base__=Spec, **fields)


def _take_out(data: Any, path: tuple[Step, ...]) -> None:  # noqa: ANN401
    """Delete what stands at `path`, or the last thing on the way that exists."""
    holder: Any = None
    last: Any = None
    for step in path:
        if isinstance(data, dict) and str(step) in data:
            holder, last, data = data, str(step), data[str(step)]
        elif isinstance(data, list) and isinstance(step, int) and step < len(data):
            holder, last, data = data, step, data[step]
        else:
            break
    if isinstance(holder, dict):
        del holder[last]
    elif isinstance(holder, list) and isinstance(last, int):
        # Kept, so that the sections, or exercises, after it keep their places.
        holder[last] = dict(_IN_ITS_PLACE if path[0] == "exercises" else {"section": "?"})


def _nothing(name: str, source: bytes, finding: Finding) -> Reading:
    return Reading(None, (finding,), Places(None, Lines("", name)), source, name)
