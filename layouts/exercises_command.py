"""The command that prints exercises, and their answers into files of their own."""

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
    needs_options,
    no_spec_option,
    paper_option,
)
from layouts.printing import printed
from layouts.streams import tell
from layouts.worked import project_to_print, work_out_spec

if TYPE_CHECKING:
    from cards.needs import Needs
    from cards.spec import PaperSize
    from layouts.output import Told


@click.command()
@click.argument("spec")
@folder_option("folio")
@paper_option
@format_option
@loom_option
@candidate_option
@needs_options
@no_spec_option
def exercises(
    spec: str,
    output: str,
    paper: PaperSize | None,
    form: str,
    loom: str | None,
    candidate: str | None,
    needs: Needs,
    *,
    no_spec: bool,
) -> None:
    """Print the exercises of a SPEC, and their answers into files of their own.

    The spec never travels inside a file of exercises: it would give the answers away.
    """
    project = project_to_print(work_out_spec(spec, loom, candidate, needs=needs), spec)
    stem = stem_of(spec) + as_and_on(candidate, loom) + needs.suffix
    folder = Path(output)

    def work(told: Told) -> list[Path]:
        from layouts.exercises import answer_files, exercise_files  # noqa: PLC0415 - cold start
        from layouts.files import write_files  # noqa: PLC0415
        from layouts.folio import frame_of  # noqa: PLC0415

        frame = frame_of(project, paper, needs)
        files = exercise_files(project, frame, stem, form, told.note)
        files += answer_files(project, frame, stem, form, with_spec=not no_spec)
        if not files:
            why = "each was left out" if project.exercises else "add one under `exercises:`"
            tell(f"{spec}: there is no exercise to print; {why}")
            return []
        return write_files(files, folder, stem)

    sys.exit(0 if printed(stem, folder, work) else 1)
