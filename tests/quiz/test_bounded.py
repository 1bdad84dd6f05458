"""What a decision can cost at most: exact regrets keep within it, and hasty searches are brought down to it."""

from __future__ import annotations

from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.errors import AnswerError
from diagtree.knowledge.library import read_library
from diagtree.quiz.bounded import all_bounded, bounded
from diagtree.quiz.choices import read_choice
from diagtree.quiz.events import Event, Hinted, Moved, Tested
from diagtree.quiz.respond import respond
from diagtree.quiz.round import Round, deal
from diagtree.quiz.score import decision
from diagtree.quiz.state import start, step
from diagtree.reason.plan_state import never
from diagtree.walk.context import Walk
from tests.terminal.house import FILES

ACTS = ("test other-point", "test burnt", "test sensor", "make-safe", "re-energise", "open bench", "open connector",
        "close bench", "close connector", "hint")  # fmt: skip


@cache
def dealt(seed: str) -> Round:
    return deal(Walk.begin(read_library(FILES), "no-charge", "petrel"), seed)


@given(acts=st.lists(st.sampled_from(ACTS), max_size=10), seed=st.sampled_from("123"))
@settings(deadline=None, max_examples=60)
def test_exact_regrets_are_never_above_what_is_possible(acts: list[str], seed: str) -> None:
    """Small enough to be solved exactly: there the bound must change nothing."""
    played = dealt(seed)
    state = start(played)
    events: list[Event] = [played.dealt]
    for act in acts:
        try:
            event = respond(played, state, read_choice(act), never)
        except AnswerError:
            continue
        scored = decision(played, state, event, len(events))
        if scored is not None:
            kept = bounded(played, event, scored)
            assert kept.regret == pytest.approx(scored.regret, abs=1e-6)
        events.append(event)
        state = step(played, state, event)


def test_a_search_cut_short_charges_no_more_than_the_act_can_cost() -> None:
    played = dealt("1")
    scored = decision(played, start(played), event := respond(played, start(played), read_choice("open bench"), never))
    assert scored is not None
    assert isinstance(event, Moved)
    from dataclasses import replace

    wild = replace(scored, regret=900.0, at_most=2000.0, at_least=0.0)
    kept = bounded(played, event, wild)
    assert kept.regret == kept.at_most == pytest.approx(20 + 20)  # rate 60: a minute is 1; open 20, close 20
    assert kept.at_least == 0.0


def test_all_decisions_of_a_round_are_bounded() -> None:
    played = dealt("1")
    state, events = start(played), [played.dealt]
    for act in ("test other-point", "make-safe", "hint"):
        events.append(respond(played, state, read_choice(act), never))  # type: ignore[arg-type]
        state = step(played, state, events[-1])
    found = all_bounded(played, events, lambda: lambda: True)
    assert len(found) == 3
    for one in found:
        event = events[one.place]
        assert isinstance(event, Tested | Hinted | Moved)
        assert one.regret <= event.money + (10 if isinstance(event, Moved) else 0) + 1e-9
