"""Hints and guided rounds: the best act, the tree's next act, and why; none of them knows the hidden cause."""

from __future__ import annotations

import pytest

from diagtree.knowledge.files import load
from diagtree.quiz.choices import Choice, Kind, read_choice
from diagtree.quiz.events import Hinted, Moved, Refused, Tested, WentWrong
from diagtree.quiz.guide import NO_TREE, place, suggestion
from diagtree.quiz.hint import best_act
from diagtree.quiz.modes import GUIDED, HINT_MINUTES, PRACTICE, Mode
from diagtree.quiz.respond import respond
from diagtree.quiz.result import account
from diagtree.quiz.round import Round, deal
from diagtree.quiz.score import decision
from diagtree.quiz.state import REFERRED, STOPPED, fold, start, step
from diagtree.quiz.trainees import play, tree_follower
from diagtree.quiz.way import towards
from diagtree.reason.plan import Act
from diagtree.walk.context import Walk
from tests.quiz.rounds import played
from tests.quiz.test_safety import BAY, run
from tests.quiz.test_trainees import HOUSE

TREE = "ac-fails-dc-works"


def test_a_hint_names_the_best_act_and_costs_a_colleague_s_time():
    here = played(HOUSE, "wire")
    state, event = run(here, "hint")
    assert isinstance(event, Hinted)
    best = here.solver.solve(start(here).case).first_act
    assert best is not None
    assert event.words.startswith(f"{best.kind} {best.id}: ")
    assert event.minutes == HINT_MINUTES
    assert event.money == state.money == HINT_MINUTES / 60 * 96
    assert state.hints == 1
    scored = decision(here, start(here), event)
    assert scored is not None
    assert scored.regret == pytest.approx(event.money)


def test_a_hint_tells_the_move_that_is_due_first():
    """The best act there needs the car dead: the hint says so, and following hints only is never refused or unsafe."""
    here = played(HOUSE, "wire")
    state, seen = start(here), []
    while state.ended is None:
        best = best_act(here, state)
        if best.choice.kind is Kind.MAKE_SAFE:
            seen.append(best.words)
        event = respond(here, state, towards(here, state, best.act))
        assert not isinstance(event, Refused | WentWrong)
        state = step(here, state, event)
    assert any(words.startswith("make-safe, on the way to `") for words in seen)


@pytest.mark.parametrize("cause", ["sensor", "charger", "wire", "point"])
def test_hints_do_not_know_the_hidden_cause(cause: str):
    assert best_act(played(HOUSE, cause), start(played(HOUSE, cause))) == best_act(
        played(HOUSE, "point"), start(played(HOUSE, "point"))
    )


def test_what_making_safe_opens_by_itself_is_not_opened_before():
    here = deal(Walk.begin(load(), TREE, "petrel-2"), "1")
    choice = towards(here, start(here), Act("test", "inlet-sensor-resistance"))
    assert choice == Choice(Kind.MAKE_SAFE)
    event = respond(here, start(here), choice)
    assert isinstance(event, Moved)
    assert [move[:2] for move in event.moves] == [("open", "service-flap"), ("make-safe", "")]
    assert fold(here, [event]).arrangement.dead


def in_a_house_that_refers_no_cars(cause: str, mode: Mode = PRACTICE) -> Round:
    return played({**BAY, "house": {**BAY["house"], "referral": None}}, cause, mode=mode)


def test_where_no_cars_are_given_away_a_danger_stops_the_round():
    here = in_a_house_that_refers_no_cars("burning")
    state, _ = run(here, "test burnt")
    told = best_act(here, state)
    assert told.choice == Choice(Kind.STOP)
    assert told.words.startswith("stop here, this house gives no cars to others: a danger was found")
    state = step(here, state, respond(here, state, Choice(Kind.HINT)))
    assert respond(here, state, Choice(Kind.HINT)).words == f"{told.words.partition(':')[0]}: as said before."  # type: ignore[union-attr]
    assert step(here, state, respond(here, state, told.choice)).ended == STOPPED


