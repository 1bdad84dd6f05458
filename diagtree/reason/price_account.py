"""What goes out over all cars of a complaint, by kind: the ledger in which a price is added up."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from diagtree.reason.arrangement import LIVE, Arrangement, Move, Moved, Need
from diagtree.reason.plan import Act, Solver, State, start
from diagtree.reason.problem import Problem

KINDS = (
    "test", "access", "power", "correction", "parts", "proof", "advice", "hand-back", "referral", "comeback",
)
"""`access`: opening and closing; `power`: making safe and re-energising; `comeback`: after wrong advice."""


@dataclass(slots=True)
class Account:
    """Sums over the weights of all cars booked so far (not per car).

    money, minutes : by kind; minutes are time in the bay. [min]
    wrong_parts : per cause number, the weight of cars on which its correction was made in vain.
    comebacks : the weight of cars that got wrong advice.
    right_first : the weight of cars whose first correction or advice was the right one.
    referred : the weight of cars that were given to somebody else.
    """

    wrong_parts: list[float]
    money: dict[str, float] = field(default_factory=lambda: dict.fromkeys(KINDS, 0.0))
    minutes: dict[str, float] = field(default_factory=lambda: dict.fromkeys(KINDS, 0.0))
    comebacks: float = 0.0
    right_first: float = 0.0
    referred: float = 0.0


class Bookkeeper:
    """Books acts, and whole strategies, of one problem into an account."""

    def __init__(self, solver: Solver) -> None:
        self.solver = solver
        self.problem: Problem = solver.problem
        self._tests = {test.id: test for test in self.problem.tests}
        self._corrections = {self.problem.causes[work.cause]: work for work in self.problem.corrections}
        self._advices = {self.problem.causes[advice.cause]: advice for advice in self.problem.advices}
        self._untried = start(self.problem).corrections_left
        self._moved: dict[tuple[Arrangement, Need | None], tuple[float, float]] = {}

    def empty(self) -> Account:
        """Return an account with nothing booked."""
        return Account([0.0] * len(self.problem.causes))

    def book(self, account: Account, state: State, act: Act) -> float:
        """Book one act, for all cars of `state`, with the end of those it ends for; return what it costs."""
        if act.kind == "test":
            return self._test(account, state, act.id or "")
        if act.kind == "correct":
            return self._correct(account, state, act.id or "")
        return self._advise(account, state, act.id or "") if act.kind == "advise" else self._refer(account, state)

    def _test(self, account: Account, state: State, test_id: str) -> float:
        test = self._tests[test_id]
        cost = self._moves(account, state.total, state.arrangement, test.need)
        return cost + self._work(account, "test", state.total, test.minutes, test.labour)

    def _correct(self, account: Account, state: State, cause: str) -> float:
        work, weight, problem = self._corrections[cause], state.total, self.problem
        cost = self._moves(account, weight, state.arrangement, work.need)
        cost += self._work(account, "correction", weight, work.minutes, work.labour)
        cost += self._money(account, "parts", weight * work.price)
        there, _ = problem.moved(state.arrangement, work.need)
        cost += self._moves(account, weight, there, LIVE)
        cost += self._work(account, "proof", weight, work.proof_minutes, work.proof_labour)
        hit = state.weights[work.cause]
        account.wrong_parts[work.cause] += weight - hit
        if state.corrections_left == self._untried:
            account.right_first += hit
        return cost + self._end(account, hit, problem.to_live(there)[0])

    def _advise(self, account: Account, state: State, cause: str) -> float:
        advice, weight = self._advices[cause], state.total
        hit = state.weights[advice.cause]
        cost = self._end(account, weight, state.arrangement)
        cost += self._work(account, "advice", weight, advice.minutes, advice.labour)
        account.comebacks += weight - hit
        if state.corrections_left == self._untried:
            account.right_first += hit
        return cost + self._money(account, "comeback", (weight - hit) * (self.problem.house.comeback or 0.0))

    def _refer(self, account: Account, state: State) -> float:
        account.referred += state.total
        cost = self._end(account, state.total, state.arrangement)
        return cost + self._money(account, "referral", state.total * (self.problem.house.referral or 0.0))

    def _end(self, account: Account, weight: float, now: Arrangement) -> float:
        last_look = self.problem.layout.hand_back_minutes
        return self._moves(account, weight, now, None) + self._work(account, "hand-back", weight, last_look, last_look)

    def _moves(self, account: Account, weight: float, now: Arrangement, need: Need | None) -> float:
        key = (now, need)
        if key not in self._moved:
            layout = self.problem.layout
            self._moved[key] = _by_kind(layout.end(now) if need is None else layout.moves(now, need))
        access, power = self._moved[key]
        cost = self._work(account, "access", weight, access, access)
        return cost + self._work(account, "power", weight, power, power)

    def _work(self, account: Account, kind: str, weight: float, minutes: float, labour: float) -> float:
        account.minutes[kind] += weight * minutes
        return self._money(account, kind, weight * self.problem.money(labour))

    @staticmethod
    def _money(account: Account, kind: str, money: float) -> float:
        account.money[kind] += money
        return money


def _by_kind(moves: Iterable[Moved]) -> tuple[float, float]:
    access = power = 0.0
    for moved in moves:
        if moved.move in (Move.OPEN, Move.CLOSE):
            access += moved.minutes
        else:
            power += moved.minutes
    return access, power
