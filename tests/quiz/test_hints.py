"""What the quiz itself has told is never held against who did it: hints, and the guide where the tree ends."""

from __future__ import annotations

import json

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from diagtree.knowledge.files import load
from diagtree.knowledge.words import Power
from diagtree.quiz.choices import Choice, Kind, read_choice
from diagtree.quiz.event_json import event_from_json, event_to_json
from diagtree.quiz.events import Event, Hinted, Suggested, Tested
from diagtree.quiz.guide import suggestion
from diagtree.quiz.hint import _danger_first
from diagtree.quiz.modes import GUIDED
from diagtree.quiz.progress_round import decided_in
from diagtree.quiz.respond import respond
from diagtree.quiz.result import account
from diagtree.quiz.round import Round, deal
from diagtree.quiz.score import decision
from diagtree.quiz.state import State, Word, fold, start, step
from diagtree.quiz.trainees import allowed
from diagtree.quiz.way import towards
from diagtree.reason.plan import Act
from diagtree.terminal.quiz_car import CarTable
from diagtree.terminal.views.quiz_pictures import Pictures
from diagtree.walk.context import Walk
from tests.documents import Document
from tests.quiz.rounds import played
from tests.quiz.test_trainees import HOUSE
from tests.strategies import documents

PRICE = 16.0  # of a hint: 10 minutes at 96 an hour


def told(kind: str, name: str | None, now: str | None = None) -> Hinted:
    """Return a hint that a short search gave: whether it is any good, a longer one will say."""
    first = read_choice(now) if now else Choice(Kind(kind), name)
    return Hinted(first.kind.value, first.id, "its words: why", 10.0, PRICE, kind, name)


def after(here: Round, *made: Event | str) -> list[Event]:
    """Return the events of a round: given as they are, or by the act that leads to them."""
    events: list[Event] = [here.dealt]
    for one in made:
        state = fold(here, events)
        events.append(respond(here, state, read_choice(one)) if isinstance(one, str) else one)
    return events


def test_a_hint_that_a_longer_search_belies_costs_its_price_and_nothing_more():
    here = played(HOUSE, "wire")
    asked = account(here, after(here, told("test", "code"), "test code"))
    alone = account(here, after(here, "test code"))
    assert alone.own > 4  # the test was a poor one, and without the hint it is the trainee's own
    assert alone.dearest is not None
    assert (asked.own, asked.asking) == (pytest.approx(0.0), pytest.approx(PRICE))
    assert asked.by_hints == pytest.approx(alone.own)
    assert asked.regret == pytest.approx(PRICE + alone.own)
    assert asked.hint_minutes == pytest.approx(alone.regret_minutes)
    hint, test = asked.decisions
    assert (hint.own, test.own, test.as_hinted, test.right) == (True, False, True, True)
    assert asked.dearest is None  # a hint is bought with points; it is no decision at the car


def test_all_of_the_way_is_hinted_in_whatever_order_covers_come_off():
    here = played(HOUSE, "wire")
    hint = told("test", "ohms", "make-safe")
    for way in (["make-safe", "open seat", "open cover"], ["open seat", "make-safe", "open cover"]):
        found = account(here, after(here, hint, *way, "test ohms"))
        assert [one.as_hinted for one in found.decisions] == [False, True, True, True, True]
        assert (found.own, found.asking) == (pytest.approx(0.0), pytest.approx(PRICE))


@pytest.mark.parametrize(("acts", "hinted"), [
    (["open seat", "close seat"], [True, False]),  # closing is not on the way; opening was
    (["test code", "make-safe"], [False, False]),  # other evidence: the hint was for the state before
    (["make-safe", "re-energise", "make-safe"], [True, False, False]),
])  # fmt: skip
def test_a_hint_stands_no_longer_than_its_way_is_gone(acts: list[str], hinted: list[bool]):
    here = played(HOUSE, "wire")
    found = account(here, after(here, told("test", "ohms", "make-safe"), *acts))
    assert [one.as_hinted for one in found.decisions[1:]] == hinted


def test_what_is_done_beyond_the_hint_is_the_trainee_s_own():
    here = played(HOUSE, "wire")
    events = after(here, told("test", "volts"), "test volts")
    assert fold(here, events).word is None
    once_more = account(here, [*events, respond(here, fold(here, events), read_choice("test volts"))])
    assert [one.as_hinted for one in once_more.decisions] == [False, True, False]


