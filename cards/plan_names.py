"""The figures of a plan by name, as a pattern puts them into its text."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from cards.figures import Figures, count
from cards.project import Project


@dataclass(frozen=True, slots=True)
class PlanNames:
    """Names with the text that stands for each, as the cards print it."""

    texts: Mapping[str, str]

    @classmethod
    def of(cls, project: Project) -> PlanNames:
        """Return the names of a project."""
        figures, warp = Figures(project.units), project.warp
        return cls({"warp.ends": count(warp.ends), "warp.length": figures.long(warp.length)})

    def text(self, name: str) -> str | None:
        """Return what stands for a name, None for an unknown one."""
        return self.texts.get(name)
