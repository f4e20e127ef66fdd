"""A spec worked out into a project: yarn, warp, weft, draft, loom, and all findings."""

from cards.project.model import Outcome, Project
from cards.project.work_out import work_out

__all__ = ["Outcome", "Project", "work_out"]