def test_an_unsafe_act_leaves_the_hint_as_it_was():
    """The car is as before, and so is the hint; the act itself is no decision at all."""
    here = played(HOUSE, "wire")
    events = after(here, told("test", "ohms", "make-safe"), "test ohms")
    assert fold(here, events).unsafe == 1
    assert fold(here, events).word == Word(Act("test", "ohms"), hint=True)
    assert len(account(here, events).decisions) == 1


def test_asked_again_on_the_way_the_hint_is_the_same_and_free():
    here = played(HOUSE, "wire")
    events = after(here, told("test", "ohms", "make-safe"), "hint", "make-safe", "hint", "open seat", "hint")
    hints = [one for one in events if isinstance(one, Hinted)]
    assert [one.money for one in hints] == [PRICE, 0.0, 0.0, 0.0]
    assert [one.words.split(":")[0] for one in hints[1:]] == [
        f"{move}, on the way to `test ohms`" for move in ("make-safe", "open seat", "open cover")
    ]
    assert fold(here, events).hints == 1
    assert account(here, events).asking == pytest.approx(PRICE)


def test_a_hint_names_what_it_is_for_and_an_old_one_without_that_is_read():
    here = played(HOUSE, "wire")
    event = respond(here, start(here), Choice(Kind.HINT))
    assert isinstance(event, Hinted)
    state = step(here, start(here), event)
    assert state.word is not None
    assert towards(here, state, state.word.act) == Choice(Kind(event.kind), event.id)
    stored = json.loads(json.dumps(event_to_json(event)))
    assert event_from_json(stored) == event
    old = {key: value for key, value in stored.items() if not key.startswith("goal")}
    assert step(here, start(here), event_from_json(old)).word is None


def test_what_a_hint_told_says_nothing_of_what_the_trainee_knows():
    here = played(HOUSE, "wire")
    events = after(here, told("test", "volts"), "test volts", "test swap")
    found = account(here, events)
    assert len([one for one in found.decisions if one.choice.kind is Kind.TEST]) == 2
    assert len(decided_in(here, events, found.decisions)) == 1


@pytest.mark.parametrize(("hinted", "beside"), [("code", "test code"), ("volts", None)])
def test_what_a_hint_had_said_stands_beside_what_would_have_been_better(hinted: str, beside: str | None):
    """The hint was not followed, which cost something; what is better now is `volts`, whatever the hint was."""
    here = played(HOUSE, "wire")
    found = account(here, after(here, told("test", hinted), "make-safe")).dearest
    assert found is not None
    assert found.decision.choice == Choice(Kind.MAKE_SAFE)
    assert found.better.startswith("test volts: ")
    assert found.told == beside


def test_where_the_tree_ends_the_guide_answers_for_its_word_however_long_is_searched_later():
    """Also in a round that is gone on with: the word is in the events, it is not looked for again."""
    here = played(HOUSE, "wire", mode=GUIDED)
    events = after(here, Tested("code", {}, "charger", {}, (), 8.0, 12.8))
    state = fold(here, events)
    while not state.struck:
        events.append(respond(here, state, suggestion(here, state).choice))
        state = step(here, state, events[-1])
    said = suggestion(here, state, lambda: True)
    assert said.event is not None
    poor = Suggested("test", "code")  # as if too short a search had found the test that was done already
    state = step(here, state, poor)
    again = suggestion(here, state)
    assert (again.act, again.event) == (Act("test", "code"), None)
    done = respond(here, state, again.choice)
    stored = [event_from_json(json.loads(json.dumps(event_to_json(one)))) for one in (*events, poor, done)]
    last = account(here, stored).decisions[-1]
    assert last.regret > 1
    assert last.as_the_tree_says
    assert not account(here, [*events, done]).decisions[-1].as_the_tree_says


def test_asked_again_what_the_guide_had_told_stays_the_guide_s():
    """It is free, so it is no hint of the round's; what it lost is the tree's part of the sum."""
    here = played(HOUSE, "wire", mode=GUIDED)
    found = after(here, Tested("code", {}, "charger", {}, (), 8.0, 12.8), "make-safe", "open seat", "open cover",
                  "correct charger 50", Suggested("test", "swap"))  # fmt: skip
    events = after(here, *found[1:], "hint", "test swap")
    assert isinstance(events[-2], Hinted)
    assert events[-2].money == 0.0
    word = fold(here, events[:-1]).word
    assert word == Word(Act("test", "swap"), hint=False)
    result = account(here, events)
    assert result.decisions[-1].as_the_tree_says
    assert (result.hints, result.by_hints) == (0, 0.0)


