"""The same cloth on every loom: treadles pressed by hand, cord by cord, raise what the draft says.

Shares no code with the program: a shaft is pulled by cords, and goes where they pull it. What is
tied on which loom is common practice, no source (trade: rising ties what rises, sinking what
sinks, a countermarch both).
"""

from collections import Counter
from dataclasses import replace

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from cards.layer_marks import layered_section
from cards.pick_tally import pick_tally
from cards.project import work_out, work_out_on_all
from cards.spec import read_source, read_spec
from tests.cards.test_counted import written_out
from tests.project.worked import codes, outcome_of, project_of, spec_text
from tests.worked_specs import LAYERED, LOOMS, SPECS

KINDS = {
    "rising": {"action": "rising", "shafts": 8, "treadles": 10},
    "sinking": {"action": "sinking", "shafts": 8, "treadles": 10},
    "countermarch": {"action": "countermarch", "shafts": 8, "treadles": 10},
    "table": {"action": "table", "shafts": 8, "treadles": None},
    "dobby": {"action": "dobby", "shafts": 16, "treadles": None},
}


NAMES = [loom["name"] for loom in yaml.safe_load(LOOMS.read_text("utf-8"))["looms"]]


def raised_by(loom, pressed):
    """Pull every cord of the treadles pressed, and see which threaded shafts are up."""
    pulled = {shaft: set() for shaft in range(1, loom.shafts + 1)}
    for treadle in loom.tied:
        if treadle.number in pressed:
            for shaft in treadle.rise:
                pulled[shaft].add("up")
            for shaft in treadle.sink:
                pulled[shaft].add("down")
    threaded = [shaft for shaft, ends in enumerate(loom.heddles, 1) if ends]
    if loom.action == "rising":
        assert not any(treadle.sink for treadle in loom.tied), "no cord of a jack loom sinks"
        return {shaft for shaft in threaded if pulled[shaft]}
    if loom.action == "sinking":
        assert not any(treadle.rise for treadle in loom.tied), "cords of a counterbalance sink"
        return {shaft for shaft in threaded if not pulled[shaft]}
    assert all(len(pulled[shaft]) == 1 for shaft in threaded), "moved, and not both ways"
    return {shaft for shaft in threaded if pulled[shaft] == {"up"}}


def on(reading, **loom):
    spec = reading.spec
    return work_out(
        replace(reading, spec=spec.model_copy(update={"loom": spec.loom.model_copy(update=loom)}))
    )


def raises_the_lifts(project, lifts):
    """Whether the pick tally, pick by pick, raises just these shafts."""
    loom = project.loom
    threaded = {shaft for shaft, ends in enumerate(loom.heddles, 1) if ends}
    picks = [pick for each in pick_tally(project).sections for pick in written_out(each.picks)]
    assert len(picks) == len(lifts)
    known = {}
    for pick, lift in zip(picks, lifts, strict=True):
        if pick.shed not in known:
            by_treadle = bool(loom.tied)
            known[pick.shed] = raised_by(loom, pick.shed) if by_treadle else {*pick.shed}
        assert known[pick.shed] == lift & threaded
    return True


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_a_worked_spec_weaves_the_same_cloth_on_every_loom(path, kind):
    reading = read_spec(path)
    first = work_out(reading).project
    project = on(reading, **KINDS[kind], width=None, heddles=None).project
    assert project.draft.threading == first.draft.threading
    assert project.draft.lifts == first.draft.lifts
    assert (project.draft.drawdown == first.draft.drawdown).all()
    assert raises_the_lifts(project, first.draft.lifts)
    by_treadle = kind in ("rising", "sinking", "countermarch")
    assert bool(project.loom.tied) == by_treadle
    assert bool(project.draft.treadling) == by_treadle
    assert list(project.loom.heddles) == [
        Counter(first.draft.threading)[shaft] for shaft in range(1, KINDS[kind]["shafts"] + 1)
    ]


def names_in(path):
    return [loom.name for loom in read_source(looms_as_spec(path), "looms.yaml").spec.looms]


def looms_as_spec(path):
    """Return a spec that has all looms of a file as its own."""
    text = path.read_text("utf-8").split("looms:", 1)[1].split("\nyarns:")[0]
    return f"{spec_text()[:-2]},\n".encode() + b'"looms": [' + _as_json(text) + b"]}"


