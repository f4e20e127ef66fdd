"""The tie-up card as data, worked out again from the lifts of the piece, for every loom."""

from collections import Counter
from fractions import Fraction
from itertools import pairwise, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cards.project.treadle_places import STYLES
from cards.tie_up_card import tie_up_card
from tests.project.looms import LOOMS, SPECS, on_loom
from tests.project.worked import outcome_of, project_of

TREADLE_LOOMS = LOOMS[:3]


@pytest.fixture(params=SPECS, ids=lambda path: path.stem)
def spec(request):
    return request.param


def check_cords(project):
    """Tread every pick on the cords of the card, and look at what each shaft does.

    What cords do is common practice, no source: on a rising-shed loom tied shafts rise, on a
    sinking-shed loom tied shafts sink and the others rise, a countermarch moves all both ways.
    """
    cords = tie_up_card(project).cords
    every = set(project.draft.threading)
    rise = {each.number: set(each.rise) for each in cords.treadles}
    sink = {each.number: set(each.sink) for each in cords.treadles}
    action = project.loom.action
    for pressed, lift in zip(project.draft.treadling, project.draft.lifts, strict=True):
        up = set().union(*(rise[each] for each in pressed))
        down = set().union(*(sink[each] for each in pressed))
        # Shafts without ends hang free, whatever is tied to them.
        up, down, raised = up & every, down & every, lift & every
        if action == "rising":
            assert (up, down) == (raised, set())
        elif action == "sinking":
            assert (up, down) == (set(), every - raised)
        else:
            assert (up, down) == (raised, every - raised)
    assert cords.clean
    for each in cords.treadles:
        assert each.cords == len(rise[each.number]) + len(sink[each.number])
        assert each.picks == sum(each.number in pressed for pressed in project.draft.treadling)
    number = sum(map(len, [*rise.values(), *sink.values()]))
    assert cords.cords == number == sum(lamms.cords for lamms in cords.lamms)
    ways = {"rising": ["rise"], "sinking": ["sink"], "countermarch": ["sink", "rise"]}
    assert [lamms.way for lamms in cords.lamms] == ways[action]
    assert cords.places >= max(rise)


def check_presses(project):
    cords = tie_up_card(project).cords
    uses = Counter(project.draft.treadling)
    assert [frozenset(each.treadles) for each in cords.pressed] == list(uses)
    lift_of = dict(zip(project.draft.treadling, project.draft.lifts, strict=True))
    every = set(project.draft.threading)
    for each in cords.pressed:
        shed = frozenset(each.treadles)
        assert set(each.raises) & every == lift_of[shed] & every
        assert set(each.sinks) == every - lift_of[shed]
        assert each.picks == uses[shed]
    assert {each.treadles for each in cords.together} == {
        tuple(sorted(shed)) for shed in uses if len(shed) > 1
    }


def mean_walk(presses, places):
    """The mean way from pick to pick; between several treadles the mean over all their pairs."""
    at = {treadle: place for place, treadle in enumerate(places)}
    ways = []
    for one, other in pairwise(presses):
        pairs = [abs(at[a] - at[b]) for a, b in product(one, other)]
        ways.append(Fraction(sum(pairs), len(pairs)) if pairs else Fraction(0))
    return sum(ways) / len(ways)


def share_of_changes(presses, left):
    steps = [(one, other) for one, other in pairwise(presses) if len(one) == len(other) == 1]
    if not steps:
        return None
    return Fraction(sum((one <= left) != (other <= left) for one, other in steps), len(steps))


def check_walk(project):
    walk = tie_up_card(project).walk
    presses = project.draft.treadling
    numbers = {each.number for each in project.loom.tied} - set(project.loom.looks)
    if walk is None:
        assert len(set().union(*presses)) < 2
        return
    lying = [*walk.left_foot, *walk.right_foot]
    assert lying == sorted(numbers, reverse=project.loom.treadle_1 == "right")
    assert walk.reach == mean_walk(presses, sorted(range(1, max(numbers) + 1)))
    assert walk.changes == share_of_changes(presses, set(walk.left_foot))
    check_tabby(project, walk)
    for each in walk.offered:
        assert set(each.places) == numbers
        assert each.reach == mean_walk(presses, each.places)
        assert each.changes == share_of_changes(presses, set(each.places[: each.left]))
    shortest = next(each for each in walk.offered if each.written == "shortest reach")
    if shortest.best:
        assert shortest.reach == min(each.reach for each in walk.offered)