def test_a_guided_round_keeps_what_it_told_beyond_the_tree():
    here = played(HOUSE, "wire", mode=GUIDED)
    events = after(here, Tested("code", {}, "charger", {}, (), 8.0, 12.8), "make-safe", "open seat", "open cover",
                   "correct charger 50")  # fmt: skip
    one = CarTable(here, events, Pictures(drawn=False))
    list(one.asked())
    told, done = (event_from_json(event) for event in one.take("go").events)
    assert isinstance(told, Suggested)
    assert account(here, [*events, told, done]).decisions[-1].as_the_tree_says


@settings(deadline=None, max_examples=60, suppress_health_check=[HealthCheck.too_slow])
@given(documents(max_causes=3, max_tests=3, max_accesses=3), st.lists(st.integers(0, 10**6), max_size=10))
def test_what_is_lost_is_lost_by_oneself_by_the_tree_or_by_hints(document: Document, picks: list[int]):
    """Hints are followed or not, at random; the parts are the whole, and what was told counts as right."""
    here = played(document, mode=GUIDED)
    state, events = start(here), list[Event]([here.dealt])
    for pick in picks:
        if state.ended is not None:
            break
        events.append(respond(here, state, _picked(here, state, pick)))
        state = step(here, state, events[-1])
    found = account(here, events)
    told = found.by_the_tree + found.by_hints + found.by_caution
    assert found.own + found.asking + told == pytest.approx(found.regret)
    minutes = found.own_minutes + found.tree_minutes + found.hint_minutes + found.caution_minutes
    assert minutes + found.asking_minutes == pytest.approx(found.regret_minutes)
    assert all(one.right for one in found.decisions if not one.own)


def _picked(here: Round, state: State, pick: int) -> Choice:
    if pick % 3 == 0:
        return Choice(Kind.HINT)
    if pick % 3 == 1 and state.word is not None:
        return towards(here, state, state.word.act)
    some = allowed(here, state)
    return some[pick // 3 % len(some)]


def test_a_look_for_a_danger_is_never_held_against_anybody_and_a_hint_names_it_first():
    """Burnt pins are not in the sum of the best strategy; who looks at them before a charge does right."""
    here = deal(Walk.begin(load(), "cuts-out-after-a-while", "petrel-2"), "1")
    looks = [test for test in here.test_numbers if here.walk.test(test).stop]
    assert looks
    state = start(here)
    for test in looks:
        if here.walk.test(test).needs.open:
            continue
        event = Tested(test, {}, here.walk.test(test).healthy, {}, (), 3.0, 5.0)
        scored = decision(here, state, event, 0, lambda: True)
        assert scored is not None
        assert scored.for_danger
        assert scored.right
        again = decision(here, step(here, state, event), event, 0, lambda: True)
        assert again is not None
        assert not again.for_danger  # once is enough
    found = account(here, [here.dealt, event], lambda: lambda: True)
    assert found.own == 0.0
    assert found.by_caution == pytest.approx(found.regret)
    assert found.own_minutes == pytest.approx(0.0)
    words = _danger_first(here, state, Act("test", "inlet-temperature-rise"))
    assert all(test in words[0] for test in looks if here.walk.test(test).needs.power is not Power.DEAD)
    assert not _danger_first(here, state, Act("test", looks[0]))
    for test in looks:
        state = step(here, state, Tested(test, {}, here.walk.test(test).healthy, {}, (), 3.0, 5.0))
    assert not _danger_first(here, state, Act("test", "inlet-temperature-rise"))


def test_a_hint_that_is_told_again_is_no_decision():
    here = played(HOUSE, "wire")
    found = account(here, after(here, told("test", "ohms", "make-safe"), "hint", "hint"))
    assert [one.choice.kind for one in found.decisions] == [Kind.HINT]


def test_a_look_behind_a_bonnet_is_named_too_but_none_for_which_a_car_must_be_made_safe():
    """A 12 V battery that is frozen or swollen must be seen before anybody supports it with a charger."""
    here = deal(Walk.begin(load(), "flat-12v", "petrel-2"), "1")
    words = _danger_first(here, start(here), Act("test", "low-voltage-waking"))[0]
    assert "low-voltage-battery-looks" in words
    named = words.split("(")[1].rstrip(")").split(", ")
    assert all(here.walk.test(test).stop for test in named)
    assert not [test for test in named if here.walk.test(test).needs.power is Power.DEAD]
