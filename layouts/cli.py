"""The command line: messages go to stderr, data to stdout, exit 0, 1 or 2 as the README says."""

from __future__ import annotations

import shlex
import sys
from collections.abc import Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from layouts.bind_command import bind
from layouts.compare_command import compare
from layouts.exercises_command import exercises
from layouts.handouts_command import handouts
from layouts.naming import as_and_on, stem_of
from layouts.options import (
    candidate_option,
    folder_option,
    format_option,
    loom_option,
    needs_options,
    no_spec_option,
    not_empty,
    paper_option,
)
from layouts.paper_options import OnPaper, on_paper_options
from layouts.pattern_command import pattern
from layouts.printing import printed
from layouts.recover_command import recover
from layouts.streams import give_data, give_words, open_stderr, tell
from layouts.worked import refuse_kept, report, work_out_spec

if TYPE_CHECKING:
    from cards.needs import Needs
    from cards.project import Outcome, Project
    from cards.spec import PaperSize
    from layouts.output import Output, Told

STARTERS = (
    "plain",
    "stripes",
    "twill",
    "two-layers",
    "double-width",
    "tube",
    "already-wound",
)


class _Commands(click.Group):
    def __call__(self, *args: Any, **more: Any) -> Any:  # noqa: ANN401 - as click has it
        open_stderr()
        return super().__call__(*args, **more)


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="loomfolio")
def main() -> None:
    """Turn one YAML project spec into a handweaver's loom cards, as PDF and SVG."""


@main.command()
@click.argument("kind", type=click.Choice(STARTERS))
@click.argument("file", callback=not_empty)
def new(kind: str, file: str) -> None:
    """Write a commented starter spec of a KIND into FILE; a file that is there is left alone."""
    from importlib import resources  # noqa: PLC0415 - 20 ms that only this command needs

    text = resources.files("cards").joinpath("starters", f"{kind}.yaml").read_text("utf-8")
    if file == "-":
        sys.exit(0 if give_data(text) else 1)
    try:
        _write_new(Path(file), text)
    except OSError as error:
        from layouts.refusals import starter_refusal  # noqa: PLC0415

        tell(starter_refusal(error, Path(file)))
        sys.exit(1)
    argument = shlex.quote(f"./{file}" if file.startswith("-") else file)
    tell(f"{file} is written; look at it, then: loomfolio print {argument}")


def _write_new(file: Path, text: str) -> None:
    """Write a file that is not there yet; leave nothing half written."""
    with file.open("x", encoding="utf-8", newline="\n") as stream:
        try:
            stream.write(text)
            stream.flush()
        except BaseException:
            file.unlink(missing_ok=True)
            raise


@main.command()
@click.argument("specs", nargs=-1, required=True, metavar="SPEC...")
@loom_option
@candidate_option
def check(specs: Sequence[str], loom: str | None, candidate: str | None) -> None:
    """Check each SPEC and say what is wrong, where, and how to mend it."""
    failed = False
    for spec in specs:
        outcome = work_out_spec(spec, loom, candidate, with_candidates=True)
        report(outcome.findings)
        failed |= outcome.has_errors
        if not outcome.findings:
            tell(f"{spec}: nothing to mend")
    sys.exit(1 if failed else 0)


@main.command()
@click.argument("spec")
@click.option("--json", "as_json", is_flag=True, help="Write the plan as data.")
@click.option("--no-drawdown", is_flag=True, help="Leave the large arrays out of the data.")
@click.option("--names", is_flag=True, help="List the names of figures that a pattern may write.")
@loom_option
@candidate_option
def plan(
    spec: str,
    loom: str | None,
    candidate: str | None,
    *,
    as_json: bool,
    no_drawdown: bool,
    names: bool,
) -> None:
    """Show what a SPEC comes to: ends, lengths, yarn, packages, cost."""
    outcome = work_out_spec(spec, loom, candidate)
    report(outcome.findings)
    refuse_kept(outcome)
    given = True
    if names:
        from layouts.names import give_names  # noqa: PLC0415 -- only this option needs it

        given = give_names(outcome.project, as_json=as_json)
    elif as_json:
        import json  # noqa: PLC0415

        from cards.plan_json import plan_data  # noqa: PLC0415 -- only this command needs it

        data = plan_data(outcome, drawdown=not no_drawdown)
        given = give_data(f"{json.dumps(data, indent=1, ensure_ascii=False)}\n")
    elif outcome.project is not None:
        from cards.plan_table import plan_table  # noqa: PLC0415

        given = give_words(plan_table(outcome.project, outcome.others))
    sys.exit(1 if outcome.has_errors or not given else 0)


