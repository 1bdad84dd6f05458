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
    for step in range(min(arrays.causes, RANKED_ANEW)):
        every = np.arange(len(rows))
        cause = (left * arrays.per_money[place]).argmax(axis=1)
        hit = left[every, cause]
        going = (hit > 0) & arrays.correctable[cause] & (spent < best[rows])
        if not going.all():
            rows, left, place, spent, mass, cause = (some[going] for some in (rows, left, place, spent, mass, cause))
            hit = hit[going]
            if not len(rows):
                break
            every = np.arange(len(rows))
        spent = spent + mass * arrays.correct[place, cause] + hit * arrays.solved[place, cause]
        left[every, cause] = 0.0
        mass = left.sum(axis=1)
        place = arrays.correct_next[place, cause]
        order[rows, step] = cause
        stop = arrays.refer[place]
        if arrays.advised:
            stop = arrays.stop(left / np.where(mass > 0, mass, 1.0)[:, None], place)
        ending = spent + mass * np.where(mass > 0, stop, 0.0)
        better = ending < best[rows]
        length[rows[better]] = step + 1
        best[rows[better]] = ending[better]
    if arrays.causes > RANKED_ANEW and len(rows):
        going = spent < best[rows]
        rows = rows[going]
        ending, rest = _rest(arrays, left[going], place[going], spent[going])
        order[rows, RANKED_ANEW : RANKED_ANEW + rest.shape[1]] = rest
        better = np.nonzero(ending.min(axis=1, initial=np.inf) < best[rows])[0]
        if len(better):
            length[rows[better]] = RANKED_ANEW + 1 + ending[better].argmin(axis=1)
            best[rows[better]] = ending[better].min(axis=1)
    order[np.arange(arrays.causes + 1)[None] >= length[:, None]] = -1
    return best, order


def _rest(arrays: Arrays, left: Floats, place: Ints, spent: Floats) -> tuple[Floats, Ints]:
    """Return what it costs to stop after each further correction, ranked once, and the causes in that order.

    All corrections at once; only the arrangements follow one from the other. Nothing is paid for what cannot be
    corrected, or is no cause any more: it stands behind all others, and to stop after it costs infinity.
    """
    causes = arrays.causes
    ratio = left * arrays.per_money[place]
    steps = int((ratio > 0).sum(axis=1).max(initial=0))
    ranked = np.argsort(-ratio, axis=1, kind="stable")
    flat = np.arange(len(left))[:, None] * causes + ranked
    mass = np.zeros((len(left), causes + 1))
    mass[:, :-1] = left.ravel()[flat][:, ::-1].cumsum(axis=1)[:, ::-1]
    ranked, before, after = ranked[:, :steps], mass[:, :steps], mass[:, 1 : steps + 1]
    hit, good = left.ravel()[flat[:, :steps]], ratio.ravel()[flat[:, :steps]] > 0
    slots, onward = np.empty((steps, len(left)), np.int64), arrays.correct_next.ravel()  # arrangement and cause as one
    for step, cause in enumerate(np.ascontiguousarray(ranked.T)):
        slots[step] = place * causes + cause
        place = onward[slots[step]]
    here = slots.T
    there = onward[here]
    paid = np.where(good, before * arrays.correct.ravel()[here] + hit * arrays.solved.ravel()[here], 0.0)
    stop = arrays.refer[there]
    if arrays.advised:
        share = np.where(after > 0, after, 1.0)
        for cause in np.nonzero(np.isfinite(arrays.advise[0]))[0].tolist():
            still = left[:, cause, None] * ~np.logical_or.accumulate(ranked == cause, axis=1)
            stop = np.minimum(stop, arrays.advise[there, cause] + arrays.comeback * (1 - still / share))
    ending = spent[:, None] + paid.cumsum(axis=1) + after * np.where(after > 0, stop, 0.0)
    return np.where(good, ending, np.inf), ranked
