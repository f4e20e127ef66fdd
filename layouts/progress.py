"""A progress bar on stderr for work that takes longer than a second."""

from __future__ import annotations

import time
from types import TracebackType
from typing import Self

from layouts.streams import seen_by_a_person, tell

_PATIENCE = 1.0  # seconds before a bar appears


class Progress:
    """Shows a bar once the work has taken a second, and only where a person sees it."""

    def __init__(self, name: str) -> None:
        self._name = name
        self._started = time.monotonic()
        self._shown = False

    def __enter__(self) -> Self:
        """Start the clock."""
        return self

    def step(self, share: float) -> None:
        """Say that `share` of the work, from 0 to 1, is done."""
        if not seen_by_a_person() or time.monotonic() - self._started < _PATIENCE:
            return
        self._shown = True
        filled = round(share * 30)
        bar = "#" * filled + "-" * (30 - filled)
        tell(f"\r{self._name} [{bar}] {share:4.0%}", end="")

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """End the line of the bar."""
        if self._shown:
            tell("")
