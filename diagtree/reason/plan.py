"""The best strategy: the policy of least expected cost over all that a case may do next (docs/meaning.md).

First version: plain recursion over all states, each solved once. Exact; slow beyond six causes or so.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from diagtree.reason.plan_costs import Costs, Step
from diagtree.reason.plan_state import Act, State, after_failure, after_test, start
from diagtree.reason.problem import Problem

__all__ = ["Act", "ActValue", "Bounds", "Outlook", "Solver", "State", "Strategy", "after_failure", "after_test", "start"]

TIE = 1e-12  # relative: acts whose costs differ by less than float noise count as equally good


@dataclass(frozen=True, slots=True)
class Bounds:
    """Proven limits of a cost: no policy does better than `lower`, a policy that can be followed costs `upper`."""

    lower: float
    upper: float

    @property
    def exact(self) -> bool:
        """Whether the two meet, up to float noise."""
        return self.upper - self.lower <= 1e-10 * abs(self.upper)


@dataclass(frozen=True, slots=True)
class ActValue:
    """What it costs to do `act` now with all going best afterwards, over all cars of the state (not per car)."""

    act: Act
    bounds: Bounds


@dataclass(frozen=True, slots=True)
class Outlook:
    """What following the policy brings, exactly, over all cars of the state (not per car).

    wrong_parts : per cause number, the weight of cars on which its correction is made in vain.
    comebacks : the weight of cars that get wrong advice.
    """

    cost: float
    minutes: float
    wrong_parts: tuple[float, ...]
    comebacks: float


@dataclass(frozen=True)
class Strategy:
    """A policy that can be followed, and what is proven about it. Costs and minutes are per car."""

    expected_cost: float
    expected_minutes: float
    lower_bound: float
    perfect_information: float
    first_act: Act | None
    solver: Solver
    state: State

    @property
    def exact(self) -> bool:
        """Whether no policy can be cheaper, up to float noise."""
        return Bounds(self.lower_bound, self.expected_cost).exact

    @property
    def avoidable(self) -> float:
        """The part of the cost above each cause's own correction or advice, paid alone from here."""
        return self.expected_cost - self.perfect_information

    def act(self, state: State) -> Act | None:
        """Return what the policy does in `state`; None where no car is left."""
        return self.solver.act(state)


