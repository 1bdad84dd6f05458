"""The sums of a tree's price: one pass down the tree to find the states, one pass up for the costs from there on.

All states of a step are worked on at once, in arrays; numpy is loaded with this module.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from typing import TypeAlias

import numpy as np

from diagtree.knowledge.words import SOMETHING_ELSE, Conclude, Refer, Target
from diagtree.reason.plan import Act, Solver, State, start
from diagtree.reason.plan_arrays import Floats, Ints
from diagtree.reason.price import EndingPrice, Price, StepPrice
from diagtree.reason.price_account import Bookkeeper
from diagtree.reason.price_cars import Cars, joined, together
from diagtree.reason.price_steps import TestedSteps

NOISE = 1e-11  # relative: smaller differences of costs are rounding

_Place: TypeAlias = tuple[str, str | None]
"""A step, or the ending that one of its outcomes leads to."""


@dataclass(slots=True)
class _Passage:
    """Cars on their way: from which rows, who, to which place; `into` are the rows they are in there."""

    rows: Ints
    cars: Cars
    to: _Place
    into: Ints = field(default_factory=lambda: np.zeros(0, np.int64))


@dataclass(slots=True)
class _Here:
    """The cars at one place. `own`: cost of what is done here, over all cars of a row; the others are for one car."""

    cars: Cars
    nodes: Ints
    own: Floats
    cost: Floats  # from here on, along the tree
    best: Floats  # from here on, by the best strategy
    regret: Floats
    onward: list[_Passage] = field(default_factory=list)


class Pricing:
    """Prices one tree; see `price.price`."""

    def __init__(self, walk: TestedSteps, solver: Solver, out_of_time: Callable[[], bool]) -> None:
        self.walk = walk
        self.solver = solver
        self.out_of_time = out_of_time
        self.first = start(solver.problem)
        self.board, _ = solver.at(self.first)
        self.arrays = self.board.arrays
        self.books = Bookkeeper(solver)
        self.account = self.books.empty()
        self.tests = {test.id: number for number, test in enumerate(solver.problem.tests)}
        self.causes = {cause: number for number, cause in enumerate(solver.problem.causes)}
        self.advised = {solver.problem.causes[advice.cause] for advice in solver.problem.advices}
        self.coming: dict[_Place, list[_Passage]] = {}
        self.at: dict[_Place, _Here] = {}

    def price(self) -> Price:
        """Return the price."""
        root = Cars.first(self.first, self.arrays.include(self.first.arrangement), self.arrays.tests)
        top = (self.walk.order[0], None)
        self.coming[top] = [_Passage(np.zeros(1, np.int64), root, top)]
        for step_id in self.walk.order:
            here = self._arrive((step_id, None))
            if here is not None:
                self._send(step_id, here)
        for place in list(self.coming):
            self._arrive(place)
        vain = {place: self._in_vain(place) for place in self.at if place[1] is not None}
        nodes = self._search([*(here.cars for here in self.at.values()), *(cars for _, cars in vain.values())])
        for here in self.at.values():
            here.nodes = next(nodes)
        self._end({place: (rows, cars, next(nodes)) for place, (rows, cars) in vain.items()})
        for step_id in reversed(self.walk.order):
            if (step_id, None) in self.at:
                self._sum(self.at[step_id, None])
        return self._result(self.at[top])

    def _arrive(self, place: _Place) -> _Here | None:
        """Put all cars that come to `place` there, with those in one row that differ in their number only."""
        passages = self.coming.pop(place, [])
        if not passages:
            return None
        cars, into = together(joined([passage.cars for passage in passages]))
        for passage in passages:
            passage.into, into = into[: len(passage.rows)], into[len(passage.rows) :]
        none = np.zeros(len(cars.place))
        here = self.at[place] = _Here(cars, none.astype(np.int64), none, none, none, none)
        return here

    def _send(self, step_id: str, here: _Here) -> None:
        """Do the test of a step to all cars there, and send them on by what it shows."""
        act = Act("test", self.walk.tests[step_id])
        number = self.tests[act.id or ""]
        self._book(here.cars, act)
        here.own = here.cars.cost(self.arrays, act, number)
        for outcome, name in enumerate(self.solver.problem.tests[number].outcomes):
            rows, cars = here.cars.shown(self.arrays, number, outcome)
            if len(rows):
                target = self.walk.targets[step_id][name]
                passage = _Passage(rows, cars, (target, None) if isinstance(target, str) else (step_id, name))
                here.onward.append(passage)
                self.coming.setdefault(passage.to, []).append(passage)

    def _in_vain(self, place: _Place) -> tuple[Ints, Cars]:
        """Return the cars of an ending that the best strategy goes on with, and the rows that they come from."""
        cars, first = self.at[place].cars, self._first(place)
        if first is None:
            return np.arange(len(cars.place)), cars
        if first.kind != "correct":
            return np.zeros(0, np.int64), cars.pick(np.zeros(0, np.int64))
        return cars.failed(self.arrays, self.causes[first.id or ""])

    def _search(self, parts: list[Cars]) -> Iterator[Ints]:
        """Look for the best strategy of all these cars; together they take less time. Give the nodes, part by part."""
        cars = joined(parts)
        nodes = self.board.told(self.first, cars.weights, cars.left, cars.place, cars.digits)
        self.board.close(nodes.tolist(), self.out_of_time, cars.total.tolist())
        return iter(np.split(nodes, np.cumsum([len(part.place) for part in parts])[:-1]))

    def _end(self, vain: dict[_Place, tuple[Ints, Cars, Ints]]) -> None:
        """Book how the cars go on at all endings, the best strategy's part of it in one go."""
        followed = []
        for place, (_, cars, _) in vain.items():
            here, first = self.at[place], self._first(place)
            reach = np.zeros((len(cars.place), 2))
            reach[:, 0 if first is None else 1] = cars.total  # corrected in vain before, or not
            followed.append(reach)
            if first is not None:
                self._book(here.cars, first)
                here.own = here.cars.cost(self.arrays, first, self.causes.get(first.id or "", 0))
        costs, done = self.board.followed(
            np.concatenate([nodes for _, _, nodes in vain.values()]), np.concatenate(followed)
        )
        for state, act in done:
            self.books.book(self.account, state, act)
        for place, (rows, cars, _) in vain.items():
            here, mine, costs = self.at[place], costs[: len(rows)], costs[len(rows) :]
            here.cost = here.own.copy()
            here.cost[rows] += mine * cars.total
            here.cost /= here.cars.total
            self._compare(here, here.cost)

    def _first(self, place: _Place) -> Act | None:
        """Return the act that an ending begins with; None where it is the best strategy's to say."""
        target: Target = self.walk.targets[place[0]][place[1] or ""]
        if isinstance(target, Conclude):
            return Act("advise" if target.cause in self.advised else "correct", target.cause)
        refers = isinstance(target, Refer) and self.solver.problem.house.referral is not None
        return Act("refer") if refers else None

    def _book(self, cars: Cars, act: Act) -> None:
        """Book one act for all these cars: what it costs hangs on arrangement and sums of weights alone."""
        for place in np.unique(cars.place).tolist():
            weights = cars.weights[cars.place == place].sum(axis=0)
            there = self.arrays.costs.arrangements[place]
            state = State(tuple(weights.tolist()), frozenset(), self.first.corrections_left, there)
            self.books.book(self.account, state, act)

    def _sum(self, here: _Here) -> None:
        cost, through = here.own.copy(), here.own.copy()
        for passage in here.onward:
            there, weight = self.at[passage.to], passage.cars.total
            cost[passage.rows] += weight * there.cost[passage.into]
            through[passage.rows] += weight * there.best[passage.into]
        total = here.cars.total
        here.cost = cost / total
        self._compare(here, through / total)

    def _compare(self, here: _Here, through: Floats) -> None:
        # Where the search ran out of time, the tree itself may show a better way than the search has found.
        here.best = np.minimum(self.board.graph.upper.data[here.nodes], through)
        lost = through - here.best
        here.regret = np.where(lost > NOISE * np.abs(through), lost, 0.0)

    def _result(self, top: _Here) -> Price:
        total, account = self.first.total, self.account
        best = float(top.best[0])
        return Price(
            expected_cost=float(top.cost[0]),
            expected_minutes=sum(account.minutes.values()) / total,
            best_cost=best,
            lower_bound=min(self.solver.known(self.first).lower / total, best),
            perfect_information=self.solver.perfect_information(self.first) / total,
            wrong_part={c: account.wrong_parts[n] / total for c, n in self.causes.items() if c != SOMETHING_ELSE},
            comeback=account.comebacks / total,
            right_first=account.right_first / total,
            referred=account.referred / total,
            money={kind: money / total for kind, money in account.money.items()},
            minutes={kind: minutes / total for kind, minutes in account.minutes.items()},
            steps={step: self._figures((step, None), total) for step in (*self.walk.order, *self.walk.unreached)},
            endings=tuple(self._endings(total)),
        )

    def _figures(self, place: _Place, total: float) -> StepPrice:
        if place not in self.at:
            return StepPrice(0.0, 0.0, 0.0)
        here = self.at[place]
        cars = here.cars.total
        count = float(cars.sum())
        return StepPrice(count / total, float(cars @ here.cost) / count, float(cars @ here.regret) / count)

    def _endings(self, total: float) -> Iterable[EndingPrice]:
        for step_id in self.walk.order:
            for outcome, target in self.walk.targets[step_id].items():
                if not isinstance(target, str):
                    place = (step_id, outcome)
                    yield EndingPrice(step_id, outcome, target, self._figures(place, total), self._instead(place))

    def _instead(self, place: _Place) -> Act | None:
        """Return the best act known for the row that loses most; None where none loses anything."""
        here = self.at.get(place)
        if here is None or not here.regret.any():
            return None
        return self.board.act(int(here.nodes[(here.cars.total * here.regret).argmax()]))