def check_tabby(project, walk):
    """Plain weave raises the odd ends, then the even ones (common practice, no source)."""
    card = tie_up_card(project)
    threading = project.draft.threading
    every = set(threading)
    odd, even = set(threading[::2]), set(threading[1::2])
    action = project.loom.action
    found = []
    for ends in (odd, even):
        for each in card.cords.treadles:
            rise, sink = set(each.rise) & every, set(each.sink) & every
            raised = every - sink if action == "sinking" else rise
            whole = action != "countermarch" or (rise | sink == every and not rise & sink)
            if not each.look and whole and raised == ends:
                found.append(each.number)
                break
    if odd & even or len(found) < 2:
        assert walk.tabby is None
    else:
        assert walk.tabby == tuple(found)


@pytest.mark.parametrize("action", TREADLE_LOOMS)
def test_the_cords_make_every_lift_of_the_piece(spec, action):
    project = on_loom(spec, action)
    check_cords(project)
    check_presses(project)
    check_walk(project)


@pytest.mark.parametrize("action", TREADLE_LOOMS)
@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("written", STYLES)
def test_an_order_on_offer_is_what_one_gets_by_asking_for_it(written, side, action):
    for name in ("cushion-cover", "twill-scarf", "triple-width-banner"):
        spec = next(path for path in SPECS if path.stem == name)
        before = on_loom(spec, action, treadle_1=side)
        offered = {each.written: each for each in tie_up_card(before).walk.offered}
        asked = on_loom(spec, action, treadle_1=side, treadle_order=written)
        if written not in offered:
            assert written == "tabby outside"
            assert asked.loom.tied == before.loom.tied
            continue
        cords = {each.number: (each.rise, each.sink) for each in before.loom.tied}
        woven = [each for each in asked.loom.tied if each.number not in asked.loom.looks]
        lying = sorted(woven, key=lambda each: each.number, reverse=side == "right")
        places = offered[written].places
        assert [(each.rise, each.sink) for each in lying] == [cords[each] for each in places]
        walk = tie_up_card(asked).walk
        assert len(walk.left_foot) == offered[written].left
        assert walk.reach == offered[written].reach
        check_walk(asked)


def test_a_walk_by_hand():
    """1 2 1 3: one treadle over, one back, two over; 1 and 2 lie left."""
    tie_up = {"1": "1 2", "2": "2 3", "3": "3 4"}
    draft = {"threading": "(1 2 3 4) to fill", "tie_up": tie_up, "treadling": "1 2 1 3"}
    weave = [{"section": "body", "picks": "4"}]
    project = project_of(draft=draft, weave=weave, cloth={"width": "27 in", "length": "72 in"})
    walk = tie_up_card(project).walk
    assert (walk.left_foot, walk.right_foot) == ((1, 2), (3,))
    assert walk.reach == Fraction(4, 3)
    assert walk.changes == Fraction(1, 3)
    by_way = {each.written: each for each in walk.offered}
    # 2 1 3 has no step over more than one treadle, so nothing is shorter.
    assert by_way["shortest reach"].places == (2, 1, 3)
    assert by_way["shortest reach"].reach == 1
    assert by_way["order of use"].now
    assert not by_way["shortest reach"].now


def test_own_treadles_with_free_ones_between_keep_their_places():
    tie_up = {"2": "1 3", "5": "2 4"}
    draft = {"threading": "(1 2 3 4) to fill", "tie_up": tie_up, "treadling": "2 5"}
    card = tie_up_card(project_of(draft=draft))
    assert card.cords.places == 6
    assert [each.number for each in card.cords.treadles] == [2, 5]
    assert (card.walk.left_foot, card.walk.right_foot) == ((2,), (5,))
    assert card.walk.reach == 3
    # Put in order anew, no treadle would be left free between them.
    assert not any(each.now for each in card.walk.offered)


