"""Causes that ask for the same work and parts: the work is judged, the name it was done under is not."""

from __future__ import annotations

import pytest

from diagtree.knowledge.files import load
from diagtree.quiz.choices import read_choice
from diagtree.quiz.events import Corrected, Refused
from diagtree.quiz.respond import respond
from diagtree.quiz.round import Round, deal
from diagtree.quiz.score import decision
from diagtree.quiz.state import FIXED, State, start, step
from diagtree.walk.context import Walk

INLET = {
    "inlet-contact-hot", "inlet-sensor-open", "inlet-conductor-open", "inlet-insulation-low", "inlet-sensor-wrong",
}  # fmt: skip
WAY = ("make-safe", "open wheel-liner", "open inlet-connector", "open inlet-joint", "test inlet-sensor-resistance")


def at_the_inlet(cause: str) -> tuple[Round, State]:
    """Return a round at whose car all is ready to renew the inlet."""
    played = deal(Walk.begin(load(), "ac-fails-dc-works", "marlin-1"), "1", cause=cause)
    state = start(played)
    for text in WAY:
        state = step(played, state, respond(played, state, read_choice(text)))
    return played, state


def test_the_right_work_under_another_name_loses_no_more_but_was_not_that_cause() -> None:
    played, state = at_the_inlet("inlet-sensor-open")
    regrets = []
    for named in ("inlet-sensor-open", "inlet-conductor-open"):
        event = respond(played, state, read_choice(f"correct {named} 10"))
        assert isinstance(event, Corrected)
        assert event.fixed
        scored = decision(played, state, event, 0, lambda: True)
        assert scored is not None
        regrets.append((scored.regret, scored.at_least, scored.at_most))
        after = step(played, state, event)
        assert after.ended == FIXED
        (said,) = after.statements
        assert said.came_true is (named == "inlet-sensor-open")
    assert regrets[0] == pytest.approx(regrets[1])


def test_work_in_vain_strikes_out_every_cause_that_it_would_have_mended() -> None:
    played, state = at_the_inlet("charger-fault")
    state = step(played, state, respond(played, state, read_choice("correct inlet-sensor-open 50")))
    assert state.ended is None
    assert set(state.struck) == INLET
    chance = dict(zip(played.problem.causes, state.chances, strict=True))
    assert all(chance[cause] == 0.0 for cause in INLET)
    assert chance["charger-fault"] > 0.0
    again = respond(played, state, read_choice("correct inlet-contact-hot 50"))
    assert isinstance(again, Refused)
    assert "done already" in again.missing[0]
