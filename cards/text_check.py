"""What is wrong with the texts of a spec: figures that its plan does not have, or has otherwise.

A plan is looked at on every loom of its spec, since the pattern may be printed for each. Braces
stand for figures in the pattern alone: a summary or a note has always been printed as it is. The
numbers of all of them are held against the plan.
"""

from __future__ import annotations

from cards.edit_rules import Held
from cards.mentions import mentions_in
from cards.named_figures import LACKING, of_some_looms, plan_names
from cards.plan_facts import plan_facts
from cards.plan_names import PlanNames, plain_name
from cards.project import Outcome, Project
from cards.spec import Finding, Place, Reading
from cards.spec.braces import Named, parts_of
from cards.spec.pattern_models import pattern_texts
from cards.spec.quoting import shortened
from cards.spec.refusal import NotationError
from cards.spec.words import in_words, near_miss
from cards.spec_texts import spec_texts
from cards.technical_edit import contradictions

_MOST_TOLD = 50
_MOST_NAMED = 6

_LIST = "`loomfolio plan SPEC --names` lists them all"


def text_findings(outcome: Outcome, reading: Reading) -> list[Finding]:
    """Return what is wrong with the texts of a spec that was worked out."""
    if reading.spec is None or outcome.project is None:
        return []
    found: list[Finding] = []
    if reading.spec.pattern is not None:
        for project in (outcome.project, *outcome.others):
            on = "" if project is outcome.project else f"on '{project.loom.name}': "
            found += _unknown_names(project, reading, on, found)
    return found[:_MOST_TOLD] + _contradictions(outcome.project, outcome.others, reading)


def _unknown_names(
    project: Project, reading: Reading, on: str, told: list[Finding]
) -> list[Finding]:
    """Return a finding for each name that is no figure of a project, and was not told before."""
    pattern = project.pattern
    if pattern is None:
        return []
    names = plan_names(project)
    places = {each.place for each in told}
    found = []
    for path, text in pattern_texts(pattern):
        for named in _names_in(text):
            if names.find(named.name) is not None:
                continue
            place = reading.places.in_text(*path, text=text, offset=named.offset)
            if place not in places:
                found.append(_unknown(named.name, names, on, place))
    return found


def _unknown(name: str, names: PlanNames, on: str, place: Place) -> Finding:
    """Return a warning for a figure that this loom does not have, an error for no figure at all."""
    if of_some_looms(name):
        message = f"{on}this loom has no `{shortened(' '.join(name.split()))}`"
        mend = f"`{LACKING}` is printed there; write it so that it holds on every loom"
        return Finding("warning", "no-figure-on-loom", message, mend, place)
    code, message, mend = _wrong(name, names)
    return Finding("error", code, f"{on}{message}", mend, place)


def _names_in(text: str) -> list[Named]:
    """Return the names in a text; one whose braces are wrong has been told of already."""
    try:
        return [part for part in parts_of(text) if isinstance(part, Named)]
    except NotationError:
        return []


def _wrong(name: str, names: PlanNames) -> tuple[str, str, str]:
    """Return code, message and mend for a name that stands for no figure, or for several."""
    shown, plain = shortened(" ".join(name.split())), plain_name(name)
    several = names.unclear.get(plain)
    if several is not None:
        message = f"`{shown}` stands for several figures"
        return "unclear-name", message, f"write {_braced(several)}"
    message = f"the plan has no figure `{shown}`"
    group = [each.name for each in names.shown if plain_name(each.name).startswith(f"{plain}.")]
    if group:
        return "unknown-name", message, f"write {_braced(group)}"
    near = near_miss(plain, [*names.figures])
    mend = f"did you mean {{{names.figures[near].name}}}?" if near is not None else _LIST
    return "unknown-name", message, mend


def _braced(names: tuple[str, ...] | list[str]) -> str:
    """Return names to choose from, as they are written."""
    braced = [f"{{{each}}}" for each in names]
    if len(braced) > _MOST_NAMED:
        return f"{', '.join(braced[:_MOST_NAMED])} …; {_LIST}"
    return in_words(braced)


def _contradictions(
    project: Project, others: tuple[Project, ...], reading: Reading
) -> list[Finding]:
    """Return a warning for each number of a text with which the plan does not agree."""
    spec = reading.spec
    # Most texts have no such number, and need no figures to be gathered.
    texts = [each for each in spec_texts(reading) if any(mentions_in(each.text))]
    if spec is None or not texts:
        return []
    names, facts = plan_names(project), plan_facts((project, *others), spec)
    found = []
    for each in texts:
        for wrong in contradictions(each.text, Held(project, names, facts, each.about)):
            place = reading.places.in_text(*each.path, text=each.text, offset=wrong.start)
            has = in_words([f"{told.text} ({told.words})" for told in wrong.told], "and")
            message = f"`{wrong.written}` contradicts the plan, which has {has}"
            mend = "correct it, or the plan"
            if each.path[0] == "pattern":
                mend = f"write {_braced([told.name for told in wrong.told])}, or correct the plan"
            found.append(Finding("warning", "text-contradicts-plan", message, mend, place))
    return found[:_MOST_TOLD]