def test_the_lamms_of_a_countermarch_are_as_the_loom_has_them(spec):
    lower, upper = (
        tie_up_card(on_loom(spec, "countermarch", rise_lamms=each)).cords.lamms
        for each in ("lower", "upper")
    )
    assert [(each.name, each.way) for each in lower] == [
        ("upper lamms", "sink"),
        ("lower lamms", "rise"),
    ]
    assert [(each.name, each.way) for each in upper] == [
        ("upper lamms", "rise"),
        ("lower lamms", "sink"),
    ]
    assert {each.way: each.cords for each in lower} == {each.way: each.cords for each in upper}


def test_uneven_sheds_of_a_counterbalance_are_named(spec):
    project = on_loom(spec, "sinking")
    hung = tie_up_card(project).hung
    every = set(project.draft.threading)
    uses = Counter(lift & every for lift in project.draft.lifts)
    shafts = len(every)
    uneven = [lift for lift in uses if 2 * len(lift) != shafts and 0 < len(lift) < shafts]
    assert [frozenset(each.raises) for each in hung.uneven] == uneven
    for each in hung.uneven:
        assert {*each.raises, *each.sinks} == every
        assert each.picks == uses[frozenset(each.raises)]
    assert bool(hung.remedies) == bool(uneven)
    assert tie_up_card(on_loom(spec, "rising")).hung is None


@pytest.mark.parametrize("action", ["table", "direct", "rigid heddle"])
def test_a_loom_raised_by_hand_lists_every_lift_once(spec, action):
    project = on_loom(spec, action)
    check_lifts(project)
    assert tie_up_card(project).cords is None


def check_lifts(project):
    found = tie_up_card(project).lifts
    lifts = list(project.draft.lifts)
    assert [frozenset(each.shafts) for each in found] == list(dict.fromkeys(lifts))
    assert [each.number for each in found] == list(range(1, len(found) + 1))
    for each in found:
        assert lifts.index(frozenset(each.shafts)) == each.first - 1
        assert each.picks == lifts.count(frozenset(each.shafts))


def test_a_rigid_heddle_goes_up_and_down():
    draft = {"threading": "(1 2) to fill", "lifts": "1; 2"}
    project = project_of(
        loom={"action": "rigid heddle", "shafts": "2"}, draft=draft, weft_order="natural"
    )
    assert [(each.shafts, each.heddle) for each in tie_up_card(project).lifts] == [
        ((1,), "up"),
        ((2,), "down"),
    ]


@pytest.mark.parametrize("action", TREADLE_LOOMS)
def test_a_loom_with_too_few_treadles_lists_its_lifts(action):
    # On a countermarch with two treadles six lifts cannot be made, whatever is pressed together.
    spec = next(path for path in SPECS if path.stem == "cushion-cover")
    project = on_loom(spec, action, treadles=2)
    card = tie_up_card(project)
    assert (card.kind, card.cords, card.walk) == ("lifts", None, None)
    check_lifts(project)


@pytest.mark.parametrize("treadles", [7, 6])
def test_treadles_pressed_together_are_told(treadles):
    spec = next(path for path in SPECS if path.stem == "two-layer-sampler")
    project = on_loom(spec, "rising", treadles=treadles)
    card = tie_up_card(project)
    assert card.cords.together
    assert card.cords.proved in ("easiest", "best found")
    check_cords(project)
    check_presses(project)
    check_walk(project)


def check_bars(project, picks_a_bar, least):
    plan = tie_up_card(project).bars
    chains = {each.number: each for each in plan.chains}
    assert list(dict.fromkeys(each.chain for each in plan.sections)) == list(chains)
    for chain in plan.chains:
        assert [bar.number for bar in chain.bars] == list(range(1, len(chain.bars) + 1))
        assert all(len(bar.rows) <= picks_a_bar for bar in chain.bars)
        assert len(chain.bars) >= least
    wovens = woven_by_section(plan, picks_a_bar)
    for part, section, lifts in zip(plan.sections, project.weft.sections, wovens, strict=True):
        chain = chains[part.chain]
        rows = [row for bar in chain.bars for row in bar.rows]
        picks = part.turns * len(rows) + part.rest
        assert part.last - part.first + 1 == picks == section.picks == len(lifts)
    assert [frozenset(row) for lifts in wovens for row in lifts] == list(project.draft.lifts)
    check_chains_are_needed(plan, wovens, picks_a_bar, least)


