"""The command that prints a project as a pattern booklet."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from layouts.naming import as_and_on, stem_of
from layouts.options import candidate_option, loom_option, no_spec_option, not_empty, paper_option
from layouts.paper_options import OnPaper, on_paper_options
from layouts.streams import give_path, tell
from layouts.worked import report, work_out_spec

if TYPE_CHECKING:
    from cards.project import Outcome
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
    from layouts.signals import ended_by_exit  # noqa: PLC0415

    with ended_by_exit():
        outcome = work_out_spec(spec, loom, candidate)
        report(outcome.findings)
        if outcome.is_kept:
            raise click.BadParameter(
                "this is a file of looms and yarns, and no spec", param_hint="SPEC"
            )
        if outcome.project is None or outcome.has_errors:
            tell(f"{spec}: not printed; mend the errors first")
            sys.exit(1)
        stem = f"{stem_of(spec)}{as_and_on(candidate, loom)}.pattern"
        written = _print(outcome, stem, Path(output), paper, form, on_paper, with_spec=not no_spec)
        given = [give_path(path) for path in written]
    sys.exit(0 if written and all(given) else 1)


def _print(
    outcome: Outcome,
    stem: str,
    folder: Path,
    paper: PaperSize | None,
    form: str,
    on_paper: OnPaper,
    *,
    with_spec: bool,
) -> list[Path]:
    """Print the booklet; return the files written: all of them, or none, and then it is told."""
    from layouts.folio import frame_of  # noqa: PLC0415
    from layouts.paper import PaperTooSmall  # noqa: PLC0415
    from layouts.pattern_files import print_pattern  # noqa: PLC0415
    from layouts.progress import Progress  # noqa: PLC0415

    project = outcome.project
    if project is None:  # the caller has told why
        return []
    notes: list[str] = []
    try:
        how = on_paper.how(project.paper)
        frame = frame_of(project, paper, how=how)
        with Progress(stem) as progress:
            return print_pattern(
                project, frame, stem, folder, form, progress.step, notes.append, outcome.others,
                how, with_spec=with_spec,
            )  # fmt: skip
    except PaperTooSmall as error:
        tell(f"{stem}: {error} (choose another paper; nothing was printed)")
    except OSError as error:
        from layouts.refusals import print_refusal  # noqa: PLC0415

        tell(print_refusal(error, folder))
    finally:
        for words in notes:
            tell(f"{stem}: note: {words}")
    return []
