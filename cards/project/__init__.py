"""A spec worked out into a project: yarn, warp, weft, draft, loom, and all findings."""

from cards.project.looms import work_out_on_all
from cards.project.model import Outcome, Project
from cards.project.work_out import work_out

__all__ = ["Outcome", "Project", "work_out", "work_out_on_all"]
