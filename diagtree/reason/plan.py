"""The best strategy: the policy of least expected cost over all that a case may do next (docs/meaning.md).

Exact where time allows; else the cost of a policy that can be followed, with a proven lower bound. How it is found is
told in docs/meaning.md; numpy is loaded only once a solver is set to work.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING

from diagtree.errors import WrongUse
from diagtree.reason.plan_costs import Costs, Step
from diagtree.reason.plan_state import Act, State, after_failure, after_test, never, start
from diagtree.reason.problem import Problem
from diagtree.records import dataclass

if TYPE_CHECKING:
    from diagtree.reason.plan_board import Board
    from diagtree.reason.plan_policy import Outlook

__all__ = [
    "Act", "ActValue", "Bounds", "Solver", "State", "Strategy", "after_failure", "after_test", "cheapest_first",
    "start",
]  # fmt: skip

ROUNDING = 1e-11  # relative


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


def cheapest_first(values: Iterable[ActValue]) -> tuple[ActValue, ...]:
    """Return the values, cheapest first; costs that differ by rounding alone are equally good: then by rank."""
    equal: list[list[ActValue]] = []
    for value in sorted(values, key=lambda value: value.bounds.upper):
        if equal and value.bounds.upper <= equal[-1][0].bounds.upper * (1 + ROUNDING):
            equal[-1].append(value)
        else:
            equal.append([value])
    return tuple(value for some in equal for value in sorted(some, key=lambda value: value.act.rank))


@dataclass(frozen=True)
class Strategy:
    """A policy that can be followed, and what is proven about it. Costs and minutes are per car.

    perfect_information : each cause's own correction or advice (a referral where it has neither), paid alone.
    first_act : None where no car is left.
    """

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
        """The part of the cost above perfect information."""
        return self.expected_cost - self.perfect_information

    @property
    def gap(self) -> float:
        """What is not proven, as a fraction of the cost. [-]"""
        return _part(self.expected_cost - self.lower_bound, self.expected_cost)

    @property
    def avoidable_gap(self) -> float:
        """What is not proven, as a fraction of the avoidable cost. [-]

        Above 1 where a cheap way out (advice, a referral) may undercut perfect information; infinite where it does.
        """
        return _part(self.expected_cost - self.lower_bound, self.avoidable)

    def act(self, state: State) -> Act | None:
        """Return what the policy does in `state`; None where no car is left."""
        return self.solver.act(state)


class Solver:
    """Solves the states of one problem; what it has learnt about one serves all others.

    Everything it says about a state is over all cars of the state (their weights are never normalised away), except
    what a `Strategy` says. `out_of_time` is asked again and again while a search runs; the core reads no clock.
    """

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self._costs = Costs(problem)
        self._test_number = {test.id: number for number, test in enumerate(problem.tests)}
        self._cause_number = {cause: number for number, cause in enumerate(problem.causes)}
        self._correctable = frozenset(correction.cause for correction in problem.corrections)
        self._boards: dict[frozenset[int], Board] = {}
        self._nodes: dict[State, tuple[Board, int]] = {}
        self._stuck: dict[tuple[int, frozenset[int]], tuple[int, ...]] = {}  # causes for which no act is left
        self._history: dict[State, tuple[State, tuple[tuple[int, int], ...]]] = {}  # state to its root, and answers

    def solve(self, state: State | None = None, out_of_time: Callable[[], bool] = never) -> Strategy:
        """Return the best strategy from `state` (the start of the case by default)."""
        state = start(self.problem) if state is None else state
        total = state.total
        if not total:
            return Strategy(0.0, 0.0, 0.0, 0.0, None, self, state)
        board, node = self.at(state)
        board.close([node], out_of_time)
        board.settle_ties(node, out_of_time)
        outlook, bounds = self.outlook(state), self._bounds(state)
        return Strategy(
            outlook.cost / total, outlook.minutes / total, min(bounds.lower, outlook.cost) / total,
            self.perfect_information(state) / total, self.act(state), self, state,
        )

    def improve(self, state: State, out_of_time: Callable[[], bool], *, least: float = 0.0) -> None:
        """Better the policy from `state` point by point (`plan_rewrite`).

        What more cars reach than `least`, a share, is then looked into as a search does; the rest follows the policy.
        """
        if state.total:
            board, node = self.at(state)
            board.improve(node, out_of_time)
            if least:
                board.unfold(node, least)

    @property
    def filled(self) -> float:
        """The part of its memory that the fullest search has filled; at 1 it stops. [-]"""
        return max((board.search.filled for board in self._boards.values()), default=0.0)

    def value(self, state: State, out_of_time: Callable[[], bool] = never) -> Bounds:
        """Return the limits of the cost of the best strategy from `state`, over all its cars."""
        return self.values((state,), out_of_time)[0]

    def values(self, states: Sequence[State], out_of_time: Callable[[], bool] = never) -> tuple[Bounds, ...]:
        """Return the limits of many states; asked together they take less time than one by one.

        Where time is short it goes to the states with the largest total times gap.
        """
        self._enter(states)
        nodes: dict[frozenset[int], dict[int, float]] = {}
        for state in states:
            if state.total:
                some, node = nodes.setdefault(self._barred(state), {}), self.at(state)[1]
                some[node] = some.get(node, 0.0) + state.total
        for barred, some in nodes.items():
            self._boards[barred].close(list(some), out_of_time, list(some.values()))
        return tuple(self._bounds(state) for state in states)

    def known(self, state: State) -> Bounds:
        """Return the limits of the cost of the best strategy from `state` as they stand, without searching."""
        return self._bounds(state)

    def act(self, state: State) -> Act | None:
        """Return what the policy does in `state`, as good as found so far; None where no car is left."""
        if not state.total:
            return None
        board, node = self.at(state)
        return board.act(node)

    def q_values(self, state: State, out_of_time: Callable[[], bool] = never) -> tuple[ActValue, ...]:
        """Return every act's cost, done now with all going best afterwards; cheapest first.

        A test that tells none of the causes apart that are still possible is not listed: it is never of use.
        """
        if not state.total:
            return ()
        board, node = self.at(state)
        total = state.total
        found = [
            ActValue(act, Bounds(lower * total, upper * total))
            for act, lower, upper in board.every_act(node, out_of_time)
        ]
        return cheapest_first(found)

    def outlook(self, state: State) -> Outlook:
        """Return what following the policy from `state` brings, summed over all that may happen."""
        import numpy as np

        from diagtree.reason.plan_policy import Outlook

        if not state.total:
            return Outlook(0.0, 0.0, (0.0,) * len(state.weights), 0.0)
        board, node = self.at(state)
        tried = state.corrections_left != self._correctable
        costs, deeds = board.follow(np.array([node]), np.array([(0.0, state.total) if tried else (state.total, 0.0)]))
        return deeds.outlook(board.arrays, float(costs[0]) * state.total)

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
        """Return the states that `act` may lead to: one an outcome of a test, a correction's failure, else none."""
        if act.kind == "test" and act.id is not None:
            number = self._test_number[act.id]
            outcomes = range(len(self.problem.tests[number].outcomes))
            found = tuple(after_test(self.problem, state, number, outcome) for outcome in outcomes)
            root, answers = self._history.get(state, (state, ()))
            for outcome, after in enumerate(found):
                self._history.setdefault(after, (root, (*answers, (number, outcome))))
            return found
        if act.kind == "correct" and act.id is not None:
            failed = after_failure(self.problem, state, self._cause_number[act.id])
            self._history.setdefault(failed, self._history.get(state, (state, ())))
            return (failed,)
        return ()

    def _bounds(self, state: State) -> Bounds:
        if not state.total:
            return Bounds(0.0, 0.0)
        board, node = self.at(state)
        total = state.total
        return Bounds(float(board.graph.lower.data[node]) * total, float(board.graph.upper.data[node]) * total)

    def _barred(self, state: State) -> frozenset[int]:
        tried = self._correctable - state.corrections_left
        return frozenset(cause for cause in tried if state.weights[cause])

    def at(self, state: State) -> tuple[Board, int]:
        """Return the graph that holds `state`, and its node."""
        if state not in self._nodes:
            self._enter((state,))
        return self._nodes[state]

    def _enter(self, states: Sequence[State]) -> None:
        """Find or make the nodes of states, many at once."""
        from diagtree.reason.plan_board import Board, History

        new: dict[frozenset[int], list[State]] = {}
        for state in dict.fromkeys(states):
            if state.total and state not in self._nodes:
                barred = self._barred(state)
                self._check(state, barred)
                new.setdefault(barred, []).append(state)
        for barred, some in new.items():
            if barred not in self._boards:
                self._boards[barred] = Board(self.problem, self._costs, barred)
            board = self._boards[barred]
            told = [History(state, *self._history.get(state, (state, ()))) for state in some]
            for state, node in zip(some, board.nodes(told).tolist(), strict=True):
                self._nodes[state] = board, node

    def _check(self, state: State, barred: frozenset[int]) -> None:
        place = self._costs.number(state.arrangement)
        if (place, barred) not in self._stuck:
            causes = range(len(self.problem.causes))
            self._stuck[place, barred] = tuple(
                cause for cause in causes if self._costs.alone(place, cause, cause not in barred) == float("inf")
            )
        for cause in self._stuck[place, barred]:
            if state.weights[cause]:
                raise WrongUse(
                    f"no act is left for cause `{self.problem.causes[cause]}`: its correction cannot be done, "
                    "and the house refers no cars; set `referral:` in workshop.yaml or give --referral"
                )


def _part(some: float, whole: float) -> float:
    if some <= 0:
        return 0.0
    return some / whole if whole > 0 else float("inf")
