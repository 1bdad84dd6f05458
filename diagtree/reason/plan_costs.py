"""What every act costs from every arrangement: the planning game's price list."""

from __future__ import annotations

from diagtree.reason.arrangement import Arrangement
from diagtree.reason.problem import Problem
from diagtree.records import dataclass


@dataclass(frozen=True, slots=True)
class Step:
    """An act from one arrangement, for one car: its money, its minutes in the bay, and the arrangement it leads to.

    `solved_cost` and `solved_minutes` come on top for a car that a correction has fixed (the end of the case),
    `wrong_cost` for one that was given the wrong advice.
    """

    cost: float
    minutes: float
    there: int
    solved_cost: float = 0.0
    solved_minutes: float = 0.0
    wrong_cost: float = 0.0


@dataclass(frozen=True, slots=True)
class Steps:
    """All acts from one arrangement: tests by number, corrections and advice by cause, refer where the house has it."""

    tests: tuple[Step, ...]
    corrections: dict[int, Step]
    advices: dict[int, Step]
    refer: Step | None


class Costs:
    """The price list of a problem. Arrangements are numbered in the order in which they are asked for."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.arrangements: list[Arrangement] = []
        self._numbers: dict[Arrangement, int] = {}
        self._steps: dict[int, Steps] = {}

    def number(self, arrangement: Arrangement) -> int:
        """Return the number of `arrangement`."""
        if arrangement not in self._numbers:
            self._numbers[arrangement] = len(self.arrangements)
            self.arrangements.append(arrangement)
        return self._numbers[arrangement]

    def steps(self, number: int) -> Steps:
        """Return the acts from arrangement number `number`."""
        if number not in self._steps:
            self._steps[number] = self._price(self.arrangements[number])
        return self._steps[number]

    def reach(self, number: int) -> list[int]:
        """Return the numbers of all arrangements that any acts lead to from `number`, itself first."""
        found = [number]
        for here in found:
            steps = self.steps(here)
            onward = [step.there for step in (*steps.tests, *steps.corrections.values())]
            found.extend(there for there in dict.fromkeys(onward) if there not in found)
        return found

    def alone(self, number: int, cause: int, correctable: bool = True) -> float:
        """Return what `cause` costs for certain, known from here: its correction, its advice or a referral."""
        steps = self.steps(number)
        ways = [steps.refer.cost] if steps.refer else []
        ways += [step.cost for advised, step in steps.advices.items() if advised == cause]
        # Advice for another cause costs the comeback; it is a way out like any other.
        ways += [step.cost + step.wrong_cost for advised, step in steps.advices.items() if advised != cause]
        if correctable and cause in steps.corrections:
            step = steps.corrections[cause]
            ways.append(step.cost + step.solved_cost)
        return min(ways, default=float("inf"))

    def _price(self, now: Arrangement) -> Steps:
        problem, money = self.problem, self.problem.money
        tests = []
        for test in problem.tests:
            there, minutes = problem.moved(now, test.need)
            tests.append(Step(money(minutes + test.labour), minutes + test.minutes, self.number(there)))
        corrections = {}
        for work in problem.corrections:
            there, minutes = problem.moved(now, work.need)
            proving, to_live = problem.to_live(there)
            end = problem.end_minutes(proving)
            corrections[work.cause] = Step(
                money(minutes + work.labour + to_live + work.proof_labour) + work.price,
                minutes + work.minutes + to_live + work.proof_minutes,
                self.number(proving), money(end), end,
            )
        end = problem.end_minutes(now)
        here = self.number(now)
        comeback = problem.house.comeback or 0.0
        advices = {
            advice.cause: Step(money(end + advice.labour), end + advice.minutes, here, wrong_cost=comeback)
            for advice in problem.advices
        }
        referral = problem.house.referral
        refer = None if referral is None else Step(money(end) + referral, end, here)
        return Steps(tuple(tests), corrections, advices, refer)
