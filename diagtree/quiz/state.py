"""Where a round stands: the fold of its events."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import field, replace
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
    Suggested,
    Tested,
    WentWrong,
)
from diagtree.quiz.round import Round
from diagtree.quiz.way import on_the_way
from diagtree.reason import plan
from diagtree.reason.arrangement import Arrangement
from diagtree.reason.arrangement import Move as Way
from diagtree.reason.arrangement import Moved as Change
from diagtree.records import dataclass

FIXED, ADVISED, REFERRED, STOPPED, UNSAFE = "fixed", "advised", "referred", "stopped", "unsafe"


@dataclass(frozen=True, slots=True)
class Statement:
    """How sure the trainee was of a cause, whether it came true, and what the evidence said. [-]"""

    cause: str
    stated: float
    came_true: bool
    evidence: float


@dataclass(frozen=True, slots=True)
class Word:
    """What the quiz itself has told to be the best act. hint : paid for; else the guide's, where the tree ends."""

    act: plan.Act
    hint: bool


@dataclass(frozen=True, slots=True)
class State:
    """A round's state.

    case : the evidence, what is left to do, and the arrangement, as strategies see it.
    outcomes : each test done or told unasked, with its outcome; one that was done again counts once: the outcome that
        is not healthy, of two such the later (docs/meaning.md, "Evidence"). times : how often it was done.
    evidence : by the test's number, what its outcome multiplied each cause's weight by.
    struck : causes whose correction was in vain, and those that the same work would have mended.
    danger : the test that found one; nobody works on that car any more.
    word : stands until it is done, or something that is not on the way to it has changed the case.
    ended : fixed, advised, referred, stopped or unsafe; None while the round runs.
    """

    case: plan.State
    outcomes: Mapping[str, str] = field(default_factory=dict)
    times: Mapping[str, int] = field(default_factory=dict)
    evidence: Mapping[int, tuple[float, ...]] = field(default_factory=dict)
    struck: tuple[str, ...] = ()
    danger: str | None = None
    word: Word | None = None
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
    """Return the state in which the round begins: the car live, nothing open, known only what the owner said."""
    state = State(plan.start(played.problem))
    for test, outcome in played.dealt.told:
        state = _tested(played, state, Tested(test, {}, outcome, {}, (), 0.0, 0.0))
    return state


def fold(played: Round, events: Iterable[Event]) -> State:
    """Return where the round stands after `events`."""
    state = start(played)
    for event in events:
        state = step(played, state, event)
    return state


def step(played: Round, state: State, event: Event) -> State:
    """Return the state after one more event."""
    after = _after(played, state, event)
    return replace(after, word=_word(played, state, event, after))


def _word(played: Round, before: State, event: Event, after: State) -> Word | None:
    if isinstance(event, Hinted) and not event.minutes and before.word is not None:
        return before.word  # told again: it stays whose it was, the hint's or the guide's
    if isinstance(event, Hinted | Suggested):
        told = Word(plan.Act(event.goal_kind, event.goal_id), isinstance(event, Hinted))
        return told if event.goal_kind else None  # an older version did not keep what a hint was for
    word = before.word
    if word is None or (after.case == before.case and after.danger == before.danger and after.ended is None):
        return word
    going = isinstance(event, Moved) and on_the_way(played, before.arrangement, event, word.act)
    return word if going else None


def _after(played: Round, state: State, event: Event) -> State:
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
            return replace(state, hints=state.hints + bool(event.minutes))
        case Suggested():
            return state
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
    danger = event.test if event.outcome in test.stop else state.danger
    state = replace(state, times=times, danger=danger)
    before = state.outcomes.get(event.test)
    # Evidence counts once; of two answers the one that is not healthy, of two such the later (docs/meaning.md).
    if before is not None and event.outcome == test.healthy:
        return state
    outcomes = {**state.outcomes, event.test: event.outcome}
    number = played.test_numbers.get(event.test)
    if number is None:
        return replace(state, outcomes=outcomes)
    evidence = {**state.evidence, number: _factors(played, number, event)}
    if before is not None and evidence == state.evidence:
        return state  # the same again: nothing new
    if before is not None:
        return replace(state, outcomes=outcomes, evidence=evidence, case=_weighed_anew(played, state, evidence))
    # Through the plan's own step: the test is used up.
    used = plan.after_test(played.problem, state.case, number, 0)
    weights = _times(state.case.weights, evidence[number])
    return replace(state, outcomes=outcomes, evidence=evidence, case=replace(used, weights=weights))


def _factors(played: Round, number: int, event: Tested) -> tuple[float, ...]:
    """Return what an answer multiplies each cause's weight by; a close reading counts each outcome by its chance."""
    test = played.problem.tests[number]
    if not event.chances:
        return tuple(test.chance[test.outcomes.index(event.outcome)])
    parts = [(event.chances.get(outcome, 0.0), row) for outcome, row in zip(test.outcomes, test.chance, strict=True)]
    return tuple(sum(part * row[cause] for part, row in parts) for cause in range(len(played.problem.causes)))


def _weighed_anew(played: Round, state: State, evidence: Mapping[int, tuple[float, ...]]) -> plan.State:
    """Return the case with its weights from the beginning, since one answer has taken the place of another."""
    weights = plan.start(played.problem).weights
    for factors in evidence.values():
        weights = _times(weights, factors)
    out = {played.cause_numbers[cause] for cause in state.struck}
    return replace(state.case, weights=tuple(0.0 if number in out else one for number, one in enumerate(weights)))


def _times(weights: tuple[float, ...], factors: tuple[float, ...]) -> tuple[float, ...]:
    return tuple(weight * factor for weight, factor in zip(weights, factors, strict=True))


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
