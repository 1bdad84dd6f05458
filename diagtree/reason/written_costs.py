"""What a written policy costs, and how that hangs on every chance, minute and price: one pass up, one pass down.

Along any path a test is done once, a correction once, and a cause is one and the same: so the cost of a fixed policy
over all cars is linear in every single share, chance, minute and price. Its slope, times a change of one of them, is
the whole change, not a first approximation. (Reverse accumulation: Linnainmaa 1970; Griewank and Walther 2008.)
"""

from __future__ import annotations

import numpy as np

from diagtree.reason.plan_arrays import Arrays, Floats
from diagtree.reason.plan_written import NOWHERE, Written
from diagtree.records import dataclass


@dataclass(frozen=True, slots=True)
class Sums:
    """Costs over all cars (not per car), and their slopes.

    cost : of the policy. each : [cause], of a car that has it: the slope by the cause's weight.
    onward : [test, outcome, cause], the slope by the chance of that outcome.
    acts : [arrangement, act], the cars to which each act is done there: the slope by its price there.
    fixed : [arrangement, cause], the cars that its correction fixes: the slope by what the end of a case costs then.
    """

    cost: float
    each: Floats
    onward: Floats
    acts: Floats
    fixed: Floats


class Costing:
    """Costs written policies on the figures of a problem."""

    def __init__(self, arrays: Arrays) -> None:
        self.arrays = arrays
        self.weights = np.array(arrays.problem.weights)

    def sums(self, policy: Written) -> Sums:
        """Return what `policy` costs from its start, with the slopes."""
        arrays = self.arrays
        own, chance = self._steps(policy)
        value = np.zeros((len(own), arrays.causes))
        for begin, end in zip(policy.levels, policy.levels[1:], strict=False):
            after = value[policy.child[begin:end]]  # -1 is the last node, whose chance is 0 here
            value[begin:end] = own[begin:end] + (chance[begin:end] * after).sum(axis=1)
        reach = np.zeros_like(value)
        reach[-1] = self.weights
        for begin, end in zip(reversed(policy.levels[:-1]), reversed(policy.levels[1:]), strict=False):
            real = policy.child[begin:end] >= 0
            cars = (reach[begin:end, None] * chance[begin:end])[real]
            np.add.at(reach, policy.child[begin:end][real], cars)
        return self._sums(policy, value, reach)

    def _steps(self, policy: Written) -> tuple[Floats, Floats]:
        """Return what each node's act costs a car of each cause, and the chances of what comes then."""
        arrays, act, place = self.arrays, policy.act, policy.place
        tests, causes = arrays.tests, arrays.causes
        own = np.zeros((len(act), causes))
        chance = np.zeros((len(act), arrays.width, causes))
        test = np.nonzero(act < tests)[0]
        own[test] = arrays.test_cost[place[test], act[test], None]
        chance[test] = arrays.chance[act[test]]
        fix = np.nonzero((act >= tests) & (act < tests + causes))[0]
        cause = act[fix] - tests
        own[fix] = arrays.correct[place[fix], cause, None]
        own[fix, cause] += arrays.solved[place[fix], cause]
        chance[fix, 0] = 1.0
        chance[fix, 0, cause] = 0.0
        advise = np.nonzero((act >= tests + causes) & (act < tests + 2 * causes))[0]
        cause = act[advise] - tests - causes
        own[advise] = arrays.advise[place[advise], cause, None] + arrays.comeback
        own[advise, cause] -= arrays.comeback
        refer = act == tests + 2 * causes
        own[refer] = arrays.refer[place[refer], None]
        own[act > tests + 2 * causes] = NOWHERE
        return own, chance

    def _sums(self, policy: Written, value: Floats, reach: Floats) -> Sums:
        arrays, act = self.arrays, policy.act
        test = np.nonzero(act < arrays.tests)[0]
        onward = np.zeros((arrays.tests, arrays.width, arrays.causes))
        after = value[policy.child[test]]
        after[policy.child[test] < 0] = 0.0
        np.add.at(onward, act[test], reach[test, None] * after)
        done = np.zeros((arrays.arrangements, arrays.tests + 2 * arrays.causes + 2))
        np.add.at(done, (policy.place, act), reach.sum(axis=1))
        fixed = np.zeros((arrays.arrangements, arrays.causes))
        fix = np.nonzero((act >= arrays.tests) & (act < arrays.tests + arrays.causes))[0]
        cause = act[fix] - arrays.tests
        np.add.at(fixed, (policy.place[fix], cause), reach[fix, cause])
        return Sums(float(self.weights @ value[-1]), value[-1], onward, done[:, :-1], fixed)
