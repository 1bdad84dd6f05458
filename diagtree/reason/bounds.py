"""Quick limits of what states cost, many at once: a floor by perfect information, a ceiling by a plain plan.

Beliefs are per car (they sum to 1); costs are money per car.
"""

from __future__ import annotations

import numpy as np

from diagtree.reason.plan_arrays import Arrays, Floats, Ints


def perfect_information(arrays: Arrays, belief: Floats, place: Ints) -> Floats:
    """Return the cost if the cause were known for certain: every policy costs at least as much in every case."""
    alone = np.where(belief > 0, arrays.alone[place], 0.0)
    return np.asarray((belief * alone).sum(axis=1))


def without_tests(arrays: Arrays, belief: Floats, place: Ints) -> Floats:
    """Return the cost of `plain_plan`: a ceiling."""
    return plain_plan(arrays, belief, place)[0]


def plain_plan(arrays: Arrays, belief: Floats, place: Ints) -> tuple[Floats, Ints]:
    """Return the cost of corrections alone, by chance per cost, given up for advice or referral where that is best.

    With it, for each state, the causes in the order in which they are corrected, then -1.
    The order is best where corrections do not share access (Kalagnanam and Henrion 1990; Heckerman, Breese and
    Rommelse 1995); everywhere it is a policy that can be followed, hence a ceiling.
    """
    best = arrays.stop(belief, place)
    order = np.full((len(belief), arrays.causes + 1), -1, np.int64)
    length = np.zeros(len(belief), np.int64)
    rows = np.arange(len(belief))
    left, place, spent, mass = belief.copy(), place.copy(), np.zeros(len(belief)), np.ones(len(belief))
    for step in range(arrays.causes):
        costs = arrays.correct[place]
        ratio = np.where((left > 0) & np.isfinite(costs), left / np.maximum(costs, 1e-9), -1.0)
        cause = ratio.argmax(axis=1)
        every = np.arange(len(rows))
        going = (ratio[every, cause] > 0) & (spent < best[rows])
        rows, left, place, spent, mass, cause = (some[going] for some in (rows, left, place, spent, mass, cause))
        if not len(rows):
            break
        every = np.arange(len(rows))
        spent = spent + mass * arrays.correct[place, cause] + left[every, cause] * arrays.solved[place, cause]
        left[every, cause] = 0.0
        mass, place = left.sum(axis=1), arrays.correct_next[place, cause]
        over = mass > 0
        ending = spent.copy()
        shares = left[over] / mass[over, None]
        ending[over] += mass[over] * arrays.stop(shares, place[over])
        order[rows, step] = cause
        better = ending < best[rows]
        length[rows[better]] = step + 1
        best[rows] = np.minimum(best[rows], ending)
    order[np.arange(arrays.causes + 1)[None] >= length[:, None]] = -1
    return best, order
