"""What a project was worked out from: bytes that travel inside its files, and their fingerprint.

A card whose fingerprint is another than that of the spec is of an older spec.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass, field

from cards.project.photographs import photographs_of
from cards.spec import KeptSource, Reading

# The name of a spec that was read from standard input.
UNNAMED = "spec.yaml"


@dataclass(frozen=True, slots=True)
class Source:
    """The spec as it was read: name of its file, its bytes, and the kept files that it uses.

    `photographs` have names and digests, empty of one that is not there. They do not travel, and
    are not in the fingerprint: a spec that was recovered from its cards has none.
    """

    name: str
    data: bytes = field(repr=False)
    kept: tuple[KeptSource, ...] = field(default=(), repr=False)
    photographs: tuple[tuple[str, str], ...] = ()

    @property
    def fingerprint(self) -> str:
        """Eight figures or letters that are others for other bytes, as `3f9a-1c07`.

        They are the first of SHA-256 (FIPS 180-4) over the spec and then, in the order of their
        names, the names and bytes of the kept files, each behind its length, so that nothing runs
        from one into the next. The name of the spec is not in it: a copy is the same spec.
        """
        digest = hashlib.sha256()
        for part in self._parts():
            digest.update(len(part).to_bytes(8, "big"))
            digest.update(part)
        first = digest.hexdigest()[:8]
        return f"{first[:4]}-{first[4:]}"

    def _parts(self) -> Iterator[bytes]:
        yield self.data
        for file in sorted(self.kept, key=lambda each: each.name):
            yield file.name.encode("utf-8", "surrogatepass")
            yield file.data


def source_of(reading: Reading) -> Source:
    """Return what a spec was read from."""
    name = reading.path.name if reading.path is not None else UNNAMED
    photographs = tuple((each.file, each.digest()) for each in photographs_of(reading))
    return Source(name, reading.source, reading.kept, photographs)
