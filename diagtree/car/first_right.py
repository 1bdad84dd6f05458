"""How many simulated cars are corrected right at the first go, by a tree and by a strategy.

Cars are made cause by cause: physics' readings where the cause says what is broken, else outcomes by the per cents of
the knowledge, each of them disturbed by up to a fifth, because nobody knows them better. Right is a correction with the
same work and parts as that of the true cause, or the same advice. Tests are done once; nobody leaves one out.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace

from diagtree.car.car import Car, same_work
from diagtree.car.dice import chance
from diagtree.errors import AnswerError
from diagtree.knowledge.limits import MissingName, UnknownFact
from diagtree.knowledge.words import SOMETHING_ELSE, Catalogue, Cause, Conclude, HandOver, Target
from diagtree.reason.complaint_words import cause_of_complaint
from diagtree.reason.plan_state import Act, State, after_test, start
from diagtree.reason.problem import Problem, chance_of
from diagtree.records import dataclass
from diagtree.walk.context import Walk
from diagtree.walk.judging import read, verdict

DISTURBED = 0.2
"""Part by which a per-cent figure may be off, either way."""

First = Callable[[Callable[[str], str]], str | None]
"""Leads one car, given the outcome of each test: the cause whose correction or advice comes first; None: neither."""


@dataclass(frozen=True, slots=True)
class FirstActs:
    """What came first on the cars of one cause. right : per cent of its cars that were corrected or advised right.

    instead : of the others, the cause that was corrected or advised wrongly, None where the car was given away, to the
    per cent of the cause's cars; the commonest first.
    """

    right: float
    instead: Mapping[str | None, float]


def first_acts(walk: Walk, first: First, cars: int, seed: int) -> Mapping[str, FirstActs]:
    """Lead so many cars of each listed cause by `first`; the same seed makes the same cars."""
    causes = walk.tree_of(walk.tree).causes
    return {
        cause: _led(walk, cause, first, cars, seed)
        for cause, share in causes.items() if cause != SOMETHING_ELSE and share
    }  # fmt: skip


def over_shares(found: Mapping[str, FirstActs], shares: Mapping[str, float]) -> float:
    """Return the per cent of right first acts over a complaint's shares.

    `something-else` is left out: nothing that this house does is right for it but giving the car away.
    """
    total = sum(shares[cause] for cause in found)
    return sum(shares[cause] * one.right for cause, one in found.items()) / total if total else 0.0


def by_tree(walk: Walk) -> First:
    """Return how the tree leads a car; a hand-over goes on in the other tree.

    Where the complaints themselves are the causes (`triage`), handing over says which one it is.
    """
    complaints = walk.tree_of(walk.tree).causes

    def lead(outcome: Callable[[str], str]) -> str | None:
        tree, seen = walk.tree_of(walk.tree), {walk.tree}
        target: Target = tree.start
        while True:
            if isinstance(target, Conclude):
                return target.cause
            if isinstance(target, HandOver) and cause_of_complaint(target.tree) in complaints:
                return cause_of_complaint(target.tree)
            if isinstance(target, HandOver):
                if target.tree in seen:
                    return None
                seen.add(target.tree)
                tree = walk.tree_of(target.tree)
                target = tree.start
            elif isinstance(target, str):
                step = tree.steps[target]
                target = step.then[outcome(step.test)]
            else:
                return None

    return lead


def by_strategy(problem: Problem, act: Callable[[State], Act | None]) -> First:
    """Return how a strategy leads a car. act : what it does in a state (`Solver.act`)."""
    tests = {test.id: (number, test.outcomes) for number, test in enumerate(problem.tests)}

    def lead(outcome: Callable[[str], str]) -> str | None:
        state = start(problem)
        while (what := act(state)) is not None and what.kind == "test":
            number, outcomes = tests[what.id or ""]
            state = after_test(problem, state, number, outcomes.index(outcome(what.id or "")))
        return what.id if what is not None and what.kind in ("correct", "advise") else None

    return lead


def disturbed(cause: Cause, seed: object) -> Cause:
    """Return the cause with every per-cent figure moved by up to a fifth, evenly, and brought back to 100 in all."""
    shows = {}
    for test, stated in cause.shows.items():
        moved = {
            outcome: figure * (1.0 + DISTURBED * (2.0 * chance(str(seed), "figure", test, outcome) - 1.0))
            for outcome, figure in stated.items()
        }
        total = sum(moved.values())
        shows[test] = {outcome: 100.0 * figure / total for outcome, figure in moved.items()} if total else stated
    return replace(cause, shows=shows)


def _led(walk: Walk, cause: str, first: First, cars: int, seed: int) -> FirstActs:
    right = _right(walk.catalogue, cause)
    done = Counter(first(outcome) for outcome in _outcomes(walk, cause, cars, seed))
    hits = sum(count for what, count in done.items() if what in right)
    instead = {what: 100.0 * count / cars for what, count in done.most_common() if what not in right}
    return FirstActs(100.0 * hits / cars, instead)


def _right(catalogue: Catalogue, cause: str) -> frozenset[str]:
    """Return the causes whose correction or advice is right for a car that has `cause`."""
    advice = catalogue.causes[cause].advise
    if advice is None:
        return frozenset(same_work(catalogue, cause))
    same = (other.id for other in catalogue.causes.values() if other.advise and other.advise.do == advice.do)
    return frozenset((cause, *same))


def _outcomes(walk: Walk, cause: str, cars: int, seed: int) -> Iterator[Callable[[str], str]]:
    """Give, car by car, what its tests show."""
    catalogue = walk.catalogue
    for number in range(cars):
        name = f"{seed} {cause} {number}"
        changed = disturbed(catalogue.causes[cause], name)
        car = Car(replace(catalogue, causes={**catalogue.causes, cause: changed}), walk.facts, walk.meters, cause, name)
        yield _Asked(walk, car, changed)


class _Asked:
    """What one car shows, each test done once."""

    def __init__(self, walk: Walk, car: Car, cause: Cause) -> None:
        self._walk, self._car, self._cause = walk, car, cause
        self._known: dict[str, str] = {}

    def __call__(self, test_id: str) -> str:
        if test_id not in self._known:
            self._known[test_id] = self._done(test_id)
        return self._known[test_id]

    def _done(self, test_id: str) -> str:
        shown, test = self._car.answer(test_id), self._walk.test(test_id)
        if shown.outcome is not None:
            return shown.outcome
        try:
            return verdict(self._walk, test, read(self._walk, test, shown.readings), {}).judged.outcome
        except (UnknownFact, MissingName, AnswerError):  # a maker's value that the profile does not know
            die = chance(str(self._car.seed), "unknown", test_id)
            for outcome in test.outcome_ids():
                die -= chance_of(test, self._cause, outcome)
                if die < 0.0:
                    return outcome
            return test.healthy
