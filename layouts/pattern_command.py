"""The command that prints a project as a pattern booklet."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from layouts.naming import as_and_on, stem_of
from layouts.options import (
    candidate_option,
    folder_option,
    format_option,
    loom_option,
    no_spec_option,
    paper_option,
)
from layouts.paper_options import OnPaper, on_paper_options
from layouts.printing import printed
from layouts.worked import project_to_print, work_out_spec

if TYPE_CHECKING:
    from cards.spec import PaperSize
    from layouts.output import Told


@click.command()
@click.argument("spec")
@folder_option("folio")
@paper_option
@format_option
@loom_option
@candidate_option
@on_paper_options
@no_spec_option
def pattern(
    spec: str,
    output: str,
    paper: PaperSize | None,
    form: str,
    loom: str | None,
    candidate: str | None,
    on_paper: OnPaper,
    *,
    no_spec: bool,
) -> None:
    """Print a SPEC as a pattern booklet: one PDF, and one SVG for each page."""
    outcome = work_out_spec(spec, loom, candidate)
    project = project_to_print(outcome, spec)
    stem = f"{stem_of(spec)}{as_and_on(candidate, loom)}.pattern"
    folder, how = Path(output), on_paper.how(project.paper)

    def work(told: Told) -> list[Path]:
        from layouts.folio import frame_of  # noqa: PLC0415 - a cold start goes without
        from layouts.output import Output  # noqa: PLC0415
        from layouts.pattern_files import print_pattern  # noqa: PLC0415

        frame = frame_of(project, paper, how=how)
        become = Output(form, how, with_spec=not no_spec)
        return print_pattern(project, frame, stem, folder, become, told, outcome.others)

    sys.exit(0 if printed(stem, folder, work) else 1)
