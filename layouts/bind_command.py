"""The command that binds a folder of specs into one PDF."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from layouts.options import no_spec_option, not_empty, paper_option
from layouts.streams import give_path, tell
from layouts.worked import report

if TYPE_CHECKING:
    from cards.spec import PaperSize
    from layouts.bind import Gathered
    from layouts.binder_specs import Found

_MOST_TOLD = 5


@click.command()
@click.argument(
    "folder",
    metavar="DIR",
    type=click.Path(exists=True, file_okay=False, path_type=Path),
)
@click.option(
    "-o", "--output", "file", metavar="FILE", required=True, callback=not_empty,
    help="The PDF to write.",
)  # fmt: skip
@click.option("--title", callback=not_empty, help="Title of the binder; else the folder's name.")
@paper_option
@no_spec_option
@click.option("--anew", is_flag=True, help="Draw every project again, changed or not.")
def bind(
    folder: Path,
    file: str,
    title: str | None,
    paper: PaperSize | None,
    *,
    no_spec: bool,
    anew: bool,
) -> None:
    """Bind all specs in DIR, and in folders below it, into one binder with contents and indexes.

    Only projects whose spec has changed are drawn again; the others are kept in a hidden folder
    beside FILE.
    """
    from layouts.paper import PaperTooSmall  # noqa: PLC0415
    from layouts.signals import ended_by_exit  # noqa: PLC0415

    target = _target(file)
    called = _called(title or folder.resolve().name or "Binder")
    found = _specs(folder)
    try:
        with ended_by_exit():
            bound = _bound(folder, found, target, called, paper, anew=anew, with_spec=not no_spec)
    except PaperTooSmall as error:
        tell(f"{error} (choose another paper; nothing was bound)")
        bound = False
    except OSError as error:
        from layouts.refusals import print_refusal  # noqa: PLC0415

        tell(print_refusal(error, target.parent))
        bound = False
    sys.exit(0 if bound else 1)


def _target(file: str) -> Path:
    """Return the file to write; a binder never takes the place of a spec."""
    target = Path(file)
    if target.suffix.lower() != ".pdf":
        raise click.BadParameter(f"a binder is a PDF; name it {file}.pdf", param_hint="-o")
    return target


def _called(title: str) -> str:
    from layouts.glyphs import printable  # noqa: PLC0415

    return printable(" ".join(title.split()))


def _specs(folder: Path) -> Found:
    """Return the specs in a folder; without any, there is nothing to do."""
    from layouts.binder_specs import TooManySpecs, specs_in  # noqa: PLC0415

    try:
        found = specs_in(folder)
    except OSError as error:
        tell(f"{folder}: cannot be read: {error.strerror or error} (check its permissions)")
        sys.exit(1)
    except TooManySpecs as error:
        tell(f"{folder}: {error} (bind the folders in it one by one)")
        sys.exit(1)
    if found.others:
        told = ", ".join(found.others[:_MOST_TOLD])
        more = len(found.others) - _MOST_TOLD
        tell(f"{folder}: note: left out, being no spec: {told}" + (f", {more} more" * (more > 0)))
    if not found.specs:
        tell(f"{folder}: there is no spec in it (name a folder of specs; nothing was bound)")
        sys.exit(1)
    return found


def _bound(
    folder: Path,
    found: Found,
    target: Path,
    title: str,
    paper: PaperSize | None,
    *,
    anew: bool,
    with_spec: bool,
) -> bool:
    """Bind and write; return whether all specs are in the binder."""
    from cards.spec import parse_paper_size  # noqa: PLC0415
    from layouts.bind import binder_bytes, gather  # noqa: PLC0415
    from layouts.binder_cache import FolioCache  # noqa: PLC0415
    from layouts.binder_page import binder_frame  # noqa: PLC0415
    from layouts.files import File, check_target, write_files  # noqa: PLC0415
    from layouts.progress import Progress  # noqa: PLC0415

    check_target(target)  # before minutes are spent on what cannot be written
    frame = binder_frame(paper or parse_paper_size(found.paper))
    cache = FolioCache(target.with_name(f".{target.name}.bind"), folder, frame, anew=anew)
    with Progress(target.name) as progress:
        gathered = gather(folder, found.specs, frame, cache, lambda done: progress.step(0.9 * done))
        data = binder_bytes(gathered, title, frame, with_spec=with_spec)
        progress.step(1.0)
    _tell(gathered)
    if data is None:
        tell(f"{folder}: none of its specs can be bound; mend the errors first")
        return False
    (written,) = write_files([File(target.name, data)], target.parent, target.stem)
    cache.forget_others()
    if cache.trouble is not None:
        tell(f"{target.name}: note: nothing is kept for the next time: {cache.trouble.strerror}")
    anew_words = f"{len(gathered.drawn)} drawn, {gathered.kept} as they were"
    tell(f"{target.name}: {_projects(len(gathered.folios))} bound, {anew_words}")
    return give_path(written) and not gathered.unbound


def _tell(gathered: Gathered) -> None:
    """Tell of every spec what is found in it, bound or not."""
    from layouts.binder_folio import Unbound  # noqa: PLC0415

    for each in gathered.inside:
        report(each.findings)
        if isinstance(each, Unbound):
            tell(f"{each.name}: not bound; {each.why or 'mend the errors first'}")
            continue
        for words in each.notes:
            tell(f"{each.name}: note: {words}")


def _projects(number: int) -> str:
    return "1 project" if number == 1 else f"{number} projects"
