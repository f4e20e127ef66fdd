"""Gives the names of a plan's figures, for `loomfolio plan --names`."""

from __future__ import annotations

import json

from cards.names_table import names_data, names_table
from cards.project import Project
from layouts.streams import give_data, give_words


def give_names(project: Project | None, *, as_json: bool) -> bool:
    """Write the names of a project to standard output, for a person or as data.

    Returns whether it could be written; without a project there is nothing to write.
    """
    if as_json:
        data = names_data(project) if project is not None else []
        return give_data(f"{json.dumps(data, indent=1, ensure_ascii=False)}\n")
    return project is None or give_words(names_table(project))
