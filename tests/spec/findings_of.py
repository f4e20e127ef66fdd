"""What is found in a bad spec: every finding of everything that looks at a spec."""

from pathlib import Path

from cards.project import work_out
from cards.spec import Finding, read_spec
from layouts.glyphs import glyph_findings


def findings_of(path: Path) -> list[Finding]:
    reading = read_spec(path)
    findings = [*work_out(reading).findings]
    if reading.spec is not None:
        findings += glyph_findings(reading.spec, reading.places)
    return sorted(findings, key=lambda each: (each.place.line, each.place.column))


def written(finding: Finding) -> str:
    """One line of an .expected file: the finding without its file, with its code."""
    place = finding.place
    mend = f" ({finding.mend})" if finding.mend else ""
    return f"{place.line}:{place.column}: {finding.level}: {finding.code}: {finding.message}{mend}"
