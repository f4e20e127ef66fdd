"""Works out specs for tests: from text, or a small good spec with some keys replaced."""

import copy
import json

from cards.project import work_out
from cards.spec import read_source

GOOD = {
    "loomfolio": "1",
    "project": {"title": "A plain cloth"},
    "units": "imperial",
    "yarns": {"natural": {"fibre": "cotton", "size": "Ne 8/2", "put_up": "8 oz"}},
    "loom": {"action": "rising", "shafts": "4", "treadles": "6"},
    "cloth": {"width": "27 in", "length": "72 in"},
    "sett": "24 per in",
    "picks": "24 per in",
    "draft": {
        "threading": "(1 2 3 4) to fill",
        "tie_up": {"1": "1 3", "2": "2 4"},
        "treadling": "1 2",
    },
}


def spec_text(**changes):
    """Return the good spec as text; a change replaces a whole top-level key, None removes it."""
    data = copy.deepcopy(GOOD) | changes
    # JSON is YAML, and quotes every value.
    return json.dumps({key: value for key, value in data.items() if value is not None}, indent=1)


def reading_of(**changes):
    return read_source(spec_text(**changes).encode(), "test.yaml")


def outcome_of(**changes):
    return work_out(reading_of(**changes))


def project_of(**changes):
    outcome = outcome_of(**changes)
    assert outcome.project is not None, [finding.text() for finding in outcome.findings]
    return outcome.project


def codes(outcome):
    return [finding.code for finding in outcome.findings]
