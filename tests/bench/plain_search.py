"""The peer: plain depth-first branch and bound with memo and the perfect-information bound, one state at a time."""

from __future__ import annotations

from collections.abc import Callable

from diagtree.reason.arrangement import START
from diagtree.reason.plan_costs import Costs
from diagtree.reason.problem import Problem


class GaveUp(Exception):
    """The time was out."""


class PlainSearch:
    """Exact, in unoptimised Python. Weights are never normalised; a state is its answers, failures and arrangement."""

    def __init__(self, problem: Problem, out_of_time: Callable[[], bool] = lambda: False) -> None:
        self.problem = problem
        self.costs = Costs(problem)
        self.out_of_time = out_of_time
        self.memo: dict[object, float] = {}
        self._own: dict[int, list[float]] = {}

    def solve(self) -> float:
        """Return the expected cost per car from the start, live and with nothing open."""
        weights = self.problem.weights
        begin = self.costs.number(START)
        return self._value(weights, (-1,) * len(self.problem.tests), frozenset(), begin) / sum(weights)

    def _bound(self, weights: tuple[float, ...], place: int) -> float:
        if place not in self._own:
            self._own[place] = [self.costs.alone(place, cause) for cause in range(len(weights))]
        return sum(weight * own for weight, own in zip(weights, self._own[place], strict=True) if weight)

    def _value(self, weights: tuple[float, ...], answers: tuple[int, ...], failed: frozenset[int], place: int) -> float:
        if not any(weights):
            return 0.0
        key = answers, failed, place
        if key in self.memo:
            return self.memo[key]
        if self.out_of_time():
            raise GaveUp
        steps, total = self.costs.steps(place), sum(weights)
        best = total * steps.refer.cost if steps.refer else float("inf")
        for cause, step in steps.advices.items():
            best = min(best, total * step.cost + (total - weights[cause]) * step.wrong_cost)
        options = []
        for cause, step in steps.corrections.items():
            if weights[cause]:
                after = tuple(0.0 if number == cause else weight for number, weight in enumerate(weights))
                cost = total * step.cost + weights[cause] * step.solved_cost
                options.append((cost, [(after, answers, failed | {cause}, step.there)]))
        for number, step in enumerate(steps.tests):
            rows = self.problem.tests[number].chance
            if answers[number] < 0 and any(len({row[c] for c, w in enumerate(weights) if w}) > 1 for row in rows):
                children = []
                for outcome, row in enumerate(rows):
                    after = tuple(weight * chance for weight, chance in zip(weights, row, strict=True))
                    said = (*answers[:number], outcome, *answers[number + 1 :])
                    children.append((after, said, failed, step.there))
                options.append((total * step.cost, children))
        bounded = [
            (cost + sum(self._bound(child[0], child[3]) for child in children), rank)
            for rank, (cost, children) in enumerate(options)
        ]
        for bound, rank in sorted(bounded):
            if bound >= best:
                break
            cost, children = options[rank]
            left = bound
            for child in children:
                left -= self._bound(child[0], child[3])
                value = self._value(*child)
                cost, left = cost + value, left + value
                if left >= best:
                    break
            else:
                best = min(best, cost)
        self.memo[key] = best
        return best
