"""Where a case stands, the acts it may go on with, and what follows from each: the moves of the planning game."""

from __future__ import annotations

from diagtree.reason.arrangement import START, Arrangement
from diagtree.reason.problem import Problem
from diagtree.records import dataclass

KINDS = ("test", "correct", "advise", "refer")  # the order between equally good acts (docs/meaning.md)


def never() -> bool:
    """Return False: there is all the time in the world."""
    return False


@dataclass(frozen=True, slots=True)
class State:
    """Where a case stands.

    weights : per cause, share times the chances of all that was seen; never normalised, so that it carries the
              probability of getting here. A cause whose correction failed has weight 0.
    tests_left : numbers of the tests that may still be done.
    corrections_left : numbers of the causes whose correction has not been tried.
    """

    weights: tuple[float, ...]
    tests_left: frozenset[int]
    corrections_left: frozenset[int]
    arrangement: Arrangement = START

    @property
    def total(self) -> float:
        """The weight of all cars that get here."""
        return sum(self.weights)


@dataclass(frozen=True, slots=True)
class Act:
    """One thing to do next: `id` names the test or the cause, None for refer."""

    kind: str
    id: str | None = None

    @property
    def rank(self) -> tuple[int, str]:
        """The order between equally good acts: tests before corrections, advice, refer; then by id."""
        return KINDS.index(self.kind), self.id or ""


def start(problem: Problem, arrangement: Arrangement = START) -> State:
    """Return the state in which a case of `problem` begins."""
    return State(
        problem.weights,
        frozenset(range(len(problem.tests))),
        frozenset(correction.cause for correction in problem.corrections),
        arrangement,
    )


def after_test(problem: Problem, state: State, test: int, outcome: int) -> State:
    """Return the state once test number `test` has shown outcome number `outcome`."""
    chances = problem.tests[test].chance[outcome]
    there, _ = problem.moved(state.arrangement, problem.tests[test].need)
    return State(
        tuple(weight * chance for weight, chance in zip(state.weights, chances, strict=True)),
        state.tests_left - {test}, state.corrections_left, there,
    )


def after_failure(problem: Problem, state: State, cause: int) -> State:
    """Return the state once the correction of cause number `cause` has turned out to be in vain."""
    need = next(correction.need for correction in problem.corrections if correction.cause == cause)
    there, _ = problem.to_live(problem.moved(state.arrangement, need)[0])
    weights = tuple(0.0 if number == cause else weight for number, weight in enumerate(state.weights))
    return State(weights, state.tests_left, state.corrections_left - {cause}, there)
