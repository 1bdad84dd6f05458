"""However hasty the search: no test or hint is charged above its price, no move above the way there and back."""

from __future__ import annotations

from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.knowledge.files import load
from diagtree.knowledge.words import Power
from diagtree.quiz.choices import read_choice
from diagtree.quiz.events import Event, Hinted, Moved, Tested
from diagtree.quiz.respond import respond
from diagtree.quiz.round import Round, deal
from diagtree.quiz.score import Decision, judged
from diagtree.quiz.state import start, step
from diagtree.walk.context import Walk

ACTS = (
    "test timer-set", "test charging-codes", "test inlet-sensor-resistance", "make-safe", "re-energise", "hint",
    "open wheel-liner", "close wheel-liner", "open inlet-connector", "close inlet-connector", "open service-flap",
)  # fmt: skip


@cache
def dealt(seed: str) -> Round:
    return deal(Walk.begin(load(), "ac-fails-dc-works", "marlin-1"), seed)


def hasty(played: Round, acts: list[str]) -> tuple[list[Event], tuple[Decision, ...]]:
    """Return the events of `acts` and their scores when nothing is searched at all."""
    state, events = start(played), list[Event]([played.dealt])
    for act in acts:
        events.append(respond(played, state, read_choice(act), lambda: True))
        state = step(played, state, events[-1])
    return events, judged(played, tuple(events), lambda: lambda: True)[1]


@given(acts=st.lists(st.sampled_from(ACTS), max_size=8), seed=st.sampled_from("12"))
@settings(deadline=None, max_examples=30)
def test_no_act_is_charged_with_more_than_it_can_cost(acts: list[str], seed: str) -> None:
    played = dealt(seed)
    events, scores = hasty(played, acts)
    for one in scores:
        event = events[one.place]
        assert isinstance(event, Tested | Hinted | Moved)
        assert 0.0 <= one.regret <= one.at_most + 1e-9
        if not isinstance(event, Moved):
            assert one.at_most == pytest.approx(event.money) or one.at_most < event.money


def test_a_move_is_charged_with_the_way_there_and_back() -> None:
    """Marlin: the liner takes 9 minutes to open; the bound is what its two ways take at the house's rate."""
    played = dealt("1")
    (_, event), (one,) = hasty(played, ["open wheel-liner"])
    access = played.walk.catalogue.access["wheel-liner"]
    assert isinstance(event, Moved)
    assert one.at_most == pytest.approx(played.problem.money(access.open + access.close))


def test_an_act_as_good_as_anything_known_takes_no_longer_than_the_best() -> None:
    """A short search may know an act better than the policy that it has found: then the act is the best, as it is."""
    seen = 0
    for test in dealt("1").test_numbers:
        played = Round(dealt("1").walk, dealt("1").dealt)  # nothing is known of strategies yet
        if played.walk.test(test).needs.power is Power.DEAD:
            continue
        (one,) = hasty(played, [f"test {test}"])[1] or (None,)
        if one is not None and one.regret == 0.0:
            seen += 1
            assert one.regret_minutes == pytest.approx(0.0, abs=1e-6)
    assert seen > 1