class Solver:
    """Solves the states of one problem; what it has learnt about one serves all others."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self._costs = Costs(problem)
        self._test_number = {test.id: number for number, test in enumerate(problem.tests)}
        self._cause_number = {cause: number for number, cause in enumerate(problem.causes)}
        self._memo: dict[State, tuple[float, Act | None]] = {}

    def solve(self, state: State | None = None, out_of_time: Callable[[], bool] = lambda: False) -> Strategy:
        """Return the best strategy from `state` (the start of the case by default)."""
        state = start(self.problem) if state is None else state
        bounds, outlook, total = self.value(state, out_of_time), self.outlook(state), state.total
        return Strategy(
            outlook.cost / total, outlook.minutes / total, bounds.lower / total,
            self.perfect_information(state) / total, self.act(state), self, state,
        )

    def value(self, state: State, out_of_time: Callable[[], bool] = lambda: False) -> Bounds:
        """Return the cost of the best strategy from `state`, over all its cars."""
        value = self._solve(state)[0]
        return Bounds(value, value)

    def act(self, state: State) -> Act | None:
        """Return what the policy does in `state`; None where no car is left."""
        return self._solve(state)[1]

    def q_values(self, state: State, out_of_time: Callable[[], bool] = lambda: False) -> tuple[ActValue, ...]:
        """Return every act's cost, done now with all going best afterwards; cheapest first."""
        values = [ActValue(act, Bounds(cost, cost)) for act, cost in self._acts(state)]
        return tuple(sorted(values, key=lambda value: (value.bounds.upper, value.act.rank)))

    def perfect_information(self, state: State) -> float:
        """Return each cause's own correction or advice (a referral where it has neither), paid alone from `state`."""
        steps = self._costs.steps(self._costs.number(state.arrangement))
        own = dict.fromkeys(range(len(state.weights)), steps.refer.cost if steps.refer else 0.0)
        own |= {cause: step.cost for cause, step in steps.advices.items()}
        own |= {cause: step.cost + step.solved_cost for cause, step in steps.corrections.items()}
        return sum(weight * own[cause] for cause, weight in enumerate(state.weights) if weight)

    def step(self, state: State, act: Act) -> Step:
        """Return what `act` costs in `state`, for one car."""
        steps = self._costs.steps(self._costs.number(state.arrangement))
        if act.kind == "refer" and steps.refer is not None:
            return steps.refer
        if act.kind == "test" and act.id is not None:
            return steps.tests[self._test_number[act.id]]
        cause = self._cause_number[act.id or ""]
        return steps.corrections[cause] if act.kind == "correct" else steps.advices[cause]

    def after(self, state: State, act: Act) -> tuple[State, ...]:
        """Return the states that `act` may lead to: one an outcome of a test, the failure of a correction, else none."""
        if act.kind == "test" and act.id is not None:
            number = self._test_number[act.id]
            outcomes = range(len(self.problem.tests[number].outcomes))
            return tuple(after_test(self.problem, state, number, outcome) for outcome in outcomes)
        if act.kind == "correct" and act.id is not None:
            return (after_failure(self.problem, state, self._cause_number[act.id]),)
        return ()

    def outlook(self, state: State) -> Outlook:
        """Return what following the policy from `state` brings, by its own sum over all that may happen."""
        memo: dict[State, Outlook] = {}

        def visit(now: State) -> Outlook:
            if now not in memo:
                memo[now] = self._outlook(now, visit)
            return memo[now]

        return visit(state)

    def _outlook(self, state: State, visit: Callable[[State], Outlook]) -> Outlook:
        wrong, comebacks, total = [0.0] * len(state.weights), 0.0, state.total
        act = self.act(state)
        if act is None:
            return Outlook(0.0, 0.0, tuple(wrong), 0.0)
        step = self.step(state, act)
        cost, minutes = total * step.cost, total * step.minutes
        if act.kind in ("correct", "advise"):
            cause = self._cause_number[act.id or ""]
            hit = state.weights[cause]
            cost += hit * step.solved_cost + (total - hit) * step.wrong_cost
            minutes += hit * step.solved_minutes
            if act.kind == "advise":
                comebacks = total - hit
            else:
                wrong[cause] = total - hit
        for after in (visit(onward) for onward in self.after(state, act)):
            cost, minutes, comebacks = cost + after.cost, minutes + after.minutes, comebacks + after.comebacks
            wrong = [mine + more for mine, more in zip(wrong, after.wrong_parts, strict=True)]
        return Outlook(cost, minutes, tuple(wrong), comebacks)

    def _solve(self, state: State) -> tuple[float, Act | None]:
        if state not in self._memo:
            best, chosen = float("inf"), None
            if not any(state.weights):
                best = 0.0
            else:
                for act, cost in self._acts(state):  # in rank order: a later act must be better beyond noise
                    if cost < best - TIE * abs(best) or chosen is None:
                        best, chosen = cost, act
            self._memo[state] = (best, chosen)
        return self._memo[state]

    def _acts(self, state: State) -> Iterator[tuple[Act, float]]:
        for act in self._possible(state):
            step = self.step(state, act)
            cost = state.total * step.cost
            if act.kind in ("correct", "advise"):
                hit = state.weights[self._cause_number[act.id or ""]]
                cost += hit * step.solved_cost + (state.total - hit) * step.wrong_cost
            yield act, cost + sum(self._solve(after)[0] for after in self.after(state, act))

    def _possible(self, state: State) -> list[Act]:
        causes = self.problem.causes
        acts = [Act("test", self.problem.tests[test].id) for test in state.tests_left if self._parts(state, test)]
        acts += [Act("correct", causes[cause]) for cause in state.corrections_left if state.weights[cause]]
        acts += [Act("advise", causes[advice.cause]) for advice in self.problem.advices if state.weights[advice.cause]]
        if self.problem.house.referral is not None:
            acts.append(Act("refer"))
        return sorted(acts, key=lambda act: act.rank)

    def _parts(self, state: State, test: int) -> bool:
        alive = [cause for cause, weight in enumerate(state.weights) if weight]
        return any(len({row[cause] for cause in alive}) > 1 for row in self.problem.tests[test].chance)
