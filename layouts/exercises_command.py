"""The command that prints exercises, and their answers into files of their own."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from layouts.naming import as_and_on, stem_of
from layouts.options import (
    candidate_option,
    loom_option,
    needs_options,
    no_spec_option,
    not_empty,
    paper_option,
)
from layouts.streams import give_path, tell
from layouts.worked import report, work_out_spec

if TYPE_CHECKING:
    from cards.needs import Needs
    from cards.project import Project
    from cards.spec import PaperSize


@click.command()
@click.argument("spec")
@click.option(
    "-o",
    "--output",
    default="folio",
    show_default=True,
    callback=not_empty,
    help="Folder for the files.",
)
@paper_option
@click.option(
    "--format",
    "form",
    type=click.Choice(["pdf", "svg", "both"]),
    default="both",
    show_default=True,
    help="Files to write.",
)
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
    outcome = work_out_spec(spec, loom, candidate, needs=needs)
    report(outcome.findings)
    project = outcome.project
    if project is None or outcome.has_errors:
        tell(f"{spec}: not printed; mend the errors first")
        sys.exit(1)
    stem = stem_of(spec) + as_and_on(candidate, loom) + needs.suffix
    written = _print(project, spec, stem, Path(output), form, paper, needs, with_spec=not no_spec)
    given = [give_path(path) for path in written]
    sys.exit(0 if given and all(given) else 1)


def _print(
    project: Project,
    spec: str,
    stem: str,
    folder: Path,
    form: str,
    paper: PaperSize | None,
    needs: Needs,
    *,
    with_spec: bool,
) -> list[Path]:
    """Print exercises and answers; return the files written: all of them, or none."""
    from layouts.exercises import answer_files, exercise_files  # noqa: PLC0415
    from layouts.files import write_files  # noqa: PLC0415
    from layouts.folio import frame_of  # noqa: PLC0415
    from layouts.paper import PaperTooSmall  # noqa: PLC0415
    from layouts.signals import ended_by_exit  # noqa: PLC0415

    notes: list[str] = []
    try:
        with ended_by_exit():
            frame = frame_of(project, paper, needs)
            files = exercise_files(project, frame, stem, form, notes.append)
            files += answer_files(project, frame, stem, form, with_spec=with_spec)
            if not files:
                asked = "each was left out" if project.exercises else "add one under `exercises:`"
                tell(f"{spec}: there is no exercise to print; {asked}")
                return []
            return write_files(files, folder, stem)
    except PaperTooSmall as error:
        tell(f"{spec}: {error} (choose another paper; nothing was printed)")
    except OSError as error:
        from layouts.refusals import print_refusal  # noqa: PLC0415

        tell(print_refusal(error, folder))
    finally:
        for words in notes:
            tell(f"{spec}: note: {words}")
    return []