def _as_json(text):
    import json

    import yaml

    return ",".join(json.dumps(each) for each in yaml.safe_load(text)).encode()


@pytest.mark.parametrize("path", LAYERED, ids=lambda path: path.stem)
def test_a_layered_spec_is_woven_on_every_loom_of_the_room_that_has_the_shafts(path):
    first = work_out(read_spec(path)).project
    fitting = 0
    for name in NAMES:
        outcome = work_out(read_spec(path, name))
        if outcome.project is None:
            assert codes(outcome)[0] == "layers-do-not-fit"
            continue
        fitting += 1
        assert outcome.project.loom.name == name
        assert raises_the_lifts(outcome.project, first.draft.lifts)
    assert fitting >= 5


@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_any_written_draft_is_made_on_every_loom_or_told_not_to_be(data):
    shafts = data.draw(st.integers(2, 6))
    some = st.sets(st.integers(1, shafts), min_size=1, max_size=shafts - 1)
    tie_up = data.draw(st.dictionaries(st.integers(1, 7), some, min_size=1, max_size=7))
    press = st.sets(st.sampled_from(sorted(tie_up)), min_size=1, max_size=2)
    picks = data.draw(st.lists(press, min_size=1, max_size=8))
    threading = data.draw(st.permutations(range(1, shafts + 1)))
    action = data.draw(st.sampled_from(["rising", "sinking", "countermarch", "table", "direct"]))
    order = ["as written", "order of use", "alternating", "from the middle", "shortest reach"]
    treadles = data.draw(st.integers(1, 9))
    loom = {
        "action": action,
        "shafts": str(shafts),
        "treadles": str(treadles),
        "treadle_order": data.draw(st.sampled_from(order)),
        "treadle_1": data.draw(st.sampled_from(["left", "right"])),
    }
    draft = {
        "threading": f"({' '.join(map(str, threading))}) to fill",
        "tie_up": {str(key): " ".join(map(str, each)) for key, each in tie_up.items()},
        "treadling": " ".join("+".join(map(str, each)) for each in picks),
    }
    outcome = outcome_of(loom=loom, draft=draft, cloth={"width": "2 in", "length": "2 in"})
    project = outcome.project
    if project is None:
        assert any(finding.level == "error" for finding in outcome.findings)
        return
    lifts = [
        {shaft for treadle in picks[place % len(picks)] for shaft in tie_up[treadle]}
        for place in range(len(project.draft.lifts))
    ]
    assert [set(each) for each in project.draft.lifts] == lifts
    assert raises_the_lifts(project, lifts)
    numbers = [each.number for each in project.loom.tied]
    assert all(number <= treadles for number in numbers)
    if action in ("rising", "sinking", "countermarch") and not numbers:
        assert "too-few-treadles" in codes(outcome)


def test_the_author_keeps_his_numbers_where_they_can_be_tied():
    draft = {
        "threading": "(1 2 3 4) to fill",
        "tie_up": {"5": "1 3", "2": "2 4"},
        "treadling": "5 2",
    }
    for action in ("rising", "sinking", "countermarch"):
        loom = {"action": action, "shafts": "4", "treadles": "6"}
        project = project_of(loom=loom, draft=draft)
        assert project.loom.own
        assert [each.number for each in project.loom.tied] == [2, 5]
        assert list(map(set, project.draft.treadling[:2])) == [{5}, {2}]


def test_shafts_without_ends_are_not_tied():
    loom = {"action": "countermarch", "shafts": "8", "treadles": "6"}
    tied = project_of(loom=loom).loom.tied
    assert [(each.rise, each.sink) for each in tied] == [((1, 3), (2, 4)), ((2, 4), (1, 3))]


def test_treadles_are_put_in_order_for_the_feet_from_the_side_of_treadle_1():
    draft = {
        "threading": "(1 2 3 4) to fill",
        "tie_up": {"1": "1 2", "2": "2 3", "3": "3 4", "4": "1 4"},
        "treadling": "1 2 3 4",
    }
    for side, first in (("left", 1), ("right", 4)):
        loom = {"action": "rising", "shafts": "4", "treadles": "6", "treadle_1": side}
        loom |= {"treadle_order": "alternating"}
        project = project_of(loom=loom, draft=draft)
        assert not project.loom.own
        assert project.loom.order == "alternating, outside in"
        pressed = [next(iter(each)) for each in project.draft.treadling[:4]]
        # Outside in: 1 and 3 are the left foot's, 2 and 4 the right one's, from left to right.
        assert pressed == ([1, 4, 2, 3] if first == 1 else [4, 1, 3, 2])


