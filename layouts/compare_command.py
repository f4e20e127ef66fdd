"""The command that lays candidates side by side: a table, data, or a printed sheet."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from layouts.options import loom_option, no_spec_option, not_empty, paper_option
from layouts.printing import printed
from layouts.streams import give_data, give_words, tell
from layouts.worked import report

if TYPE_CHECKING:
    from cards.spec import PaperSize
    from layouts.compare import Gathered
    from layouts.output import Told

# Characters of a line where there is no terminal to ask, and the least and most that make a table.
_USUAL, _NARROWEST, _WIDEST = 100, 45, 240


@click.command()
@click.argument("specs", nargs=-1, required=True, metavar="SPEC...")
@click.option("--json", "as_json", is_flag=True, help="Write the comparison as data.")
@click.option(
    "-o", "--output", callback=not_empty, help="Print a sheet into this folder, and no table."
)
@paper_option
@click.option(
    "--format", "form", type=click.Choice(["pdf", "svg", "both"]), help="Files to write with -o."
)
@loom_option
@no_spec_option
def compare(
    specs: Sequence[str],
    output: str | None,
    paper: PaperSize | None,
    form: str | None,
    loom: str | None,
    *,
    as_json: bool,
    no_spec: bool,
) -> None:
    """Compare each SPEC with the others and with its own candidates, side by side."""
    _check_options(output, paper, form, as_json=as_json)
    if list(specs).count("-") > 1:
        raise click.BadParameter("standard input can be read once", param_hint="SPEC...")
    from layouts.compare import gather  # noqa: PLC0415

    found = gather(specs, loom)
    report(found.findings)
    _check_number(found)
    if as_json:
        given = _give_data(found)
    elif not found.known:
        tell("none of them could be worked out; mend the errors first")
        given = False
    elif output is not None:
        given = _print(found, Path(output), paper, form or "both", with_spec=not no_spec)
    else:
        given = _give_table(found)
    sys.exit(1 if found.has_errors or not given else 0)


def _check_options(
    output: str | None, paper: PaperSize | None, form: str | None, *, as_json: bool
) -> None:
    if output is None and (paper is not None or form is not None):
        raise click.UsageError("--paper and --format are for a printed sheet: name its folder, -o")
    if output is not None and as_json:
        raise click.UsageError("either --json, or -o for a printed sheet")


def _check_number(found: Gathered) -> None:
    """Refuse what cannot be compared: one alone, or more than anybody reads."""
    from layouts.compare import MOST_COMPARED  # noqa: PLC0415

    number = len(found.compared)
    if found.kept:
        raise click.BadParameter(
            f"{found.kept} is a file of looms and yarns, and no spec", param_hint="SPEC..."
        )
    if number == 1 and found.has_errors:
        sys.exit(1)
    if number == 1:
        raise click.BadParameter(
            "there is nothing to compare it with; add `candidates:` to the spec, or name another",
            param_hint="SPEC...",
        )
    if number > MOST_COMPARED:
        raise click.BadParameter(
            f"these are {number} candidates, and {MOST_COMPARED} can be compared",
            param_hint="SPEC...",
        )


def _give_data(found: Gathered) -> bool:
    import json  # noqa: PLC0415

    from cards.compare_data import compare_data  # noqa: PLC0415

    data = compare_data(found.compared)
    return give_data(f"{json.dumps(data, indent=1, ensure_ascii=False)}\n")


def _give_table(found: Gathered) -> bool:
    from cards.compare_sheet import compare_sheet  # noqa: PLC0415
    from cards.compare_table import compare_table  # noqa: PLC0415

    columns = shutil.get_terminal_size((_USUAL, 24)).columns
    width = min(_WIDEST, max(_NARROWEST, columns))
    return give_words(compare_table(compare_sheet(found.compared), width))


def _print(
    found: Gathered, folder: Path, paper: PaperSize | None, form: str, *, with_spec: bool
) -> bool:
    """Print the sheet; return whether all its files were written."""
    from layouts.compare import STEM, print_comparison  # noqa: PLC0415 - a cold start goes without

    def work(_told: Told) -> list[Path]:
        return print_comparison(found.compared, folder, paper, form, with_spec=with_spec)

    return printed(STEM, folder, work)