@main.command()
@click.argument("spec")
@click.option("--json", "as_json", is_flag=True, help="Write what was measured as data.")
def measured(spec: str, *, as_json: bool) -> None:
    """Read what was measured on a SPEC back, as allowances to paste into the next one."""
    from layouts.measured import give_measured  # noqa: PLC0415 -- only this command needs it

    outcome = work_out_spec(spec, None, None)
    report(outcome.findings)
    given = give_measured(outcome, spec, as_json=as_json)
    sys.exit(1 if outcome.has_errors or not given else 0)


@main.command("print")
@click.argument("specs", nargs=-1, required=True, metavar="SPEC...")
@folder_option("folio")
@click.option(
    "--sheet", "sheets", multiple=True, metavar="NAME", help="Print this sheet; may be repeated."
)
@paper_option
@format_option
@loom_option
@candidate_option
@on_paper_options
@needs_options
@no_spec_option
def print_(
    specs: Sequence[str],
    output: str,
    sheets: Sequence[str],
    paper: PaperSize | None,
    form: str,
    loom: str | None,
    candidate: str | None,
    needs: Needs,
    on_paper: OnPaper,
    *,
    no_spec: bool,
) -> None:
    """Print the folio of each SPEC: one PDF with all sheets, and one SVG for each page."""
    from layouts.output import Output  # noqa: PLC0415
    from layouts.signals import ended_by_exit  # noqa: PLC0415

    _check_sheets(sheets)
    _check_stems(specs)
    failed = False
    with ended_by_exit():
        for spec in specs:
            outcome = work_out_spec(spec, loom, candidate, needs=needs)
            report(outcome.findings)
            if outcome.is_kept:
                tell(f"{spec}: a file of looms and yarns; there is nothing to print")
                failed |= outcome.has_errors
                continue
            if outcome.project is None or outcome.has_errors:
                tell(f"{spec}: not printed; mend the errors first")
                failed = True
                continue
            _check_drawn(outcome.project, spec, sheets)
            stem = stem_of(spec) + as_and_on(candidate, loom) + needs.suffix
            how = on_paper.how(outcome.project.paper)
            become = Output(form, how, with_spec=not no_spec)
            folder = Path(output)
            work = partial(_print_one, outcome, stem, folder, sheets, paper, needs, become)
            failed |= not printed(stem, folder, work)
    sys.exit(1 if failed else 0)


@main.command()
def schema() -> None:
    """Write the JSON Schema of a spec, for editors that complete and check as you type."""
    import json  # noqa: PLC0415

    from cards.spec import spec_schema  # noqa: PLC0415

    given = give_data(f"{json.dumps(spec_schema(), indent=2, ensure_ascii=False)}\n")
    sys.exit(0 if given else 1)


def _check_sheets(sheets: Sequence[str]) -> None:
    if not sheets:
        return
    from layouts.sheet_list import SHEETS  # noqa: PLC0415

    for name in sheets:
        if name not in SHEETS:
            raise click.BadParameter(
                f"there is no sheet {name!r}; there are {', '.join(SHEETS)}", param_hint="--sheet"
            )


def _check_drawn(project: Project, spec: str, sheets: Sequence[str]) -> None:
    """Refuse a sheet on which there is nothing to draw for this project."""
    if not sheets:
        return
    from layouts.sheet_list import lacking, sheets_of  # noqa: PLC0415

    there = sheets_of(project)
    for name in sheets:
        if name not in there:
            raise click.BadParameter(
                f"there is nothing to draw on {name!r} for {spec}, {lacking(project, name)}; "
                f"there are {', '.join(there)}",
                param_hint="--sheet",
            )


def _check_stems(specs: Sequence[str]) -> None:
    stems = [stem_of(spec) for spec in specs]
    double = next((stem for stem in stems if stems.count(stem) > 1), None)
    if double is not None:
        raise click.BadParameter(
            f"two specs would both be printed as {double}.pdf; print them into two folders",
            param_hint="SPEC...",
        )


def _print_one(
    outcome: Outcome,
    stem: str,
    folder: Path,
    sheets: Sequence[str],
    paper: PaperSize | None,
    needs: Needs,
    output: Output,
    told: Told,
) -> list[Path]:
    """Print a project that may be printed; return the files written."""
    from layouts.folio import frame_of, print_folio  # noqa: PLC0415

    project = outcome.project
    if project is None:
        raise ValueError(f"nothing can be printed of {stem}")
    frame = frame_of(project, paper, needs, output.how)
    return print_folio(project, frame, stem, folder, sheets, output, told, outcome.others)


main.add_command(bind)
main.add_command(compare)
main.add_command(recover)
main.add_command(handouts)
main.add_command(exercises)
main.add_command(pattern)


if __name__ == "__main__":
    main()