def woven_by_section(plan, picks_a_bar):
    """Turn the chain row by row as the steps say, and return the lifts of each section."""
    at = None
    wovens = []
    for part in plan.sections:
        bars = plan.chains[part.chain - 1].bars
        step = part.step
        assert step.to == part.start
        # A section begins in the middle of a bar only where the chain stands there.
        assert step.kind == "go on" or not step.to.lower
        if step.kind == "put on":
            assert at is None
        elif step.kind == "change":
            assert (step.stood.chain, step.stood.bar, step.stood.lower) == at
            assert step.to.chain != at[0]
        elif step.kind == "turn":
            assert (step.stood.chain, step.stood.bar, step.stood.lower) == at
            assert 1 <= step.bars <= len(bars)
            turned = at[1]
            for _ in range(step.bars):
                turned = turned % len(bars) + 1
            assert (turned, at[0]) == (step.to.bar, step.to.chain)
        else:
            assert (step.to.chain, step.to.bar, step.to.lower) == at
        bar, row = step.to.bar, int(step.to.lower)
        lifts = []
        for _ in range(part.first, part.last + 1):
            lifts.append(bars[bar - 1].rows[row])
            ends = (bar, bool(row))
            row += 1
            if row == picks_a_bar:
                bar, row = bar % len(bars) + 1, 0
        assert ends == (part.ends.bar, part.ends.lower)
        at = (part.chain, bar, bool(row))
        wovens.append(lifts)
    return wovens


