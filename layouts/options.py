"""Options that several commands take, and the readers of their values."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TYPE_CHECKING, Any, TypeVar

import click

from cards.needs import Needs

if TYPE_CHECKING:
    from cards.spec import PaperSize

Command = TypeVar("Command", bound=Callable[..., Any])


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


def folder_option(default: str) -> Callable[[Command], Command]:
    """Return the option for the folder into which files are written."""
    return click.option(
        "-o",
        "--output",
        default=default,
        show_default=True,
        callback=not_empty,
        help="Folder for the files.",
    )


format_option = click.option(
    "--format",
    "form",
    type=click.Choice(["pdf", "svg", "both"]),
    default="both",
    show_default=True,
    help="Files to write.",
)

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
    help="A3, A4, A5, Letter, Legal, Half Letter, Tabloid, '5 x 8 in', or as '200 x 250 mm'.",
)


def needs_options(command: Callable[..., None]) -> Callable[..., None]:
    """Give a command the options for variants; it gets them as one argument, `needs`."""

    @wraps(command)
    def with_needs(
        *args: Any,  # noqa: ANN401 - whatever else the command takes
        large_print: bool,
        left_handed: bool,
        grey: bool,
        **more: Any,  # noqa: ANN401
    ) -> None:
        command(*args, needs=Needs(large_print, left_handed, grey), **more)

    for option in (
        click.option(
            "--grey",
            is_flag=True,
            help="Hatches and black ink alone, for a printer or copier without colours.",
        ),
        click.option(
            "--left-handed",
            is_flag=True,
            help="Mirror the cloth, the first end at the left, with boxes clear of a left hand.",
        ),
        click.option(
            "--large-print",
            is_flag=True,
            help="Set all type at twice its size, on more pages; on A4, Letter or larger.",
        ),
    ):
        with_needs = option(with_needs)
    return with_needs
