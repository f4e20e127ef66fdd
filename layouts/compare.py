"""Several specs and their candidates gathered into one comparison, and its printed sheet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path

from cards.compare_sheet import CompareSheet, compare_sheet
from cards.compared import Compared, compared_of
from cards.project import Project, work_out
from cards.project.candidates import Tried, of_candidates_only, work_out_candidates
from cards.spec import Finding, PaperSize, Reading, read_spec
from layouts.attachment import Attachment, attachments_of_all
from layouts.drawing import Drawing
from layouts.files import File, write_files
from layouts.folio import frame_of
from layouts.glyphs import printable
from layouts.paper import Frame, PaperTooSmall
from layouts.pdf import pdf_bytes
from layouts.sheets.compare_sheet import draw_compare_sheet
from layouts.worked import with_texts

MOST_COMPARED = 40
STEM = "compare"


@dataclass(frozen=True, slots=True)
class Gathered:
    """What is compared, and what is found in it; `kept` is the first file that is no spec."""

    compared: tuple[Compared, ...]
    findings: tuple[Finding, ...]
    kept: str = ""

    @property
    def has_errors(self) -> bool:
        """Whether any candidate cannot be woven as it is."""
        return any(each.outcome.has_errors for each in self.compared)

    @property
    def known(self) -> bool:
        """Whether any candidate could be worked out."""
        return any(each.project is not None for each in self.compared)


def gather(specs: Sequence[str], loom: str | None) -> Gathered:
    """Work out the candidates of all specs; of a spec without any, the spec itself."""
    compared: list[Compared] = []
    findings: list[Finding] = []
    for spec in specs:
        reading = read_spec(spec, loom)
        if reading.is_kept:
            return Gathered((), reading.findings, spec)
        tried = [_light(each) for each in _tried(reading)]
        findings += _told(reading, tried)
        for each in tried:
            name = _another(_name(each, spec, alone=len(specs) == 1), spec, compared)
            compared.append(replace(each.compared, name=name))
    return Gathered(tuple(compared), tuple(findings))


@dataclass(frozen=True, slots=True)
class _Light(Tried):
    """A candidate without what fills the memory, ready to be compared."""

    compared: Compared


def _light(tried: Tried) -> _Light:
    outcome = with_texts(tried.outcome, tried.reading)
    spec = tried.reading.spec
    fringe = spec.cloth.fringe if spec is not None else None
    compared = compared_of(tried.name, outcome, fringe.length if fringe else 0.0)
    return _Light(tried.name, tried.reading, compared.outcome, compared)


def _tried(reading: Reading) -> Iterator[Tried]:
    """Yield the candidates of a spec, or the spec itself where it has none."""
    if not reading.candidates:
        yield Tried("", reading, work_out(reading))
    yield from work_out_candidates(reading)


def _told(reading: Reading, tried: Sequence[Tried]) -> list[Finding]:
    """Return errors and warnings: those of the spec as written, and of candidates what differs."""
    own = next((each for each in tried if each.reading.spec == reading.spec), tried[0])
    others = [each for each in tried if each is not own]
    told = own.outcome.findings
    every = [*told, *of_candidates_only(others, told)]
    return [finding for finding in every if finding.level != "note"]


def _name(tried: Tried, spec: str, *, alone: bool) -> str:
    """Return what a candidate is called; with its title where there are several specs."""
    if alone and tried.name:
        return tried.name
    own = tried.reading.spec
    title = own.project.title if own is not None else _stem(spec)
    return f"{title}: {tried.name}" if tried.name else title


def _stem(spec: str) -> str:
    return "standard input" if spec == "-" else Path(spec).stem


def _another(name: str, spec: str, before: Sequence[Compared]) -> str:
    """Return a name that none before has."""
    taken = {each.name for each in before}
    tries = [name, f"{name} ({_stem(spec)})"]
    tries += [f"{name} ({number})" for number in range(2, len(before) + 3)]
    return next(each for each in tries if each not in taken)


def print_comparison(
    compared: Sequence[Compared],
    folder: Path,
    paper: PaperSize | None,
    form: str,
    *,
    with_spec: bool = True,
) -> list[Path]:
    """Write the sheet into a folder, all its files or none; return their paths.

    Raises PaperTooSmall for paper that the sheet does not fit, OSError when it cannot be written.
    """
    # A candidate with errors stands on the sheet too, whatever characters it was written in.
    card = printable(compare_sheet(compared))
    project = next(each.project for each in compared if each.project is not None)
    drawing = min(
        (draw_compare_sheet(card, frame) for frame in _frames(project, paper)),
        key=lambda each: len(each.pages),
    )
    sources = [each.project.source for each in compared if each.project is not None]
    inside = attachments_of_all(sources) if with_spec else ()
    return write_files(_files(card, drawing, form, inside), folder, STEM)


def _frames(project: Project, paper: PaperSize | None) -> list[Frame]:
    """Return the page as the spec wants it, and turned by a quarter where it is higher than wide.

    A sheet that is worth printing at all is worth turning for fewer pages.
    """
    frames = [frame_of(project, paper)]
    across = replace(project, paper=project.paper.model_copy(update={"orientation": "landscape"}))
    with suppress(PaperTooSmall):
        frames.append(frame_of(across, paper))
    return frames


def _files(
    card: CompareSheet, drawing: Drawing, form: str, inside: Sequence[Attachment]
) -> list[File]:
    from layouts.svg import svg_text  # noqa: PLC0415 - a print of the PDF alone has no need of it

    files = []
    title = f"{card.heading.title}: {drawing.title.lower()}"
    if form != "svg":
        data = pdf_bytes([drawing], title=title, author=card.heading.maker, attachments=inside)
        files.append(File(f"{STEM}.pdf", data))
    if form != "pdf":
        for number, page in enumerate(drawing.pages, start=1):
            words = f"{drawing.title}, page {number} of {len(drawing.pages)}"
            name = f"{title}, {page.name}"
            text = svg_text(page, title=name, description=words, attachments=inside)
            files.append(File(f"{STEM}-{number}.svg", text.encode("utf-8")))
    return files