def check_chains_are_needed(plan, wovens, picks_a_bar, least):
    """No section could be woven from another's chain than one that is its own, and that is least."""
    for chain in plan.chains:
        mine = [lifts for part, lifts in zip(plan.sections, wovens, strict=True)
                if part.chain == chain.number]  # fmt: skip
        rows = [row for bar in chain.bars for row in bar.rows]
        others = [each for each in plan.chains if each is not chain]
        for other in others:
            turned = [row for bar in other.bars for row in bar.rows]
            turned *= 2 if len(turned) == picks_a_bar * len(other.bars) else 1
            # Whole rounds of another chain would do for none that is as long as this chain at most.
            assert not all(
                any(
                    turned[at : at + len(lifts)] == lifts
                    for at in range(0, len(turned), picks_a_bar)
                )
                for lifts in mine
            )
        # The pattern is the shortest repeat of a section: nothing shorter repeats itself over it.
        patterns = [lifts for lifts in wovens if lifts[: chain.once] == rows[: chain.once]]
        assert any(
            not any(lifts[each:] == lifts[:-each] for each in range(1, chain.once))
            for lifts in patterns
        )
        # Pegged once less it would be too short, or have an odd half bar.
        bare = chain.once * (chain.pegged - 1)
        assert chain.pegged == 1 or -(-bare // picks_a_bar) < least or bare % picks_a_bar


@pytest.mark.parametrize(("picks_a_bar", "least"), [(1, 1), (2, 1), (1, 8), (2, 8), (2, 21)])
def test_the_bars_of_a_dobby_weave_the_piece(spec, picks_a_bar, least):
    """Old dobbies give two picks a bar and need eight bars at least (a source on dobby pegging)."""
    project = on_loom(spec, "dobby", picks_a_bar=picks_a_bar, least_bars=least)
    check_bars(project, picks_a_bar, least)


def test_an_odd_pattern_is_pegged_twice_on_bars_of_two_picks():
    draft = {"threading": "(1 2 3) to fill", "lifts": "1 2; 2 3; 1 3"}
    loom = {"action": "dobby", "shafts": "3", "picks_a_bar": "2"}
    end = {"section": "end", "picks": "3", "lifts": "1 2; 2 3; 1"}
    weave = [{"section": "body", "picks": "12"}, end]
    project = project_of(
        loom=loom,
        draft=draft,
        weft_order="natural",
        weave=weave,
        cloth={"width": "27 in", "length": "72 in"},
    )
    plan = tie_up_card(project).bars
    body, end = plan.chains
    assert [bar.rows for bar in body.bars] == [
        ((1, 2), (2, 3)),
        ((1, 3), (1, 2)),
        ((2, 3), (1, 3)),
    ]
    assert (body.once, body.pegged) == (3, 2)
    # Woven once only, it needs no second pattern: the last bar has one row.
    assert [bar.rows for bar in end.bars] == [((1, 2), (2, 3)), ((1,),)]
    assert [(each.turns, each.rest) for each in plan.sections] == [(2, 0), (1, 0)]


@st.composite
def drafts(draw):
    """Return the shafts, the treadles and the draft of a small cloth, by treadles or by lifts."""
    shafts = draw(st.integers(2, 8))
    sheds = st.frozensets(st.integers(1, shafts), min_size=1, max_size=shafts - 1)
    threading = f"({' '.join(map(str, range(1, shafts + 1)))}) to fill"
    if draw(st.booleans()):
        lifts = draw(st.lists(sheds, min_size=1, max_size=9))
        written = "; ".join(" ".join(map(str, sorted(lift))) for lift in lifts)
        return shafts, draw(st.integers(1, 9)), {"threading": threading, "lifts": written}
    ties = draw(st.lists(sheds, min_size=1, max_size=7))
    press = st.frozensets(st.integers(1, len(ties)), min_size=1, max_size=2)
    presses = draw(st.lists(press, min_size=1, max_size=9))
    # Treadles that together raise everything open no shed, and no spec may press them.
    presses = [
        each if len(frozenset.union(*(ties[one - 1] for one in each))) < shafts else {min(each)}
        for each in presses
    ]
    draft = {
        "threading": threading,
        "tie_up": {
            str(number): " ".join(map(str, sorted(tie))) for number, tie in enumerate(ties, start=1)
        },
        "treadling": " ".join("+".join(map(str, sorted(each))) for each in presses),
    }
    return shafts, len(ties) + draw(st.integers(0, 2)), draft


@settings(max_examples=100, deadline=None)
@given(
    drafts(),
    st.sampled_from(LOOMS),
    st.sampled_from(["left", "right"]),
    st.sampled_from([None, *STYLES]),
    st.integers(1, 40),
)
def test_any_cloth_on_any_loom(made, action, side, style, picks):
    shafts, treadles, draft = made
    loom = {"action": action, "shafts": str(shafts), "treadle_1": side}
    if action in TREADLE_LOOMS:
        loom |= {"treadles": str(treadles)} | ({"treadle_order": style} if style else {})
    if action == "dobby":
        loom |= {"picks_a_bar": "2", "least_bars": "3"}
    outcome = outcome_of(
        loom=loom,
        draft=draft,
        weft_order="natural",
        cloth={"width": "4 in", "length": "72 in"},
        weave=[{"section": "body", "picks": str(picks)}, {"section": "end", "picks": "3"}],
    )
    project = outcome.project
    assert project is not None, [finding.text() for finding in outcome.findings]
    card = tie_up_card(project)
    if action == "dobby":
        check_bars(project, 2, 3)
    elif card.cords is None:
        check_lifts(project)
    else:
        check_cords(project)
        check_presses(project)
        check_walk(project)


def test_a_treadle_raises_alone_only_what_it_is_pressed_for_alone(spec):
    project = on_loom(spec, "sinking")
    cords = tie_up_card(project).cords
    uses = dict(zip(project.draft.treadling, project.draft.lifts, strict=True))
    every = frozenset(project.draft.threading)
    for each in cords.treadles:
        shed = frozenset({each.number})
        assert each.alone == (shed in uses)
        if each.alone:
            assert frozenset(each.raises) & every == uses[shed] & every
        others = frozenset().union(*(shed for shed in uses if each.number in shed))
        assert set(each.others) == others - {each.number}


@pytest.mark.parametrize(
    ("action", "title"),
    [
        ("rising", "Tie-up card"),
        ("sinking", "Tie-up card"),
        ("countermarch", "Tie-up card"),
        ("table", "Lever card"),
        ("direct", "Treadle card"),
        ("dobby", "Pegging plan"),
        ("rigid heddle", "Heddle positions"),
    ],
)
def test_the_card_is_named_after_what_its_loom_has(action, title):
    spec = next(path for path in SPECS if path.stem == "kitchen-towels")
    card = tie_up_card(on_loom(spec, action))
    assert card.title == title
    assert card.heading.card.split(" · ")[0] == title
