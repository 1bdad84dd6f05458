"""Where a round stands: the fold of its events."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import assert_never

from diagtree.quiz.events import (
    Advised,
    Corrected,
    Dealt,
    Event,
    Hinted,
    Moved,
    Referred,
    Refused,
    Stopped,
    Tested,
    WentWrong,
)
from diagtree.quiz.round import Round
from diagtree.reason import plan
from diagtree.reason.arrangement import Arrangement
from diagtree.reason.arrangement import Move as Way
from diagtree.reason.arrangement import Moved as Change

FIXED, ADVISED, REFERRED, STOPPED, UNSAFE = "fixed", "advised", "referred", "stopped", "unsafe"


@dataclass(frozen=True, slots=True)
class Statement:
    """How sure the trainee was of a cause, whether it came true, and what the evidence said. [-]"""

    cause: str
    stated: float
    came_true: bool
    evidence: float


@dataclass(frozen=True, slots=True)
class State:
    """A round's state.

    case : the evidence, what is left to do, and the arrangement, as strategies see it.
    outcomes : each test done, with its outcome (the first where it was done again). times : how often it was done.
    struck : causes whose correction was in vain, and those that the same work would have mended.
    danger : the test that found one; nobody works on that car any more.
    ended : fixed, advised, referred, stopped or unsafe; None while the round runs.
    """

    case: plan.State
    outcomes: Mapping[str, str] = field(default_factory=dict)
    times: Mapping[str, int] = field(default_factory=dict)
    struck: tuple[str, ...] = ()
    danger: str | None = None
    minutes: float = 0.0
    money: float = 0.0
    statements: tuple[Statement, ...] = ()
    unsafe: int = 0
    refused: int = 0
    hints: int = 0
    ended: str | None = None

    @property
    def arrangement(self) -> Arrangement:
        """What is open, and whether the car is dead."""
        return self.case.arrangement

    @property
    def chances(self) -> tuple[float, ...]:
        """Each cause's chance by the evidence, in the problem's order; all 0 where nothing can explain it."""
        total = self.case.total
        return tuple(weight / total if total else 0.0 for weight in self.case.weights)


def start(played: Round) -> State:
    """Return the state in which the round begins: the car live, nothing open, nothing known but the complaint."""
    return State(plan.start(played.problem))


def fold(played: Round, events: Iterable[Event]) -> State:
    """Return where the round stands after `events`."""
    state = start(played)
    for event in events:
        state = step(played, state, event)
    return state


def step(played: Round, state: State, event: Event) -> State:
    """Return the state after one more event."""
    state = replace(state, minutes=state.minutes + _minutes(event), money=state.money + _money(event))
    match event:
        case Dealt():
            return state
        case Moved():
            changes = [Change(Way(move), access or None, minutes) for move, access, minutes in event.moves]
            there = played.problem.layout.after(state.arrangement, changes)
            return replace(state, case=replace(state.case, arrangement=there))
        case Tested():
            return _tested(played, state, event)
        case Corrected():
            return _corrected(played, state, event)
        case Advised():
            return replace(_stated(played, state, event, event.right), ended=ADVISED)
        case Referred():
            return replace(state, ended=REFERRED)
        case Hinted():
            return replace(state, hints=state.hints + 1)
        case Refused():
            return replace(state, refused=state.refused + 1)
        case WentWrong():
            return replace(
                state, unsafe=state.unsafe + 1, ended=UNSAFE if played.mode.unsafe_ends else state.ended
            )
        case Stopped():
            return replace(state, ended=STOPPED)
        case _:
            assert_never(event)


def _minutes(event: Event) -> float:
    return 0.0 if isinstance(event, Dealt) else event.minutes


def _money(event: Event) -> float:
    return 0.0 if isinstance(event, Dealt) else event.money


def _tested(played: Round, state: State, event: Tested) -> State:
    test = played.walk.test(event.test)
    times = {**state.times, event.test: state.times.get(event.test, 0) + 1}
    outcomes = {event.test: event.outcome, **state.outcomes}
    danger = event.test if event.outcome in test.stop else state.danger
    case = state.case
    number = played.test_numbers.get(event.test)
    # Evidence counts once: a test done again shows the same car again (docs/quiz.md).
    if number is not None and number in case.tests_left:
        case = _known(played, case, number, event)
    return replace(state, times=times, outcomes=outcomes, danger=danger, case=case)


def _known(played: Round, case: plan.State, number: int, event: Tested) -> plan.State:
    """Return the case after the answer; a close reading counts each outcome by its chance."""
    outcomes = played.problem.tests[number].outcomes
    certain = plan.after_test(played.problem, case, number, outcomes.index(event.outcome))
    if not event.chances:
        return certain
    rows = played.problem.tests[number].chance
    parts = [(event.chances.get(outcome, 0.0), row) for outcome, row in zip(outcomes, rows, strict=True)]
    weights = (
        weight * sum(part * row[cause] for part, row in parts) for cause, weight in enumerate(case.weights)
    )
    return replace(certain, weights=tuple(weights))


def _corrected(played: Round, state: State, event: Corrected) -> State:
    # The work may put right what it was not done for: that makes what was said of the named cause no truer.
    state = _stated(played, state, event, event.cause == played.dealt.cause)
    if event.fixed:
        return replace(state, ended=FIXED)
    return replace(
        state, case=after_vain_work(played, state.case, event.cause),
        struck=(*state.struck, *played.mended_by(event.cause)),
    )  # fmt: skip


def after_vain_work(played: Round, case: plan.State, cause: str) -> plan.State:
    """Return the case once the correction of `cause` was in vain: nor is it a cause that the same work would mend."""
    out = frozenset(played.cause_numbers[one] for one in played.mended_by(cause))
    failed = plan.after_failure(played.problem, case, played.cause_numbers[cause])
    if len(out) == 1:
        return failed
    weights = tuple(0.0 if number in out else weight for number, weight in enumerate(failed.weights))
    return replace(failed, weights=weights, corrections_left=failed.corrections_left - out)


def _stated(played: Round, state: State, event: Corrected | Advised, came_true: bool) -> State:
    evidence = state.chances[played.cause_numbers[event.cause]]
    said = Statement(event.cause, event.sure / 100.0, came_true, evidence)
    return replace(state, statements=(*state.statements, said))
