"""The command that prints the handouts of a class: folios for seats, a file for the teacher."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from layouts.naming import as_and_on, stem_of
from layouts.options import candidate_option, no_spec_option, not_empty
from layouts.streams import give_path, tell
from layouts.worked import report, work_out_class

if TYPE_CHECKING:
    from layouts.worked import Class


@click.command()
@click.argument("spec")
@click.option(
    "-o",
    "--output",
    default="handouts",
    show_default=True,
    callback=not_empty,
    help="Folder for the files.",
)
@click.option(
    "--format",
    "form",
    type=click.Choice(["pdf", "svg", "both"]),
    default="both",
    show_default=True,
    help="Files to write.",
)
@candidate_option
@no_spec_option
def handouts(spec: str, output: str, form: str, candidate: str | None, *, no_spec: bool) -> None:
    """Print for each seat of the class of a SPEC its folio, and a file for the teacher.

    The spec travels in the teacher's file alone: it gives the answers to exercises away.
    """
    from layouts.signals import ended_by_exit  # noqa: PLC0415

    with ended_by_exit():
        found = work_out_class(spec, candidate)
        report(found.findings)
        if found.class_ is None and not found.has_errors:
            raise click.BadParameter(
                "there is no class in it; add `class: {seats: [{seat: window}]}`",
                param_hint="SPEC",
            )
        if found.has_errors:
            tell(f"{spec}: not printed; mend the errors first")
            sys.exit(1)
        stem = stem_of(spec) + as_and_on(candidate, None)
        written = _print(found, stem, Path(output), form, with_spec=not no_spec)
    sys.exit(0 if written and all(give_path(path) for path in written) else 1)


def _print(found: Class, stem: str, folder: Path, form: str, *, with_spec: bool) -> list[Path]:
    """Print all handouts; return the files written: all of them, or none, and then it is told."""
    from layouts.handouts import Told, print_handouts  # noqa: PLC0415
    from layouts.paper import PaperTooSmall  # noqa: PLC0415
    from layouts.progress import Progress  # noqa: PLC0415

    notes: list[str] = []
    project, class_ = found.project, found.class_
    if project is None or class_ is None:  # the caller has told why
        return []
    try:
        with Progress(stem) as progress:
            told = Told(progress.step, notes.append)
            return print_handouts(
                project, class_, found.seats, stem, folder, form, told, with_spec=with_spec
            )
    except PaperTooSmall as error:
        tell(f"{stem}: {error} (choose another paper for it; nothing was printed)")
    except OSError as error:
        from layouts.refusals import print_refusal  # noqa: PLC0415

        tell(print_refusal(error, folder))
    finally:
        for words in notes:
            tell(f"{stem}: note: {words}")
    return []
