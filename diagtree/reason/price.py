"""What a tree costs to walk, and what the best strategy would cost (docs/meaning.md, "Price of a tree").

Summed over states, never sampled. A state is a step, an arrangement, and what the answers so far make of the causes;
answers that lead to the same state are taken together.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import TypeAlias

from diagtree.knowledge.words import SOMETHING_ELSE, Catalogue, Conclude, Ending, House, Refer, Target, Tree
from diagtree.reason.plan import Act, Solver, State, start
from diagtree.reason.price_account import Bookkeeper
from diagtree.reason.price_steps import TestedSteps
from diagtree.reason.problem import compile_problem

NOISE = 1e-11  # relative: smaller differences of costs are rounding

_Place: TypeAlias = tuple[str, str | None]
"""A step, or the ending that one of its outcomes leads to."""

_Key: TypeAlias = tuple[object, ...]


@dataclass(frozen=True, slots=True)
class StepPrice:
    """One step: the chance to reach it [-], the cost of a car from there on, and the regret of doing its test there.

    A step that no car reaches has 0 in all three.
    """

    reached: float
    cost: float
    regret: float


@dataclass(frozen=True, slots=True)
class EndingPrice:
    """One way to end: the step and the outcome that lead there, the ending, and the same three figures."""

    step: str
    outcome: str
    ending: Ending
    figures: StepPrice


@dataclass(frozen=True, slots=True)
class Price:
    """What a tree costs, per car. Costs are money of the house, minutes are time in the bay. [min]

    best_cost : cost of the best strategy found; lower_bound : what no strategy can undercut. Equal where `exact`.
    perfect_information : each cause's own correction or advice, paid alone from the start.
    wrong_part : cause to the chance that its correction is made in vain in the whole case. [-]
    comeback : the chance of wrong advice. [-]
    right_first : the share of cars that end right at the first correction or advice. [-]
    money, minutes : by kind (`price_account.KINDS`).
    The regrets of steps and endings, each times its `reached`, add up to expected_cost - best_cost.
    """

    expected_cost: float
    expected_minutes: float
    best_cost: float
    lower_bound: float
    perfect_information: float
    wrong_part: Mapping[str, float]
    comeback: float
    right_first: float
    referred: float
    money: Mapping[str, float]
    minutes: Mapping[str, float]
    steps: Mapping[str, StepPrice]
    endings: tuple[EndingPrice, ...]

    @property
    def exact(self) -> bool:
        """Whether the best cost is proven, up to float noise."""
        return self.best_cost - self.lower_bound <= 1e-9 * abs(self.best_cost)


@dataclass(slots=True)
class _Cars:
    """Cars at one place in one state. `own`: the cost of the test here; the others, for one unit of their weight."""

    state: State
    onward: list[tuple[_Place, _Key, float]] = field(default_factory=list)
    own: float = 0.0
    cost: float = 0.0  # from here on, along the tree
    best: float = 0.0  # from here on, by the best strategy
    regret: float = 0.0


def price(
    tree: Tree, catalogue: Catalogue, house: House, *, solver: Solver | None = None,
    out_of_time: Callable[[], bool] = lambda: False,
) -> Price:
    """Return what walking `tree` costs on the car that `catalogue` was merged for.

    solver : one that has already worked on this tree's problem; what it knows is used.
    out_of_time : asked while strategies are searched; once true, they are as good as found so far, and bounds show it.
    Raises WrongUse where a path repeats a test (naming it), or lacks a branch or a cost.
    """
    walk = TestedSteps.of(tree, catalogue)
    return _Pricing(walk, solver or Solver(compile_problem(tree, catalogue, house)), out_of_time).price()


class _Pricing:
    """One pass down the tree to find the states, one pass up to sum the costs from there on."""

    def __init__(self, walk: TestedSteps, solver: Solver, out_of_time: Callable[[], bool]) -> None:
        self.walk = walk
        self.solver = solver
        self.out_of_time = out_of_time
        self.books = Bookkeeper(solver)
        self.account = self.books.empty()
        self.outcomes = {test.id: test.outcomes for test in solver.problem.tests}
        self.at: dict[_Place, dict[_Key, _Cars]] = {}

    def price(self) -> Price:
        first = start(self.solver.problem)
        self._put((self.walk.order[0], None), first)
        for step_id in self.walk.order:
            for cars in self._cars(step_id, None):
                self._send(step_id, cars)
        self.solver.values(tuple(self._to_solve()), self.out_of_time)  # together they take less time than one by one
        self._end()
        for step_id in reversed(self.walk.order):
            for cars in self._cars(step_id, None):
                self._sum(cars)
        return self._result(first)

    def _cars(self, step_id: str, outcome: str | None) -> Iterable[_Cars]:
        return self.at.get((step_id, outcome), {}).values()

    def _put(self, place: _Place, state: State) -> _Key:
        """Put the cars of `state` at `place`, together with those that differ from them in their number only."""
        total = state.total
        key: _Key = (state.arrangement, state.tests_left, tuple(round(weight / total, 13) for weight in state.weights))
        here = self.at.setdefault(place, {})
        if key in here:
            cars = here[key]
            cars.state = self.solver.joined(cars.state, state)
        else:
            here[key] = _Cars(state)
        return key

    def _send(self, step_id: str, cars: _Cars) -> None:
        act = Act("test", self.walk.tests[step_id])
        cars.own = self.books.book(self.account, cars.state, act)
        for outcome, after in zip(self.outcomes[act.id or ""], self.solver.after(cars.state, act), strict=True):
            if after.total:
                target = self.walk.targets[step_id][outcome]
                place = (target, None) if isinstance(target, str) else (step_id, outcome)
                cars.onward.append((place, self._put(place, after), after.total))

    def _to_solve(self) -> Iterable[State]:
        """Give every state whose best strategy is asked for: of the cars anywhere, and after a correction in vain."""
        for (step_id, outcome), here in self.at.items():
            target = self.walk.targets[step_id][outcome] if outcome is not None else None
            first = self._first(target) if target is not None else None
            for cars in here.values():
                yield cars.state
                if first is not None:
                    yield from self.solver.after(cars.state, first)

    def _end(self) -> None:
        """Book how the cars go on at all endings, the best strategy's part of it in one go."""
        ends: list[tuple[_Cars, tuple[State, ...]]] = []
        for (step_id, outcome), here in self.at.items():
            if outcome is not None:
                first = self._first(self.walk.targets[step_id][outcome])
                for cars in here.values():
                    ends.append((cars, (cars.state,) if first is None else self.solver.after(cars.state, first)))
                    cars.cost = 0.0 if first is None else self.books.book(self.account, cars.state, first)
        costs, done = self.solver.followed([state for _, after in ends for state in after])
        for state, act in done:
            self.books.book(self.account, state, act)
        rest = iter(costs)
        for cars, after in ends:
            total = cars.state.total
            cars.cost = (cars.cost + sum(next(rest) for _ in after)) / total
            self._compare(cars, cars.cost, self.solver.known(cars.state).upper / total)

    def _first(self, target: Target) -> Act | None:
        """Return the act that an ending begins with; None where it is the best strategy's to say."""
        if isinstance(target, Conclude):
            advised = any(self.solver.problem.causes[a.cause] == target.cause for a in self.solver.problem.advices)
            return Act("advise" if advised else "correct", target.cause)
        refers = isinstance(target, Refer) and self.solver.problem.house.referral is not None
        return Act("refer") if refers else None

    def _sum(self, cars: _Cars) -> None:
        total, through = cars.state.total, cars.own
        cars.cost = cars.own
        for place, key, weight in cars.onward:
            cars.cost += weight * self.at[place][key].cost
            through += weight * self.at[place][key].best
        cars.cost /= total
        self._compare(cars, through / total, self.solver.known(cars.state).upper / total)

    @staticmethod
    def _compare(cars: _Cars, through: float, best: float) -> None:
        # Where the search ran out of time, the tree itself may show a better way than the search has found.
        cars.best = min(best, through)
        cars.regret = through - cars.best if through - cars.best > NOISE * abs(through) else 0.0

    def _result(self, first: State) -> Price:
        total, account, root = first.total, self.account, next(iter(self._cars(self.walk.order[0], None)))
        listed = enumerate(self.solver.problem.causes)
        return Price(
            expected_cost=root.cost,
            expected_minutes=sum(account.minutes.values()) / total,
            best_cost=root.best,
            lower_bound=min(self.solver.known(first).lower / total, root.best),
            perfect_information=self.solver.perfect_information(first) / total,
            wrong_part={c: account.wrong_parts[number] / total for number, c in listed if c != SOMETHING_ELSE},
            comeback=account.comebacks / total,
            right_first=account.right_first / total,
            referred=account.referred / total,
            money={kind: money / total for kind, money in account.money.items()},
            minutes={kind: minutes / total for kind, minutes in account.minutes.items()},
            steps={step: self._figures(step, None, total) for step in (*self.walk.order, *self.walk.unreached)},
            endings=tuple(self._endings(total)),
        )

    def _figures(self, step_id: str, outcome: str | None, total: float) -> StepPrice:
        cars = tuple(self._cars(step_id, outcome))
        here = sum(some.state.total for some in cars)
        if not here:
            return StepPrice(0.0, 0.0, 0.0)
        return StepPrice(
            here / total,
            sum(some.state.total * some.cost for some in cars) / here,
            sum(some.state.total * some.regret for some in cars) / here,
        )

    def _endings(self, total: float) -> Iterable[EndingPrice]:
        for step_id in self.walk.order:
            for outcome, target in self.walk.targets[step_id].items():
                if not isinstance(target, str):
                    yield EndingPrice(step_id, outcome, target, self._figures(step_id, outcome, total))
