"""Options for how pages come onto the paper, which several commands take."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import wraps
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from cards.spec import Paper
    from layouts.imposition import Imposition


@dataclass(frozen=True, slots=True)
class OnPaper:
    """What was asked for on the command line; what was not is as the spec has it."""

    half_sheet: bool = False
    booklet: bool = False
    double: bool = False
    signature: int | None = None

    def how(self, paper: Paper) -> Imposition:
        """Return how the pages of a project come onto its paper.

        Raises click.BadParameter for a signature where no booklet is folded.
        """
        from layouts.imposition import imposition_of  # noqa: PLC0415 - a cold start goes without

        how = imposition_of(
            paper,
            half_sheet=self.half_sheet,
            booklet=self.booklet,
            double=self.double,
            signature=self.signature,
        )
        if self.signature and how.way != "booklet":
            raise click.BadParameter(
                "only a booklet is folded in signatures; add --booklet", param_hint="--signature"
            )
        return how


def read_signature_option(
    _context: click.Context, _option: click.Parameter, value: str | None
) -> int | None:
    """Read --signature before any spec is worked out."""
    if value is None:
        return None
    from cards.spec import NotationError  # noqa: PLC0415
    from cards.spec.paper_models import read_signature  # noqa: PLC0415

    try:
        return read_signature(value)
    except NotationError as error:
        raise click.BadParameter(f"{error.message} ({error.mend})") from error


_OPTIONS = (
    click.option(
        "--half-sheet", is_flag=True, help="Two pages of half the size on a sheet, to be cut apart."
    ),
    click.option(
        "--booklet",
        is_flag=True,
        help="Pages of half the size in the order for folding and stapling, on both sides.",
    ),
    click.option(
        "--signature",
        metavar="PAGES",
        callback=read_signature_option,
        help="Fold so many pages of a booklet together, a multiple of four.",
    ),
    click.option(
        "--double-sided",
        "double",
        is_flag=True,
        help="For both sides of the paper: the binding edge changes sides, a card has its leaf.",
    ),
)


def on_paper_options(command: Callable[..., None]) -> Callable[..., None]:
    """Give a command the options for the paper; it gets them as one argument, `on_paper`."""

    @wraps(command)
    def with_options(
        *args: Any,  # noqa: ANN401 - whatever else the command takes
        half_sheet: bool,
        booklet: bool,
        double: bool,
        signature: int | None,
        **more: Any,  # noqa: ANN401
    ) -> None:
        if half_sheet and booklet:
            raise click.UsageError("--half-sheet and --booklet: a sheet is cut or folded, not both")
        command(*args, on_paper=OnPaper(half_sheet, booklet, double, signature), **more)

    given: Callable[..., None] = with_options
    for option in reversed(_OPTIONS):
        given = option(given)
    return given
