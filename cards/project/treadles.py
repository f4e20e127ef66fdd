"""How the lifts of a piece are made on its loom: which treadles are tied to what, and pressed.

The author's own treadles are kept where the loom can be tied so. Otherwise a lift has a treadle of
its own, in the order of their first use; where there are too few treadles, some lifts take two at
once. On a loom without treadles, and where there are too few, the cards list the shafts to raise.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import replace
from typing import NamedTuple

from cards.cloth_words import listed
from cards.draft.drawdown import lifts_of
from cards.loom.own_ties import Clash, own_ties
from cards.loom.pressing import Action
from cards.loom.shed import DEFAULT_ACTION, has_ties
from cards.project.model import WovenSection
from cards.project.problems import Problems
from cards.project.ties import Sections, Ties
from cards.spec import Loom, Spec

Shed = frozenset[int]
OwnTieUp = Mapping[int, tuple[int, ...]]
_WRITTEN = "as written"
# Treadles pressed together are to lie under different feet, unless the author asks otherwise.
_FOR_BOTH_FEET = "alternating"


class _Refusal(NamedTuple):
    """Why the author's own tie-up does not do, by its code and in words."""

    code: str
    what: str


def settle_treadles(
    spec: Spec,
    sections: Sections,
    tie_up: OwnTieUp,
    threading: tuple[int, ...],
    problems: Problems,
) -> tuple[Sections, Ties]:
    """Return the sections by the treadles that are pressed, or else by lifts, and what is tied.

    `sections` are by the treadles of `tie_up`, the author's, or by lifts; `threading` is the shaft
    of each end.
    """
    action = spec.loom.action or DEFAULT_ACTION
    lifted = tuple(_by_lifts(section, tie_up) for section in sections)
    if not has_ties(action):
        return lifted, Ties()
    threaded = frozenset(threading)
    own = _own(spec, action, sections, tie_up, threaded)
    if isinstance(own, Ties):
        done, ties = sections, own
    else:
        ties, pressed = _from_lifts(spec, action, lifted, threaded, problems)
        if own is not None:
            _tell_refusal(own, problems, anew=bool(ties.tied))
        if not ties.tied:
            return lifted, ties
        done = tuple(_mapped(section, pressed) for section in lifted)
    asked: str | None = spec.loom.treadle_order
    if asked is None and ties.proved:
        asked = _FOR_BOTH_FEET
    if asked not in (None, _WRITTEN):
        from cards.project.treadle_places import put_in_order  # noqa: PLC0415 - where it is asked

        done, ties = put_in_order(spec, done, ties, threading, asked, problems)
    most = max((len(run.value) for each in done for run in each.sheds.runs()), default=1)
    return done, replace(ties, together=max(most, 1))


def _by_lifts(section: WovenSection, tie_up: OwnTieUp) -> WovenSection:
    if not section.by_treadle:
        return section
    presses = {run.value for run in section.sheds.runs()}
    lift = {press: lifts_of([press], tie_up)[0] for press in presses}
    return replace(section, sheds=section.sheds.map(lift.__getitem__), by_treadle=False)


def _mapped(section: WovenSection, pressed: Mapping[Shed, Shed]) -> WovenSection:
    return replace(section, sheds=section.sheds.map(pressed.__getitem__), by_treadle=True)


def _own(
    spec: Spec,
    action: Action,
    sections: Sections,
    tie_up: OwnTieUp,
    threaded: Shed,
) -> Ties | _Refusal | None:
    """Return the author's treadles with their cords, or why they do not do; None without any.

    Treadles that he ties and never presses are tied too.
    """
    loom = spec.loom
    if not tie_up or not all(section.by_treadle for section in sections):
        return None
    if loom.treadles is not None and max(tie_up) > loom.treadles:
        what = f"treadle {max(tie_up)} is tied, and the loom has {loom.treadles}"
        return _Refusal("treadle-beyond-loom", what)
    presses = [run.value for section in sections for run in section.sheds.runs()]
    tied, clashes = own_ties(tie_up, presses, threaded, action)
    if clashes:
        return _of_clash(clashes[0], action)
    return Ties(tied, own=True)


