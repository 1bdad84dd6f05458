"""A policy made better point by point: in every state that it meets, the best first step before the best that is known.

From the far ends up to the start, each state that is not rare tries every act, followed by whatever policy of the bank
is cheapest after each outcome. What is found in one state is there for all others at once, so that a few rounds do
what a search has to find anew in every state. Often met states look into their next best acts too, lest all keep to
what they know. What comes out is the cost of a policy that can be followed: a ceiling.
Source: point-based value iteration (Pineau, Gordon and Thrun 2003; Shani, Pineau and Kaplow 2013).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from diagtree.reason.plan_arrays import Bools, Floats, Ints
from diagtree.reason.plan_bank import Bank

FIRST, LEAST = 5e-3, 5e-5  # share of cars below which a state is passed over: in the first round, and at the least
ENOUGH = 2e-3  # a round that saves less of the cost than this is followed by one that passes over fewer states
BETTER = 1e-12  # relative
OFTEN = 0.02  # share of cars from which on a state looks into other acts
OTHERS = 3  # of them, the cheapest so far
REMOTE = 0.2  # what the cars count in states that other acts lead to
BATCH = 1_000_000  # numbers in the largest array of one batch


@dataclass(slots=True)
class Points:
    """States: a policy's node in each, the cars by cause, what may still be done, and what the state counts for."""

    node: Ints
    cars: Floats
    left: Bools
    fixes: Bools
    count: Floats

    def pick(self, rows: Ints | Bools) -> Points:
        """Return some of them."""
        return Points(self.node[rows], self.cars[rows], self.left[rows], self.fixes[rows], self.count[rows])


@dataclass(slots=True)
class _Acts:
    """Acts in states: the state's row, the act, what it costs with the best of the bank after it, the nodes then."""

    owner: Ints
    act: Ints
    cost: Floats
    after: Ints


def rewritten(bank: Bank, known: Sequence[int], state: Points, out_of_time: Callable[[], bool]) -> int:
    """Return the node of a policy for `state`, one row, no dearer than those of `known`; as good as time allows."""
    bank.enter()
    costs = {node: float(state.cars[0] @ bank.value.data[node]) for node in known}
    node = min(costs, key=lambda one: costs[one])
    cost, rare = costs[node], FIRST
    while not out_of_time():
        bank.offer((node, *known))
        known = ()
        node = _round(bank, node, state, rare, out_of_time)
        before, cost = cost, float(state.cars[0] @ bank.value.data[node])
        if before - cost <= ENOUGH * abs(cost):
            if rare > LEAST:
                rare /= 2
            elif before - cost <= BETTER * abs(cost):
                break
    return node


def first_steps(bank: Bank, state: Points, place: int) -> list[tuple[int, int]]:
    """Return every test and correction with the node of the policy that begins with it in `state`, one row."""
    writer, arrays = bank.writer, bank.arrays
    acts = _all_acts(bank, state, np.array([place]))
    found = []
    for act, cost, after in zip(acts.act.tolist(), acts.cost.tolist(), acts.after.tolist(), strict=True):
        if cost < np.inf:
            width = arrays.outcomes[act] if act < arrays.tests else 1
            found.append((act, writer.node(act, place, tuple(after[:width]))))
    bank.enter()
    return found