def test_plain_weave_lies_outside_where_it_is_tied():
    draft = {
        "threading": "(1 2 3 4) to fill",
        "tie_up": {"1": "1 2", "2": "1 3", "3": "2 3", "4": "2 4"},
        "treadling": "1 2 3 4",
    }
    loom = {"action": "sinking", "shafts": "4", "treadles": "4", "treadle_order": "tabby outside"}
    tied = project_of(loom=loom, draft=draft).loom.tied
    assert (tied[0].sink, tied[-1].sink) == ((2, 4), (1, 3))


def test_the_findings_of_another_loom_say_which_it_is():
    looms = [
        {"name": "low loom", "action": "sinking", "shafts": "4", "treadles": "2"},
        {"name": "narrow", "action": "table", "shafts": "4", "width": "10 in"},
    ]
    outcome = work_out_on_all(read_source(spec_text(looms=looms).encode(), "a.yaml"))
    assert codes(outcome) == ["too-wide"]
    assert outcome.findings[0].message.startswith("on 'narrow': ")
    assert [each.loom.name for each in outcome.others] == ["low loom", "narrow"]
    assert [each.sink for each in outcome.others[0].loom.tied] == [(2, 4), (1, 3)]


def test_a_loom_that_needs_a_longer_warp_is_told():
    own = {"action": "rising", "shafts": "4", "treadles": "6", "waste": "27 in"}
    looms = [
        {"name": "deep loom", "action": "dobby", "shafts": "4", "waste": "63 in"},
        {"name": "small loom", "action": "table", "shafts": "4", "waste": "18 in"},
    ]
    keys = {"loom": own, "looms": looms}
    outcome = work_out_on_all(read_source(spec_text(**keys).encode(), "a.yaml"))
    assert codes(outcome) == ["longer-warp"]
    assert outcome.findings[0].message.startswith("on 'deep loom' the warp is ")
    deep, small = outcome.others
    assert small.warp.length <= outcome.project.warp.length
    assert deep.warp.length > outcome.project.warp.length
    # A warp that is wound already is as long as it is.
    keys["given"] = {"warp_length": "6 yd"}
    outcome = work_out_on_all(read_source(spec_text(**keys).encode(), "a.yaml"))
    assert "longer-warp" not in codes(outcome)


@pytest.mark.parametrize("action", ["rising", "sinking", "countermarch"])
@pytest.mark.parametrize("treadles", [8, 9, 12])
def test_a_spare_treadle_raises_the_upper_layers_whole(action, treadles):
    reading = read_spec(LAYERED[2])
    loom = {"action": action, "shafts": 6, "treadles": treadles, "heddles": None}
    project = on(reading, **loom).project
    pressed = {each for press in project.draft.treadling for each in press}
    assert pressed.isdisjoint(project.loom.looks)
    assert len(pressed) + len(project.loom.looks) <= treadles
    # The upper layer hangs on shafts 1 and 4, the middle one on 2 and 5: a straight draw.
    section = layered_section(project, 0)
    for check, shafts in zip(section.checks, ({1, 4}, {1, 2, 4, 5}), strict=True):
        assert {*check.shafts} == shafts
        if check.treadles:
            assert raised_by(project.loom, check.treadles) == shafts
    # Two upper layers are looked under, and six treadles weave.
    assert all(check.treadles for check in section.checks)


def test_no_treadle_is_spent_on_looking_where_none_is_spare():
    reading = read_spec(LAYERED[2])
    loom = {"action": "countermarch", "shafts": 6, "treadles": 6, "heddles": None}
    project = on(reading, **loom).project
    assert project.loom.looks == ()
    assert not any(check.treadles for check in layered_section(project, 0).checks)


@pytest.mark.parametrize(("word", "action"), [("jack", "rising"), ("Counterbalance", "sinking")])
def test_a_loom_may_go_by_its_kind(word, action):
    loom = {"action": word, "shafts": "4", "treadles": "4"}
    assert project_of(loom=loom).loom.action == action
