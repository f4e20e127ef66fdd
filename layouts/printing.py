"""The boundary of every command that prints: what went wrong is told in words, and how to mend it.

The files written are told on stdout, one a line.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from layouts.streams import give_path, tell

if TYPE_CHECKING:
    from pathlib import Path

    from layouts.output import Told


def printed(name: str, folder: Path, work: Callable[[Told], list[Path]]) -> bool:
    """Let `work` print into `folder`; return whether files were written, and told on stdout.

    Progress, notes and refusals are told under `name`.
    """
    from layouts.output import Told  # noqa: PLC0415 - a cold start goes without
    from layouts.paper import PaperTooSmall  # noqa: PLC0415
    from layouts.progress import Progress  # noqa: PLC0415
    from layouts.signals import ended_by_exit  # noqa: PLC0415

    notes: list[str] = []
    written: list[Path] = []
    try:
        with ended_by_exit(), Progress(name) as progress:
            written = work(Told(progress.step, notes.append))
    except PaperTooSmall as error:
        tell(f"{name}: {error} (choose another paper; nothing was printed)")
    except OSError as error:
        from layouts.refusals import print_refusal  # noqa: PLC0415

        tell(print_refusal(error, folder))
    finally:
        for words in notes:
            tell(f"{name}: note: {words}")
    return bool(written) and all(give_path(path) for path in written)
