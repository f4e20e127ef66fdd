"""What is found in a bad spec: every finding of everything that looks at a spec."""

from pathlib import Path

from cards.spec import Finding
from layouts.worked import work_out_spec


def findings_of(path: Path) -> list[Finding]:
    return [*work_out_spec(str(path), None, with_candidates=True).findings]


def written(finding: Finding, path: Path | None = None) -> str:
    """One line of an .expected file: the finding with its code, and its file if not the spec."""
    place = finding.place
    file = Path(place.file)
    where = f"{file.name}:" if path is not None and file.name != path.name else ""
    mend = f" ({finding.mend})" if finding.mend else ""
    return f"{where}{place.line}:{place.column}: {finding.level}: {finding.code}: {finding.message}{mend}"
