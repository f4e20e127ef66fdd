"""What is found in a bad spec: every finding of everything that looks at a spec."""

from pathlib import Path

from cards.project import work_out_on_all
from cards.spec import Finding, read_spec
from layouts.glyphs import glyph_findings


def findings_of(path: Path) -> list[Finding]:
    reading = read_spec(path)
    findings = [*work_out_on_all(reading).findings]
    if reading.spec is not None:
        findings += glyph_findings(reading.spec, reading.places)
    return sorted(findings, key=lambda each: (each.place.line, each.place.column))


def written(finding: Finding, path: Path | None = None) -> str:
    """One line of an .expected file: the finding with its code, and its file if not the spec."""
    place = finding.place
    file = Path(place.file)
    where = f"{file.name}:" if path is not None and file.name != path.name else ""
    mend = f" ({finding.mend})" if finding.mend else ""
    return f"{where}{place.line}:{place.column}: {finding.level}: {finding.code}: {finding.message}{mend}"