def _of_clash(clash: Clash, action: Action) -> _Refusal:
    some = f"shaft{'s' if len(clash.shafts) > 1 else ''} {listed([*map(str, clash.shafts)])}"
    treadles = listed([str(each) for each in sorted(clash.pressed)])
    what = f"treadles {treadles} together would pull {some} up and down at once on a countermarch"
    if action == "sinking":
        what = f"treadles {treadles} together would sink {some}, which should rise, on this loom"
    return _Refusal("shaft-both-ways", what)


def _tell_refusal(why: _Refusal, problems: Problems, *, anew: bool) -> None:
    """Warn of a tie-up that does not do; `anew` says that another was found."""
    message, mend = f"{why.what}, so this tie-up does not do", "change the tie-up, or the loom"
    if anew:
        message = f"{why.what}; the tie-up is worked out anew from the lifts"
        mend = f"the cards show the new treadles; or {mend}"
    problems.warning(why.code, message, mend, "draft", "tie_up")


def _from_lifts(
    spec: Spec, action: Action, lifted: Sections, threaded: Shed, problems: Problems
) -> tuple[Ties, Mapping[Shed, Shed]]:
    """Return a tie-up for the lifts and the treadles pressed for each; none if there are too few.

    Treadles are numbered in the order of their first use. Shafts without ends are not tied.
    """
    from cards.loom.tie_up import easiest  # noqa: PLC0415 - not for own treadles

    loom = spec.loom
    lifts = [lift for section in lifted for lift in section.sheds.values()]
    uses = Counter(lift & threaded for lift in lifts)
    treadles = len(uses) if loom.treadles is None else loom.treadles
    answer = easiest(uses, loom.shafts, action, treadles, _at_once(loom))
    found = answer.tie_up
    if found is None:
        _tell_too_few(loom, action, uses, answer.proved, problems)
        return Ties(proved=answer.proved), {}
    pressed = {lift: frozenset(found.pressed[lift & threaded]) for lift in set(lifts)}
    several = sum(each for lift, each in uses.items() if len(found.pressed[lift]) > 1)
    if several:
        _tell_together(loom, uses, several, answer.proved, problems)
    tied = tuple(each.on_shafts(threaded) for each in found.treadles)
    return Ties(tied, proved=answer.proved if several else ""), pressed


def _at_once(loom: Loom) -> int:
    """Return how many treadles the weaver presses at once at most: one with each foot."""
    return loom.treadles_at_once or 2


def _tell_together(
    loom: Loom, uses: Mapping[Shed, int], several: int, proved: str, problems: Problems
) -> None:
    known = "the fewest that can be" if proved == "easiest" else "the fewest found"
    problems.note(
        "two-treadles-at-once",
        f"the cloth needs {len(uses)} different lifts, and the loom has {loom.treadles} treadles: "
        f"{several} picks of a piece take several treadles at once, {known}",
        "the pick tally joins them by a +",
        "loom",
        "treadles",
    )


# For more lifts than this it is not looked up how many treadles would do.
_MOST_LIFTS = 40


def _tell_too_few(
    loom: Loom, action: Action, uses: Mapping[Shed, int], proved: str, problems: Problems
) -> None:
    """Warn of treadles that cannot make the lifts, and say how many would."""
    together = _at_once(loom)
    at_once = f"with up to {together} pressed at once" if together > 1 else "pressed one at a time"
    treadles = f"{loom.treadles} treadle{'' if loom.treadles == 1 else 's'}"
    if loom.treadles == 1:
        at_once = "pressed one at a time"
    cannot = f"which {treadles} cannot make {at_once}"
    if proved == "none found":
        cannot = f"and no tie-up of {treadles} was found {at_once}"
    problems.warning(
        "too-few-treadles",
        f"the cloth needs {len(uses)} different lifts, {cannot}; the cards list the shafts to "
        "raise instead",
        f"weave on a loom with {_enough(uses, loom.shafts, action, together)}, or on a table loom; "
        "or take fewer layers or kinds of sections",
        "loom",
        "treadles",
    )


def _enough(uses: Mapping[Shed, int], shafts: int, action: Action, together: int) -> str:
    """Return in words how many treadles would do."""
    words = f"{len(uses)} treadles"
    if together > 1 and len(uses) <= _MOST_LIFTS:
        from cards.loom.tie_up import smallest  # noqa: PLC0415 - seldom asked

        found = smallest(tuple(uses), shafts, action, together).tie_up
        if found is not None and len(found.treadles) < len(uses):
            words += f", or with {len(found.treadles)} that are pressed up to {together} at once"
    return words