def test_with_a_danger_found_the_hint_is_to_refer():
    here = played(BAY, "burning")
    state, _ = run(here, "test burnt")
    assert best_act(here, state).choice == Choice(Kind.REFER)
    event = respond(here, state, Choice(Kind.REFER))
    scored = decision(here, state, event)
    assert scored is not None
    assert scored.regret == 0.0
    assert scored.right
    assert step(here, state, event).ended == REFERRED


# -- guided


@pytest.mark.parametrize(("deal", "due"), [
    (lambda: played(BAY, "burning", mode=GUIDED), Kind.REFER),
    (lambda: in_a_house_that_refers_no_cars("burning", GUIDED), Kind.STOP),
])  # fmt: skip
def test_a_danger_found_out_of_turn_ends_what_the_tree_asks(deal, due: Kind):
    """The tree stands at another question; nobody goes on with it."""
    here = deal()
    state, _ = run(here, "test burnt")
    told = suggestion(here, state)
    assert (told.step, told.choice, told.act) == (None, Choice(due), Act("refer"))
    assert told.why == ("A danger was found: nobody works on this car any more.",)


def test_the_guide_follows_the_tree_and_says_why():
    here = played(HOUSE, "sensor", mode=GUIDED)
    state = start(here)
    first = suggestion(here, state)
    assert (first.step, first.choice) == ("code", Choice(Kind.TEST, "code"))
    assert any("sensor (" in line and "%" in line for line in first.why)
    assert first.why[-1] == "Source: made up"
    state = step(here, state, Tested("code", {}, "sensor", {}, (), 8, 0))
    second = suggestion(here, state)
    assert (second.step, second.choice, second.act) == ("ohms", Choice(Kind.MAKE_SAFE), Act("test", "ohms"))
    state = step(here, state, Tested("ohms", {}, "open", {}, (), 6, 0))
    third = suggestion(here, state)
    assert third.act == Act("correct", "sensor")
    assert "The tree concludes: a broken sensor." in third.why[0]


def test_beyond_the_tree_the_best_act_stands_in():
    """The conclusion was in vain: the tree has no more to say."""
    here = played(HOUSE, "wire")
    state = start(here)
    state = step(here, state, Tested("code", {}, "charger", {}, (), 8, 0))
    while not state.struck:
        state = step(here, state, respond(here, state, suggestion(here, state).choice))
    beyond = suggestion(here, state)
    assert state.struck == ("charger",)
    assert beyond.why[0] == NO_TREE
    assert beyond.act == best_act(here, state).act


def test_tests_out_of_turn_are_used_where_the_tree_asks_for_them():
    here = played(HOUSE, "wire")
    state = step(here, start(here), Tested("swap", {}, "fails", {}, (), 5, 0))
    assert place(here, state) == "code"
    state = step(here, state, Tested("code", {}, "none", {}, (), 8, 0))
    assert place(here, state) == "volts"


@pytest.mark.parametrize("vehicle", ["petrel-2", "marlin-1"])
def test_following_the_shipped_tree_is_never_refused_and_never_unsafe(vehicle: str):
    """On forty cars of the shipped knowledge, by the tree, act by act."""
    walk = Walk.begin(load(), TREE, vehicle)
    ended = set()
    for number in range(40):
        here = deal(walk, f"guided {number}", GUIDED)
        events = play(here, tree_follower, lambda: lambda: True)
        assert not [event for event in events if isinstance(event, Refused | WentWrong)]
        ended.add(fold(here, events).ended)
    assert ended == {"fixed", "advised", "referred"}


def test_an_account_before_the_end_has_no_points():
    here = played(HOUSE, "wire", mode=PRACTICE)
    events = [here.dealt, respond(here, start(here), read_choice("test swap"))]
    found = account(here, events)
    assert found.points is None
    assert found.ended is None
    assert len(found.decisions) == 1
    assert found.money == 5 / 60 * 96


def test_a_test_done_again_tells_nothing_and_costs_its_whole_price():
    here = played(HOUSE, "wire")
    state, event = run(here, "test swap", "test swap")
    before, _ = run(here, "test swap")
    scored = decision(here, before, event)
    assert scored is not None
    assert scored.regret == pytest.approx(5 / 60 * 96)
    assert state.case == before.case
    assert state.times == {"swap": 2}
