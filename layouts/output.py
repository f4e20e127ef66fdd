"""What a print becomes, and whom to tell of the work: handed on as one from command to file."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from layouts.imposition import PAGES, Imposition


@dataclass(frozen=True, slots=True)
class Output:
    """Which files a print becomes.

    `form` is "pdf", "svg" or "both"; `how` the pages come onto the paper is for the PDF alone: in
    SVG every page is a file. The spec travels inside every file unless `with_spec` is false.
    """

    form: str = "both"
    how: Imposition = PAGES
    with_spec: bool = True

    @property
    def has_pdf(self) -> bool:
        """Whether a PDF is written."""
        return self.form != "svg"

    @property
    def has_svg(self) -> bool:
        """Whether an SVG is written for each page."""
        return self.form != "pdf"


@dataclass(frozen=True, slots=True)
class Told:
    """Whom to tell of the work: `step` the share that is done, `note` what is to be known."""

    step: Callable[[float], None] = lambda share: None
    note: Callable[[str], None] = lambda words: None


USUAL = Output()
NOBODY = Told()
