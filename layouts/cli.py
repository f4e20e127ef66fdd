"""The command line: messages go to stderr, data to stdout, exit 0, 1 or 2 as the README says."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from importlib import resources
from pathlib import Path
from typing import TYPE_CHECKING

import click

from layouts.progress import Progress

if TYPE_CHECKING:
    from cards.project import Outcome, Project
    from cards.spec import Finding

STARTERS = ("plain", "stripes", "twill", "two-layers", "already-wound")

_COLOURS = {"error": "red", "warning": "yellow", "note": "cyan"}


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="loomfolio")
def main() -> None:
    """Turn one YAML project spec into a handweaver's loom cards, as PDF and SVG."""


@main.command()
@click.argument("kind", type=click.Choice(STARTERS))
@click.argument("file", type=click.Path(path_type=Path))
def new(kind: str, file: Path) -> None:
    """Write a commented starter spec of a KIND into FILE; a file that is there is left alone."""
    text = resources.files("cards").joinpath("starters", f"{kind}.yaml").read_text("utf-8")
    if str(file) == "-":
        click.echo(text, nl=False)
        return
    try:
        with file.open("x", encoding="utf-8", newline="\n") as stream:
            stream.write(text)
    except FileExistsError:
        _fail(f"{file}: is there already", "choose another name; nothing was changed")
    except OSError as error:
        _fail(f"{file}: cannot be written: {error.strerror}", "choose another folder")
    click.echo(f"{file} is written; look at it, then: loomfolio print {file}", err=True)


@main.command()
@click.argument("specs", nargs=-1, required=True, metavar="SPEC...")
def check(specs: Sequence[str]) -> None:
    """Check each SPEC and say what is wrong, where, and how to mend it."""
    failed = False
    for spec in specs:
        outcome = _work_out(spec)
        _report(outcome.findings)
        failed |= outcome.has_errors
        if not outcome.findings:
            click.echo(f"{spec}: nothing to mend", err=True)
    sys.exit(1 if failed else 0)


@main.command()
@click.argument("spec")
@click.option("--json", "as_json", is_flag=True, help="Write the plan as data.")
@click.option("--no-drawdown", is_flag=True, help="Leave the large arrays out of the data.")
def plan(spec: str, *, as_json: bool, no_drawdown: bool) -> None:
    """Show what a SPEC comes to: ends, lengths, yarn, packages, cost."""
    outcome = _work_out(spec)
    _report(outcome.findings)
    if as_json:
        from cards.plan_json import plan_data  # noqa: PLC0415 -- only this command needs it

        data = plan_data(outcome, drawdown=not no_drawdown)
        click.echo(json.dumps(data, indent=1, ensure_ascii=False))
    elif outcome.project is not None:
        from cards.plan_table import plan_table  # noqa: PLC0415

        click.echo(plan_table(outcome.project))
    sys.exit(1 if outcome.has_errors else 0)


@main.command("print")
@click.argument("specs", nargs=-1, required=True, metavar="SPEC...")
@click.option("-o", "--output", default="folio", show_default=True, help="Folder for the files.")
@click.option(
    "--sheet", "sheets", multiple=True, metavar="NAME", help="Print this sheet; may be repeated."
)
@click.option("--paper", help="A4, Letter, A5, '5 x 8 in', or a size such as '200 x 250 mm'.")
@click.option(
    "--format",
    "form",
    type=click.Choice(["pdf", "svg", "both"]),
    default="both",
    show_default=True,
    help="Files to write.",
)
def print_(
    specs: Sequence[str], output: str, sheets: Sequence[str], paper: str | None, form: str
) -> None:
    """Print the folio of each SPEC: one PDF with all sheets, and one SVG for each page."""
    _check_sheets(sheets)
    _check_stems(specs)
    failed = False
    for spec in specs:
        outcome = _work_out(spec)
        _report(outcome.findings)
        if outcome.project is None or outcome.has_errors:
            click.echo(f"{spec}: not printed; mend the errors first", err=True)
            failed = True
            continue
        failed |= not _print_one(outcome.project, _stem(spec), Path(output), sheets, paper, form)
    sys.exit(1 if failed else 0)


@main.command()
def schema() -> None:
    """Write the JSON Schema of a spec, for editors that complete and check as you type."""
    from cards.spec import spec_schema  # noqa: PLC0415

    click.echo(json.dumps(spec_schema(), indent=2, ensure_ascii=False))


def _work_out(spec: str) -> Outcome:
    """Read and work out a spec, with what the font cannot print among the findings."""
    from cards.project import Outcome, work_out  # noqa: PLC0415
    from cards.spec import read_spec  # noqa: PLC0415
    from layouts.glyphs import glyph_findings  # noqa: PLC0415

    reading = read_spec(spec)
    outcome = work_out(reading)
    if reading.spec is None:
        return outcome
    more = glyph_findings(reading.spec, reading.places)
    findings = sorted(
        (*outcome.findings, *more), key=lambda each: (each.place.line, each.place.column)
    )
    return Outcome(tuple(findings), outcome.project, outcome.warp)


def _report(findings: Sequence[Finding]) -> None:
    coloured = sys.stderr.isatty() and not os.environ.get("NO_COLOR")
    for finding in findings:
        text = finding.text()
        if coloured:
            word = f" {finding.level}: "
            styled = click.style(word, fg=_COLOURS[finding.level], bold=True)
            text = text.replace(word, styled, 1)
        click.echo(text, err=True)


def _fail(message: str, mend: str) -> None:
    click.echo(f"{message} ({mend})", err=True)
    sys.exit(1)


def _stem(spec: str) -> str:
    return "folio" if spec == "-" else Path(spec).stem


def _check_sheets(sheets: Sequence[str]) -> None:
    from layouts.folio import SHEETS  # noqa: PLC0415

    for name in sheets:
        if name not in SHEETS:
            raise click.BadParameter(
                f"there is no sheet {name!r}; there are {', '.join(SHEETS)}", param_hint="--sheet"
            )


def _check_stems(specs: Sequence[str]) -> None:
    stems = [_stem(spec) for spec in specs]
    double = next((stem for stem in stems if stems.count(stem) > 1), None)
    if double is not None:
        raise click.BadParameter(
            f"two specs would both be printed as {double}.pdf; print them into two folders",
            param_hint="SPEC...",
        )


def _print_one(
    project: Project,
    stem: str,
    folder: Path,
    sheets: Sequence[str],
    paper: str | None,
    form: str,
) -> bool:
    """Print one project; return whether it is printed. Nothing is written unless all can be."""
    from cards.spec import NotationError  # noqa: PLC0415
    from layouts.folio import frame_of, print_folio  # noqa: PLC0415
    from layouts.paper import PaperTooSmall  # noqa: PLC0415

    try:
        frame = frame_of(project, paper)
        with _written_or_told(folder) as told, Progress(stem) as progress:
            for path in print_folio(project, frame, stem, folder, sheets, form, progress.step):
                click.echo(path)
    except (PaperTooSmall, NotationError) as error:
        click.echo(f"{stem}: {error} (choose another paper; nothing was printed)", err=True)
        return False
    return not told


@contextmanager
def _written_or_told(folder: Path) -> Iterator[list[str]]:
    """Turn a folder that cannot be written into a message; the list is then not empty."""
    told: list[str] = []
    try:
        yield told
    except OSError as error:
        told.append(error.strerror or str(error))
        mend = "free space, or print into another folder with -o; an older print there is whole"
        click.echo(f"{folder}: cannot be written: {told[0]} ({mend})", err=True)


if __name__ == "__main__":
    main()
