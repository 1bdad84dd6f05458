"""A problem's chances and prices as arrays, so that many states can be worked on at once.

Only what plans or prices imports this module (and with it numpy); a walk does not.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, TypeAlias

import numpy as np
import numpy.typing as npt

from diagtree.reason.arrangement import Arrangement
from diagtree.reason.plan_costs import Costs
from diagtree.reason.problem import Problem

Floats: TypeAlias = npt.NDArray[np.float64]
Ints: TypeAlias = npt.NDArray[np.int64]
Bools: TypeAlias = npt.NDArray[np.bool_]
Array: TypeAlias = npt.NDArray[Any]


class Arrays:
    """The numbers of a problem. Rows are arrangements, columns tests or causes; impossible acts cost infinity.

    chance : [test, outcome, cause], 0 for outcomes that a test does not have.
    alone : [arrangement, cause], what a cause costs when it is known for certain: a floor under every policy.
    """

    def __init__(self, problem: Problem, costs: Costs, barred: Iterable[int] = ()) -> None:
        """`barred`: causes whose correction may not be tried (any more) although they may be the cause."""
        self.problem = problem
        self.costs = costs
        self.barred = frozenset(barred)
        self.causes = len(problem.causes)
        self.tests = len(problem.tests)
        self.width = max([len(test.outcomes) for test in problem.tests], default=1)
        self.outcomes = [len(test.outcomes) for test in problem.tests]
        self.chance: Floats = np.zeros((self.tests, self.width, self.causes))
        for number, test in enumerate(problem.tests):
            self.chance[number, : len(test.outcomes)] = test.chance
        self.comeback = problem.house.comeback or 0.0
        self.advised = bool(problem.advices)
        self.arrangements = 0

    def include(self, arrangement: Arrangement) -> int:
        """Return the number of `arrangement`; what can be reached from it has its rows from now on."""
        number = self.costs.number(arrangement)
        if number >= self.arrangements:
            # Numbers may have been given to others meanwhile (a batch of new states): each row needs its followers'.
            for fresh in range(self.arrangements, len(self.costs.arrangements)):
                self.costs.reach(fresh)
            self._fill(len(self.costs.arrangements))
        return number

    def stop(self, belief: Floats, place: Ints) -> Floats:
        """Return the cost of the cheapest act that ends the case at once: a referral or an advice."""
        best: Floats = self.refer[place]
        if self.advised:
            best = np.minimum(best, (self.advise[place] + self.comeback * (1 - belief)).min(axis=1))
        return best

    def _fill(self, count: int) -> None:
        causes, tests = self.causes, self.tests
        self.arrangements = count
        self.test_cost, self.test_next = np.zeros((count, tests)), np.zeros((count, tests), np.int64)
        self.correct, self.solved = np.full((count, causes), np.inf), np.zeros((count, causes))
        self.correct_next = np.zeros((count, causes), np.int64)
        self.refer, self.advise = np.full(count, np.inf), np.full((count, causes), np.inf)
        self.alone = np.full((count, causes), np.inf)
        self.test_minutes, self.correct_minutes = np.zeros((count, tests)), np.zeros((count, causes))
        self.solved_minutes, self.advise_minutes = np.zeros((count, causes)), np.zeros((count, causes))
        self.refer_minutes = np.zeros(count)
        for number in range(count):
            steps = self.costs.steps(number)
            for test, step in enumerate(steps.tests):
                self.test_cost[number, test], self.test_next[number, test] = step.cost, step.there
                self.test_minutes[number, test] = step.minutes
            for cause, step in steps.corrections.items():
                if cause not in self.barred:
                    self.correct[number, cause], self.solved[number, cause] = step.cost, step.solved_cost
                    self.correct_next[number, cause] = step.there
                    self.correct_minutes[number, cause] = step.minutes
                    self.solved_minutes[number, cause] = step.solved_minutes
            for cause, step in steps.advices.items():
                self.advise[number, cause], self.advise_minutes[number, cause] = step.cost, step.minutes
            if steps.refer is not None:
                self.refer[number], self.refer_minutes[number] = steps.refer.cost, steps.refer.minutes
            for cause in range(causes):
                self.alone[number, cause] = self.costs.alone(number, cause, cause not in self.barred)
        self.correctable: Bools = np.isfinite(self.correct[0])
        self.per_money: Floats = 1 / np.maximum(self.correct, 1e-9)  # 0 where there is no correction


def parted(chances: Floats) -> Bools:
    """Return for every test ([test, outcome, cause]) whether any of its outcomes tells some of the causes apart."""
    if chances.shape[2] < 2:
        return np.zeros(len(chances), bool)
    return np.asarray((chances.max(axis=2) > chances.min(axis=2)).any(axis=1))
