"""The first advice: what every act is worth, to be had at once, before any search has begun.

Looks one test ahead, and two where time allows: after them the corrections are made by chance per cost, given up for
advice or referral where that is cheaper. Both figures are proven: the upper is the cost of that plan, the lower is
perfect information. No search, no arrays: it answers within a blink, and a case whose end is near needs no more.

Source: one-step lookahead (Raiffa and Schlaifer 1961, value of sample information); corrections by chance per cost
(Kalagnanam and Henrion 1990; Heckerman, Breese and Rommelse 1995).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from math import inf

from diagtree.reason.plan import Act, ActValue, Bounds, State, after_failure, after_test, cheapest_first
from diagtree.reason.plan_costs import Costs, Step
from diagtree.reason.problem import Problem, ProblemTest

Weights = tuple[float, ...]


class FirstAdvice:
    """Values acts of one problem without searching. It says what a `Solver` says, with wider limits.

    Weights are never normalised: all values are over all cars of a state.
    """

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.costs = Costs(problem)
        self._numbers = {cause: number for number, cause in enumerate(problem.causes)}
        self._alone: dict[tuple[int, frozenset[int]], Weights] = {}
        self._looked: dict[State, tuple[ActValue, ...]] = {}  # where a second test was looked ahead

    def q_values(self, state: State, out_of_time: Callable[[], bool] = lambda: True) -> tuple[ActValue, ...]:
        """Return every act's limits, done now; cheapest first. Tests that part no cause are not listed.

        out_of_time : until it is true, a second test is looked ahead, the most promising acts first. What was found so
        is not forgotten: asked again, the limits are as close as before.
        """
        if not state.total:
            return ()
        if state in self._looked:
            return self._looked[state]
        place = self.costs.number(state.arrangement)
        acts = (*self._tests(state, place), *self._corrections(state, place), *self._endings(state.weights, place))
        found = list(cheapest_first(acts))
        looked = False
        for number, value in enumerate(found):
            if out_of_time():
                break
            if value.act.kind in ("test", "correct"):
                found[number], looked = self._further(state, value), True
        ranked = cheapest_first(found)
        if looked:
            self._looked[state] = ranked
        return ranked

    def act(self, state: State) -> Act | None:
        """Return the act that comes first; None where no car, or nothing to do, is left."""
        values = self.q_values(state)
        return values[0].act if values else None

    def stuck(self, state: State) -> tuple[str, ...]:
        """Return the causes for which no act is left: their correction was tried, and the house refers no cars."""
        place = self.costs.number(state.arrangement)
        return tuple(
            name for cause, name in enumerate(self.problem.causes)
            if state.weights[cause] and self.costs.alone(place, cause, cause in state.corrections_left) == inf
        )

    def step(self, state: State, act: Act) -> Step:
        """Return what `act` costs in `state`, for one car."""
        steps = self.costs.steps(self.costs.number(state.arrangement))
        if act.kind == "refer" and steps.refer is not None:
            return steps.refer
        if act.kind == "test":
            return next(step for test, step in zip(self.problem.tests, steps.tests, strict=True) if test.id == act.id)
        cause = self._numbers[act.id or ""]
        return steps.corrections[cause] if act.kind == "correct" else steps.advices[cause]

    def after(self, state: State, act: Act) -> tuple[State, ...]:
        """Return the states that `act` may lead to: one an outcome of a test, a correction's failure, else none."""
        if act.kind == "test":
            number = next(number for number, test in enumerate(self.problem.tests) if test.id == act.id)
            outcomes = range(len(self.problem.tests[number].outcomes))
            return tuple(after_test(self.problem, state, number, outcome) for outcome in outcomes)
        return (after_failure(self.problem, state, self._numbers[act.id or ""]),) if act.kind == "correct" else ()

    def _further(self, state: State, value: ActValue) -> ActValue:
        """Return the value of a test or a correction with one more test looked ahead behind it."""
        step = self.step(state, value.act)
        upper = state.total * step.cost
        if value.act.kind == "correct":
            upper += state.weights[self._numbers[value.act.id or ""]] * step.solved_cost
        for after in self.after(state, value.act):
            if after.total:
                upper += self.q_values(after)[0].bounds.upper
        upper = min(upper, value.bounds.upper)
        return ActValue(value.act, Bounds(min(value.bounds.lower, upper), upper))

    def _tests(self, state: State, place: int) -> Iterator[ActValue]:
        total, steps = state.total, self.costs.steps(place).tests
        alive = [cause for cause, weight in enumerate(state.weights) if weight]
        for number in sorted(state.tests_left):
            test, step = self.problem.tests[number], steps[number]
            if not _parts(test, alive):
                continue
            upper = step.cost * total
            for chances in test.chance:
                after = tuple(weight * chance for weight, chance in zip(state.weights, chances, strict=True))
                upper += self.without_tests(after, step.there, state.corrections_left)
            lower = step.cost * total + self._known(state.weights, step.there, state.corrections_left)
            yield ActValue(Act("test", test.id), Bounds(min(lower, upper), upper))

    def _corrections(self, state: State, place: int) -> Iterator[ActValue]:
        total = state.total
        for cause, step in self.costs.steps(place).corrections.items():
            hit = state.weights[cause]
            if not hit or cause not in state.corrections_left:
                continue
            own = total * step.cost + hit * step.solved_cost
            rest = tuple(0.0 if number == cause else weight for number, weight in enumerate(state.weights))
            left = state.corrections_left - {cause}
            upper = own + self.without_tests(rest, step.there, left)
            lower = own + self._known(rest, step.there, left)
            yield ActValue(Act("correct", self.problem.causes[cause]), Bounds(min(lower, upper), upper))

    def _endings(self, weights: Weights, place: int) -> Iterator[ActValue]:
        total, steps = sum(weights), self.costs.steps(place)
        for cause, step in steps.advices.items():
            cost = total * step.cost + (total - weights[cause]) * step.wrong_cost
            yield ActValue(Act("advise", self.problem.causes[cause]), Bounds(cost, cost))
        if steps.refer is not None:
            cost = total * steps.refer.cost
            yield ActValue(Act("refer"), Bounds(cost, cost))

    def without_tests(self, weights: Weights, place: int, corrections_left: Iterable[int]) -> float:
        """Return what the plan without tests costs: corrections by chance per cost, then the cheapest ending."""
        total = sum(weights)
        if not total:
            return 0.0
        best, spent = self._stop(weights, total, place), 0.0
        steps = self.costs.steps(place)
        order = sorted(
            (cause for cause in corrections_left if weights[cause] and cause in steps.corrections),
            key=lambda cause: -weights[cause] / max(steps.corrections[cause].cost, 1e-9),
        )
        left = list(weights)
        for cause in order:
            step = steps.corrections[cause]
            spent += total * step.cost + left[cause] * step.solved_cost
            left[cause], place = 0.0, step.there
            if spent >= best:
                return best
            total = sum(left)
            steps = self.costs.steps(place)
            best = min(best, spent + (self._stop(left, total, place) if total else 0.0))
        return best

    def _stop(self, weights: Iterable[float], total: float, place: int) -> float:
        """Return the cost of the cheapest ending at once: advice for one cause, or referral."""
        steps, known = self.costs.steps(place), list(weights)
        ways = [total * steps.refer.cost] if steps.refer else []
        ways += [total * step.cost + (total - known[cause]) * step.wrong_cost for cause, step in steps.advices.items()]
        return min(ways, default=inf)

    def _known(self, weights: Weights, place: int, corrections_left: frozenset[int]) -> float:
        """Return what these cars cost if each one's cause were known for certain: a floor under every policy."""
        key = place, corrections_left
        if key not in self._alone:
            causes = range(len(self.problem.causes))
            self._alone[key] = tuple(self.costs.alone(place, cause, cause in corrections_left) for cause in causes)
        return sum(weight * alone for weight, alone in zip(weights, self._alone[key], strict=True) if weight)


def _parts(test: ProblemTest, alive: Iterable[int]) -> bool:
    """Whether any outcome of `test` tells some of the causes that are still possible apart."""
    alive = list(alive)
    return any(max(row[c] for c in alive) > min(row[c] for c in alive) for row in test.chance)
