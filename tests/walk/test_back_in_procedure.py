"""Inside a procedure `back` takes back its last confirmed step; what was done to the car stays done."""

from __future__ import annotations

import pytest

from diagtree.errors import AnswerError
from diagtree.knowledge.library import read_library
from diagtree.walk.answers import Back, DoNow
from diagtree.walk.approach import confirmed_words
from diagtree.walk.context import Walk
from diagtree.walk.event_json import event_from_json, event_to_json
from diagtree.walk.events import StepUnconfirmed, Undone
from diagtree.walk.fold import fold
from diagtree.walk.prompts import Kind
from diagtree.walk.respond import resume
from tests.walk.bay import AT, Bay
from tests.walk.knowledge import TEXTS


@pytest.fixture
def bay() -> Bay:
    return Bay(Walk.begin(read_library(TEXTS), "first", "petrel-9"))


def steps_of(bay: Bay) -> list[str]:
    return [step.kind for step in bay.walk.catalogue.procedures["make-safe"].steps]


def test_the_last_confirmed_step_is_asked_again_and_no_answer_is_lost(bay: Bay) -> None:
    """The tree's answers stand; a procedure under way goes back step by step, then the tree."""
    bay.until("make-safe:3")
    answers = len(bay.state.items)
    bay.give(Back())
    assert bay.prompt.key == "make-safe:2"
    bay.give(Back(2))
    assert bay.prompt.key == "make-safe:0"
    assert len(bay.state.items) == answers
    assert bay.state.isolation_begun  # the plug that was pulled is still out
    bay.give(Back())
    assert len(bay.state.items) == answers - 1
    assert isinstance(bay.events[-1], Undone)


def test_more_than_the_steps_confirmed_reaches_into_the_tree(bay: Bay) -> None:
    bay.until("make-safe:2")
    answers = len(bay.state.items)
    with pytest.raises(AnswerError, match=f"only {2 + answers} answer"):
        bay.give(Back(3 + answers))
    bay.give(Back(3))
    assert len(bay.state.items) == answers - 1
    assert bay.state.running is None


def test_a_reading_of_the_absence_taken_back_proves_nothing(bay: Bay) -> None:
    """It is measured again before the car counts as dead; the record keeps both readings and the taking back."""
    last = len(steps_of(bay)) - 1
    bay.until(f"make-safe:{last}")
    bay.give(Back())
    assert bay.prompt.kind is Kind.ABSENCE
    assert bay.state.absences == ()
    bay.until(f"make-safe:{last}")
    bay.give(Back(2))
    assert bay.prompt.key == f"make-safe:{last - 2}"  # the tester, before the measurement
    bay.until(Kind.OPEN, Kind.READING, Kind.OUTCOME)
    assert bay.state.arrangement.dead
    assert [event.index for event in bay.events if isinstance(event, StepUnconfirmed)] == [last - 1, last - 1, last - 2]
    stored = [event_from_json(event_to_json(event)) for event in bay.events]
    assert fold(bay.walk, stored) == bay.state


def test_a_step_of_re_energising_taken_back_leaves_the_car_live_and_half_connected(bay: Bay) -> None:
    """Even back in the tree: live work needs the whole of re-energising first, dead work the whole of making safe."""
    bay.until("cover-resistance")
    bay.give(DoNow("live-voltage"))
    bay.until("re-energise:1")
    bay.give(Back())
    assert bay.prompt.key == "re-energise:0"
    assert bay.state.isolation_begun
    assert not bay.state.arrangement.dead
    bay.give(Back())
    assert isinstance(bay.events[-1], Undone)  # the test chosen out of turn
    assert bay.state.isolation_begun
    bay.give(DoNow("live-voltage"))
    assert bay.prompt.key == "re-energise:0"
    bay.give(Back())
    assert bay.until("make-safe:0").kind is Kind.PROCEDURE


def test_who_comes_back_to_a_procedure_is_told_in_one_line_what_is_confirmed(bay: Bay) -> None:
    """Kinds of steps in order, each once; after the break the tester is proven again, so it does not count."""
    bay.until("make-safe:1")
    assert confirmed_words(bay.walk, bay.state) == "Make safe, confirmed before: unplug."
    bay.until(f"make-safe:{len(steps_of(bay)) - 1}")
    state = fold(bay.walk, resume(bay.state, AT), bay.state)
    told = "Make safe, confirmed before: unplug, switch off, disconnect, secure, wait."
    assert confirmed_words(bay.walk, state) == told
    bay.until("cover-resistance")
    assert confirmed_words(bay.walk, bay.state) == ""
