"""The command that prints the handouts of a class: folios for seats, a file for the teacher."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from layouts.naming import as_and_on, stem_of
from layouts.options import candidate_option, folder_option, format_option, no_spec_option
from layouts.printing import printed
from layouts.streams import tell
from layouts.worked import report, work_out_class

if TYPE_CHECKING:
    from layouts.output import Told


@click.command()
@click.argument("spec")
@folder_option("handouts")
@format_option
@candidate_option
@no_spec_option
def handouts(spec: str, output: str, form: str, candidate: str | None, *, no_spec: bool) -> None:
    """Print for each seat of the class of a SPEC its folio, and a file for the teacher.

    The spec travels in the teacher's file alone: it gives the answers to exercises away.
    """
    found = work_out_class(spec, candidate)
    report(found.findings)
    if found.class_ is None and not found.has_errors:
        raise click.BadParameter(
            "there is no class in it; add `class: {seats: [{seat: window}]}`", param_hint="SPEC"
        )
    if found.class_ is None or found.project is None or found.has_errors:
        tell(f"{spec}: not printed; mend the errors first")
        sys.exit(1)
    project, class_ = found.project, found.class_
    stem = stem_of(spec) + as_and_on(candidate, None)
    folder = Path(output)

    def work(told: Told) -> list[Path]:
        from layouts.handouts import print_handouts  # noqa: PLC0415 - a cold start goes without
        from layouts.output import Output  # noqa: PLC0415

        become = Output(form, with_spec=not no_spec)
        return print_handouts(project, class_, found.seats, stem, folder, become, told)

    sys.exit(0 if printed(stem, folder, work) else 1)
