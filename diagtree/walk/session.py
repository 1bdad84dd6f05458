"""The session: state to prompt. `respond` (in `respond`) turns an answer into events. Pure, for every driver alike."""

from __future__ import annotations

from dataclasses import replace

from diagtree.knowledge.words import NOT_DONE, TRIAGE, Power, Test, Where
from diagtree.reason.arrangement import ROAD
from diagtree.walk.approach import approach, hand_back_prompt, procedure_prompt
from diagtree.walk.ask_correction import correction_prompt
from diagtree.walk.ask_ending import cause_of, danger_prompt, ending_prompt, remaining_prompt
from diagtree.walk.ask_start import (
    already_prompt,
    complaint_prompt,
    look_again_prompt,
    look_prompt,
    sort_prompt,
    voltage_found_prompt,
)
from diagtree.walk.ask_test import test_prompt
from diagtree.walk.context import Walk
from diagtree.walk.events import Answered
from diagtree.walk.judging import Readings, read, verdict, with_supplied
from diagtree.walk.prompts import Prompt
from diagtree.walk.route import (
    Goal,
    Route,
    ToChoose,
    ToComplain,
    ToCorrect,
    ToDecide,
    ToEnd,
    ToLook,
    ToLookAgain,
    ToReadDanger,
    ToSort,
    ToTest,
    route,
)
from diagtree.walk.state import State
from diagtree.walk.verdict_text import verdict_lines

UNTOUCHED = ("left-isolated", "set-apart")  # endings after which nobody works on the car: no put-back, no hand-back


def next_prompt(walk: Walk, state: State, now: str) -> Prompt | None:
    """Return what to ask at the time `now` (ISO), or None where the case is closed."""
    if state.closed is not None:
        return None
    found = route(walk, state)
    prompt = _prompt(walk, state, found, now)
    if prompt is None:
        return None
    return replace(prompt, told=(*told(walk, state), *prompt.told), progress=_progress(walk, found))


def _prompt(walk: Walk, state: State, found: Route, now: str) -> Prompt | None:
    if state.voltage_found and not _leaving(found):
        # Nothing goes past it: the proof is repeated, or the car is left isolated.
        if state.running is not None:
            return procedure_prompt(walk, state, state.running, None, "voltage was found")
        return voltage_found_prompt(walk, state)
    goal = found.goal
    if isinstance(goal, ToLook):
        return look_prompt(state)
    if isinstance(goal, ToLookAgain):
        return look_again_prompt(goal.told)
    if isinstance(goal, ToReadDanger):
        return danger_prompt(walk, goal.key)
    if isinstance(goal, ToComplain):
        return complaint_prompt(walk)
    if isinstance(goal, ToSort):
        return sort_prompt(walk, found)
    if not state.asked_already and not isinstance(goal, ToDecide) and not _leaving(found) and not at_desk(walk, goal):
        return already_prompt(walk)
    if isinstance(goal, ToTest):
        return test_prompt(walk, state, walk.test(goal.test), goal.step, now)
    if isinstance(goal, ToDecide):
        return ending_prompt(walk, state, found, goal.ending)
    if isinstance(goal, ToCorrect):
        return correction_prompt(walk, state, found, cause_of(walk, goal.cause), now)
    if isinstance(goal, ToChoose):
        return remaining_prompt(walk, found)
    return _end(walk, state, goal, now)


def at_desk(walk: Walk, goal: Goal) -> bool:
    """Return whether only the owner is asked now: nobody is at the car yet, so what is open there is asked later.

    So it is in a case that begins at the desk, as long as its tests are at reception and open nothing.
    """
    if walk.tree != TRIAGE or not isinstance(goal, ToTest):
        return False
    test = walk.test(goal.test)
    return test.place is Where.RECEPTION and not test.needs.open and test.needs.power is not Power.DEAD


def _leaving(found: Route) -> bool:
    return isinstance(found.goal, ToEnd) and found.goal.how in UNTOUCHED


def _end(walk: Walk, state: State, goal: ToEnd, now: str) -> Prompt | None:
    """Return what is due before the case closes: put back, live, hand back. None: only the closing itself."""
    if goal.how in UNTOUCHED or ended(state):
        return None
    coming = approach(walk, state, ROAD, now, test=None, why="the end of the case")
    if coming is not None:
        return coming
    if "hand-back" in walk.catalogue.procedures:
        return hand_back_prompt(walk, state)
    return None


def ended(state: State) -> bool:
    """Return whether hand-back was done and nothing was opened or isolated since."""
    at_rest = not state.arrangement.open and not state.arrangement.dead and not state.isolation_begun
    return at_rest and bool(state.spent) and state.spent[-1].kind == "hand-back"


def _progress(walk: Walk, found: Route) -> tuple[int, int] | None:
    if found.step is None:
        return None
    left = walk.steps_left(found.tree, found.step)
    return None if left.at_least is None or left.at_most is None else (left.at_least, left.at_most)


def told(walk: Walk, state: State) -> tuple[str, ...]:
    """Return what the answer given just now meant: number first, limit after."""
    answered = state.last
    if answered is None:
        return ()
    test = walk.test(answered.test)
    if answered.outcome == NOT_DONE:
        return (f"{test.id}: not done ({answered.reason})",)
    if not answered.readings or answered.compared:
        return (f"{test.id}: {answered.outcome}",)
    return answer_lines(walk, state, answered)


def answer_lines(walk: Walk, state: State, answered: Answered) -> tuple[str, ...]:
    """Return an answered test's readings with band, formula and source, computed again from the case's knowledge."""
    test = walk.test(answered.test)
    readings = _readings_of(walk, test, answered)
    facts = with_supplied(walk.facts, state.facts)
    return verdict_lines(test, verdict(walk, test, readings, state.facts), readings, facts)


def _readings_of(walk: Walk, test: Test, answered: Answered) -> Readings:
    meter = next(iter(answered.meters.values()), None)
    return read(walk, test, answered.readings, meter)
