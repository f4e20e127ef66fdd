"""What the command `measured` gives: a block to paste, or data; what is missing is told."""

from __future__ import annotations

from cards.measured_block import measured_block, measured_data
from cards.project import Outcome
from cards.project.measured_checks import ADD
from layouts.streams import give_data, tell


def give_measured(outcome: Outcome, spec: str, *, as_json: bool) -> bool:
    """Write what was measured to stdout; return whether there was anything, and it was written."""
    project = outcome.project
    if project is None or outcome.has_errors:
        tell(f"{spec}: not read back; mend the errors first")
        return False
    read = project.measured
    if read is None:
        tell(f"{spec}: nothing is measured in it ({ADD})")
        return False
    if all(found.value is None for found in read.found):
        for found in read.found:
            tell(f"{spec}: {found.name}: {found.why}")
        return False
    if as_json:
        import json  # noqa: PLC0415

        text = json.dumps(measured_data(project, read), indent=1, ensure_ascii=False)
        return give_data(f"{text}\n")
    return give_data(measured_block(project, read))
