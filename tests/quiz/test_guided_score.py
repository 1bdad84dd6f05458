"""In a guided round the tree answers for its own steps; and a test done again counts by its unhealthy answer."""

from __future__ import annotations

import pytest

from diagtree.quiz.choices import Choice, Kind, read_choice
from diagtree.quiz.events import Event, Tested
from diagtree.quiz.guide import due, suggestion
from diagtree.quiz.modes import GUIDED, PRACTICE, Mode
from diagtree.quiz.progress_round import decided_in
from diagtree.quiz.respond import respond
from diagtree.quiz.result import account
from diagtree.quiz.round import Round
from diagtree.quiz.score import decision
from diagtree.quiz.state import fold, start, step
from diagtree.quiz.trainees import play, tree_follower
from diagtree.reason.evidence import Answered, posterior
from tests.quiz.rounds import played
from tests.quiz.test_trainees import HOUSE


def led(cause: str, mode: Mode) -> tuple[Round, tuple[Event, ...]]:
    here = played(HOUSE, cause, mode=mode)
    return here, play(here, tree_follower)


@pytest.mark.parametrize("cause", ["sensor", "charger", "wire", "point"])
def test_who_follows_the_tree_has_full_points_and_the_tree_its_own_loss(cause: str):
    here, events = led(cause, GUIDED)
    guided = account(here, events)
    free = account(*led(cause, PRACTICE))
    assert guided.regret == pytest.approx(free.regret)
    assert guided.luck == pytest.approx(free.luck)
    by_tree = [one for one in guided.decisions if one.as_the_tree_says]
    assert guided.by_the_tree == pytest.approx(sum(one.regret for one in by_tree))
    assert guided.own == pytest.approx(guided.regret - guided.by_the_tree)
    assert guided.points == pytest.approx(100 * guided.expected / (guided.expected + guided.own))
    assert free.by_the_tree == 0.0
    assert not any(one.as_the_tree_says for one in free.decisions)
    assert all(one.as_the_tree_says for one in guided.decisions)
    assert guided.points == 100.0
    assert guided.dearest is None
    assert all(right for _, right in decided_in(here, events, guided.decisions))


def test_the_tree_of_the_house_does_lose_something():
    """Otherwise the tests above could not fail."""
    assert any(account(*led(cause, GUIDED)).by_the_tree > 1 for cause in ("sensor", "charger", "wire", "point"))


def test_who_leaves_the_tree_answers_for_it():
    here = played(HOUSE, "wire", mode=GUIDED)
    event = respond(here, start(here), Choice(Kind.OPEN, "seat"))
    scored = decision(here, start(here), event)
    assert scored is not None
    assert not scored.as_the_tree_says
    assert account(here, [here.dealt, event]).own == pytest.approx(scored.regret)


def test_what_is_due_is_what_is_suggested():
    here, events = led("wire", GUIDED)
    compared = 0
    for place in range(1, len(events)):
        state = fold(here, events[:place])
        found = due(here, state)
        if found is not None:
            assert suggestion(here, state).act == found
            compared += 1
    assert compared > 1


def test_of_two_answers_the_one_that_is_not_healthy_counts():
    """Healthy, then not: the evidence is that of the second answer alone, and the test is used up."""
    here = played(HOUSE, "wire")
    state = start(here)
    told = [("volts", "there"), ("code", "none"), ("volts", "absent"), ("volts", "there"), ("code", "none")]
    for test, outcome in told:
        state = step(here, state, Tested(test, {}, outcome, {}, (), 1.0, 1.0))
    answers = [Answered("code", "none", {}), Answered("volts", "absent", {})]
    seen = posterior(here.tree.causes, answers, here.walk.catalogue)
    assert state.chances == pytest.approx(tuple(seen.chances.values()), abs=1e-12)
    assert state.outcomes == {"volts": "absent", "code": "none"}
    assert state.times == {"volts": 3, "code": 2}


def test_a_cause_that_is_out_stays_out_when_an_answer_changes():
    here = played(HOUSE, "wire")
    state = start(here)
    for text in ("test volts", "make-safe", "open seat", "open cover", "correct charger 10"):
        state = step(here, state, respond(here, state, read_choice(text)))
    other = "there" if state.outcomes["volts"] == "absent" else "absent"
    state = step(here, state, Tested("volts", {}, other, {}, (), 1.0, 1.0))
    assert state.chances[here.cause_numbers["charger"]] == 0.0
    assert sum(state.chances) == pytest.approx(1.0)