def _round(bank: Bank, node: int, state: Points, rare: float, out_of_time: Callable[[], bool]) -> int:
    """Better every state that the policy meets, the furthest first; return the best policy for `state` then."""
    begin = Points(np.array([node]), state.cars, state.left, state.fixes, np.ones(1))
    levels = [begin]
    while len(levels[-1].node) and not out_of_time():
        levels.append(_onward(bank, levels[-1], rare))
    for points in reversed(levels):
        step = max(1, BATCH // ((bank.arrays.tests + 1) * bank.arrays.width * bank.arrays.causes))
        for first in range(0, len(points.node), step):
            if out_of_time():
                break
            bank.also(_bettered(bank, points.pick(np.arange(first, min(first + step, len(points.node))))))
    _, best = bank.best(begin.cars, bank.place.data[begin.node], bank.done(begin.left, begin.fixes))
    return int(best[0]) if best[0] >= 0 else node


def _onward(bank: Bank, points: Points, rare: float) -> Points:
    """Return the states that the policy leads to, and for often met ones the next best acts; no rare ones."""
    acts = bank.act.data[points.node]
    found = [_after(bank, points, acts, rare)]
    often = points.pick(points.count >= OFTEN)
    if len(often.node):
        tried = _all_acts(bank, often, bank.place.data[often.node])
        tried_act = tried.act != bank.act.data[often.node[tried.owner]]
        owner, act, cost = tried.owner[tried_act], tried.act[tried_act], tried.cost[tried_act]
        order = np.lexsort((cost, owner))
        owner, act = owner[order], act[order]
        near = np.arange(len(owner)) - np.searchsorted(owner, owner) < OTHERS
        others = often.pick(owner[near])
        others.count *= REMOTE
        others.node[:] = -1
        found.append(_after(bank, others, act[near], rare, bank.place.data[often.node[owner[near]]]))
    return _join(found)


def _after(bank: Bank, points: Points, act: Ints, rare: float, place: Ints | None = None) -> Points:
    """Return the states after these acts that are not rare; where a point has no node, with the best of the bank."""
    arrays, tests = bank.arrays, bank.arrays.tests
    here = bank.place.data[points.node] if place is None else place
    total = points.cars.sum(axis=1)
    test = np.nonzero(act < tests)[0]
    fix = np.nonzero((act >= tests) & (act < tests + arrays.causes))[0]
    cars = points.cars[test][:, None, :] * arrays.chance[act[test]]
    one = points.pick(test)
    one.left[np.arange(len(test)), act[test]] = False
    count = cars.sum(axis=2) * (one.count / total[test])[:, None]
    some = np.nonzero((count >= rare).ravel())[0]
    row, outcome = some // arrays.width, some % arrays.width
    shown = one.pick(row)
    shown.node = np.where(shown.node >= 0, bank.child.data[shown.node, outcome], -1)
    shown.cars, shown.count = cars[row, outcome], count[row, outcome]
    cause = act[fix] - tests
    failed, every = points.pick(fix), np.arange(len(fix))
    failed.cars[every, cause], failed.fixes[every, cause] = 0.0, False
    failed.node = np.where(failed.node >= 0, bank.child.data[failed.node, 0], -1)
    failed.count = failed.count * failed.cars.sum(axis=1) / total[fix]
    real = np.nonzero(failed.count >= rare)[0]
    there = np.concatenate([
        arrays.test_next[here[test], act[test]][row], arrays.correct_next[here[fix], cause][real]
    ])
    found = _join([shown, failed.pick(real)])
    new = np.nonzero(found.node < 0)[0]
    if len(new):
        _, found.node[new] = bank.best(found.cars[new], there[new], bank.done(found.left[new], found.fixes[new]))
    return found.pick(found.node >= 0)


def _bettered(bank: Bank, points: Points) -> Iterable[int]:
    """Return new nodes for those states in which some act, then the best of the bank, is cheaper than all the bank."""
    arrays, place = bank.arrays, bank.place.data[points.node]
    acts = _all_acts(bank, points, place)
    known, _ = bank.best(points.cars, place, bank.done(points.left, points.fixes))
    order = np.lexsort((acts.cost, acts.owner))
    some, firsts = np.unique(acts.owner[order], return_index=True)
    chosen = order[firsts]
    better = acts.cost[chosen] < known[some] * (1 - BETTER)
    for state, number in zip(some[better].tolist(), chosen[better].tolist(), strict=True):
        act = int(acts.act[number])
        width = arrays.outcomes[act] if act < arrays.tests else 1
        yield bank.writer.node(act, int(place[state]), tuple(acts.after[number, :width].tolist()))


def _all_acts(bank: Bank, points: Points, place: Ints) -> _Acts:
    """Return every test and correction in every state, but those that cannot matter."""
    arrays = bank.arrays
    owner, test = np.nonzero(points.left)
    cars = (points.cars[owner][:, None, :] * arrays.chance[test]).reshape(-1, arrays.causes)
    left = points.left[owner]
    left[np.arange(len(owner)), test] = False
    real = np.nonzero(cars.sum(axis=1) > 0)[0]
    cost, after = np.zeros(len(cars)), np.full(len(cars), -1)
    done = bank.done(left, points.fixes[owner])
    there = arrays.test_next[place[owner], test]
    row = real // arrays.width
    cost[real], after[real] = bank.best(cars[real], there[row], done[row])
    own = points.cars[owner].sum(axis=1) * arrays.test_cost[place[owner], test]
    tests = _Acts(owner, test, own + cost.reshape(-1, arrays.width).sum(axis=1), after.reshape(-1, arrays.width))
    fixes = _corrections(bank, points, place)
    return _Acts(
        np.concatenate([tests.owner, fixes.owner]), np.concatenate([tests.act, fixes.act]),
        np.concatenate([tests.cost, fixes.cost]), np.concatenate([tests.after, fixes.after]),
    )


def _corrections(bank: Bank, points: Points, place: Ints) -> _Acts:
    arrays = bank.arrays
    owner, cause = np.nonzero(points.fixes & arrays.correctable & (points.cars > 0))
    cars, fixes, every = points.cars[owner], points.fixes[owner], np.arange(len(owner))
    here, hit = place[owner], cars[every, cause]
    cost = cars.sum(axis=1) * arrays.correct[here, cause] + hit * arrays.solved[here, cause]
    cars[every, cause], fixes[every, cause] = 0.0, False
    real = np.nonzero(cars.sum(axis=1) > 0)[0]
    after = np.full((len(owner), arrays.width), -1)
    done = bank.done(points.left[owner][real], fixes[real])
    rest, after[real, 0] = bank.best(cars[real], arrays.correct_next[here, cause][real], done)
    cost[real] += rest
    return _Acts(owner, arrays.tests + cause, cost, after)


def _join(parts: list[Points]) -> Points:
    return Points(*(
        np.concatenate([getattr(part, name) for part in parts]) for name in ("node", "cars", "left", "fixes", "count")
    ))
