"""Quick limits of what states cost, many at once: a floor by perfect information, a ceiling by a plain plan.

Beliefs are per car (they sum to 1); costs are money per car.
"""

from __future__ import annotations

import numpy as np

from diagtree.reason.plan_arrays import Arrays, Floats, Ints

RANKED_ANEW = 10  # corrections


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
    Rommelse 1995); everywhere it is a policy that can be followed, hence a ceiling. What is open or dead after a
    correction changes the costs of the rest: the first few are ranked anew each time, the rare rest once.
    """
    best = arrays.stop(belief, place)
    order = np.full((len(belief), arrays.causes + 1), -1, np.int64)
    length = np.zeros(len(belief), np.int64)
    rows = np.arange(len(belief))
    left, spent, mass = belief.copy(), np.zeros(len(belief)), np.ones(len(belief))
    ranked, after = np.zeros((len(belief), 0), np.int64), np.zeros((len(belief), 0))
    for step in range(arrays.causes):
        every = np.arange(len(rows))
        if step < RANKED_ANEW:
            ratio = left * arrays.per_money[place]
            cause = ratio.argmax(axis=1)
        else:
            if step == RANKED_ANEW:
                ranked = np.argsort(-left * arrays.per_money[place], axis=1, kind="stable")
                after = np.take_along_axis(left, ranked, axis=1)[:, ::-1].cumsum(axis=1)[:, ::-1]
            cause = ranked[:, step - RANKED_ANEW]
        hit = left[every, cause]
        going = (hit > 0) & arrays.correctable[cause] & (spent < best[rows])
        if not going.all():
            rows, left, place, spent, mass, cause = (some[going] for some in (rows, left, place, spent, mass, cause))
            hit, ranked, after = hit[going], ranked[going], after[going]
            if not len(rows):
                break
            every = np.arange(len(rows))
        spent = spent + mass * arrays.correct[place, cause] + hit * arrays.solved[place, cause]
        left[every, cause] = 0.0
        mass = left.sum(axis=1) if step < RANKED_ANEW else after[:, step - RANKED_ANEW + 1]
        place = arrays.correct_next[place, cause]
        order[rows, step] = cause
        stop = arrays.refer[place]
        if arrays.advised:
            stop = arrays.stop(left / np.where(mass > 0, mass, 1.0)[:, None], place)
        ending = spent + mass * np.where(mass > 0, stop, 0.0)
        better = ending < best[rows]
        length[rows[better]] = step + 1
        best[rows[better]] = ending[better]
    order[np.arange(arrays.causes + 1)[None] >= length[:, None]] = -1
    return best, order
