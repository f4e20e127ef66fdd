"""Options that several commands take, and the readers of their values."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from cards.spec import PaperSize


def not_empty(_context: click.Context, _option: click.Parameter, value: str | None) -> str | None:
    """Refuse the name of nothing."""
    if value is not None and not value.strip():
        raise click.BadParameter("there is no name in it; name one")
    return value


def read_paper(
    _context: click.Context, _option: click.Parameter, value: str | None
) -> PaperSize | None:
    """Read --paper, before any spec is worked out."""
    if value is None:
        return None
    from cards.spec import NotationError, parse_paper_size  # noqa: PLC0415
    from cards.spec.paper import NAMED_SIZES  # noqa: PLC0415

    try:
        return parse_paper_size(value)
    except NotationError as error:
        names = ", ".join(size.name for size in NAMED_SIZES.values())
        message = f"{error.message} ({error.mend})"
        if names not in message:
            message += f"; paper is {names}, or a size such as 5 x 8 in"
        raise click.BadParameter(message) from error


loom_option = click.option(
    "--loom",
    metavar="NAME",
    callback=not_empty,
    help="Take this loom of the spec, of a file it names, or of looms.yaml beside it.",
)

candidate_option = click.option(
    "--candidate",
    metavar="NAME",
    callback=not_empty,
    help="Take the spec with the changes of this one of its candidates.",
)

no_spec_option = click.option(
    "--no-spec", is_flag=True, help="Leave the spec out of the files that are printed from it."
)

paper_option = click.option(
    "--paper",
    callback=read_paper,
    help="A3, A4, A5, Letter, Legal, '5 x 8 in', or a size such as '200 x 250 mm'.",
)
