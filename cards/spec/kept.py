"""A file of looms and yarns that several specs share: what may stand in it.

Its looms are a list and its yarns a mapping, written as in a spec; nothing else is in it but the
version.
"""

from __future__ import annotations

from typing import Any

from pydantic import Field, ValidationError

from cards.spec import fields as kind
from cards.spec.base import SpecModel
from cards.spec.complaints import complaints
from cards.spec.cost_checks import check_prices
from cards.spec.findings import Finding
from cards.spec.loom_checks import check_loom, check_looms
from cards.spec.models import VERSION, Loom, Yarn
from cards.spec.nodes import Listing, Mapping, plain
from cards.spec.parts import Parts
from cards.spec.places import Places
from cards.spec.quoting import shortened
from cards.spec.scalars import Scalar
from cards.spec.source import Lines
from cards.spec.words import suggestion

_KEYS = ("loomfolio", "looms", "yarns")


class Kept(SpecModel):
    """Looms and yarns that are kept once."""

    loomfolio: Any = None
    looms: list[Loom] = Field([])
    yarns: dict[kind.YarnName, Yarn] = Field({})


def is_kept_file(root: Mapping) -> bool:
    """Whether a file is one of looms and yarns, and no spec."""
    keys = root.keys.keys()
    return bool(keys & {"looms", "yarns"}) and not keys & {"project", "draft", "cloth", "loom"}


def strange_keys(root: Mapping, lines: Lines) -> list[Finding]:
    """Return what is wrong with the keys and the version of a file of looms and yarns."""
    found = [
        Finding(
            "error",
            "unknown-key",
            f"unknown key '{shortened(name)}' in a file of looms and yarns",
            suggestion(name, _KEYS),
            lines.place(key.start),
        )
        for name, key in root.keys.items()
        if name not in _KEYS
    ]
    version = root.values.get("loomfolio")
    if not isinstance(version, Scalar) or version.value.strip() != str(VERSION):
        where = lines.place(version.start if version is not None else 0)
        message = f"a file of looms and yarns begins with `loomfolio: {VERSION}`"
        mend = f"write `loomfolio: {VERSION}`"
        found.append(Finding("error", "wrong-version", message, mend, where))
    for name, shape in (("looms", Listing), ("yarns", Mapping)):
        node = root.values.get(name)
        if node is not None and not isinstance(node, shape):
            wanted = "a list of looms" if name == "looms" else "a mapping of yarns by their names"
            message, mend = f"'{name}' must be {wanted}", "write it as in a spec"
            found.append(Finding("error", "wrong-shape", message, mend, lines.place(node.start)))
    return found


def kept_findings(root: Mapping, places: Places, lines: Lines) -> list[Finding]:
    """Return everything that is wrong with a file of looms and yarns."""
    findings = strange_keys(root, lines)
    if findings:
        return findings
    try:
        kept = Kept.model_validate(plain(root))
    except ValidationError as error:
        return complaints(error, places)
    parts = Parts(places, yarns=kept.yarns, looms=kept.looms)
    check_prices(parts)
    check_looms(parts)
    for position, loom in enumerate(kept.looms):
        check_loom(parts, loom, "looms", position)
    return parts.findings
