"""A bank of written policies, with what each costs a car of each cause: a ceiling for every state that they fit.

What a policy costs in a state is the sum over the causes of chance times its cost for that cause, whatever the policy
was made for. So what was found in one state serves all others with the same arrangement in which nothing is left undone
that the policy rests on. (Policies as vectors over hidden states: Smallwood and Sondik 1973.)
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise

import numpy as np

from diagtree.reason.plan_arrays import Arrays, Bools, Floats, Ints
from diagtree.reason.plan_store import Column, Words
from diagtree.reason.plan_written import NOWHERE, Writer

BATCH = 250_000  # products summed in one go: larger ones are spread over cores, which takes longer on the whole


class Bank:
    """Values of the nodes of a writer: `value` [node, cause], `act`, `place`, `child`, by node."""

    def __init__(self, arrays: Arrays) -> None:
        self.arrays = arrays
        self.writer = Writer(arrays)
        self.act, self.place = Column(np.int64), Column(np.int64)
        self.child, self.value = Column(np.int64, arrays.width), Column(float, arrays.causes)
        self._words = (arrays.tests + arrays.causes + 63) // 64
        self._uses = Column(np.uint64, self._words)
        self._offered: dict[int, tuple[Ints, Floats, Words]] = {}

    def enter(self) -> None:
        """Take over the nodes that the writer has made since."""
        writer, tests, causes = self.writer, self.arrays.tests, self.arrays.causes
        for node in range(self.act.count, len(writer.act)):
            child = np.full(self.arrays.width, -1, np.int64)
            child[: len(writer.child[node])] = writer.child[node]
            uses = writer.uses[node] & ((1 << tests + causes) - 1)
            words = [(uses >> 64 * word) & (2**64 - 1) for word in range(self._words)]
            value = self._value(writer.act[node], writer.place[node], writer.child[node])
            self.act.add(np.array([writer.act[node]]))
            self.place.add(np.array([writer.place[node]]))
            self.child.add(child[None])
            self.value.add(value[None])
            self._uses.add(np.array([words], np.uint64))

    def _value(self, act: int, place: int, child: tuple[int, ...]) -> Floats:
        arrays, tests, causes = self.arrays, self.arrays.tests, self.arrays.causes
        if act < tests:
            after = self.value.data[list(child)]
            return np.asarray(arrays.test_cost[place, act] + (arrays.chance[act, : len(child)] * after).sum(axis=0))
        if act < tests + causes:
            cause = act - tests
            value = arrays.correct[place, cause] + self.value.data[child[0]]
            value[cause] = arrays.correct[place, cause] + arrays.solved[place, cause]
            return np.asarray(value)
        if act < tests + 2 * causes:
            value = np.full(causes, arrays.advise[place, act - tests - causes] + arrays.comeback)
            value[act - tests - causes] -= arrays.comeback
            return value
        return np.full(causes, arrays.refer[place] if act == tests + 2 * causes else NOWHERE)

    @property
    def offers(self) -> bool:
        """Whether there is anything for `best` to choose among."""
        return bool(self._offered)

    def offer(self, nodes: Iterable[int]) -> None:
        """Let `best` choose among all that the policies of `nodes` do, and the endings."""
        self.enter()
        wanted = self.reached(nodes)
        wanted.update(self._endings())
        some = np.array(sorted(wanted), np.int64)
        self._offered = {}
        places = self.place.data[some]
        for place in np.unique(places).tolist():
            here = some[places == place]
            self._offered[place] = here, self.value.data[here].T.astype(np.float32), self._uses.data[here]

    def also(self, nodes: Iterable[int]) -> None:
        """Let `best` choose among these too (not all that they lead to)."""
        some = np.array(sorted(set(nodes)), np.int64)
        self.enter()
        places = self.place.data[some]
        for place in np.unique(places).tolist():
            here = some[places == place]
            if place in self._offered:
                here = np.union1d(self._offered[place][0], here)
            self._offered[place] = here, self.value.data[here].T.astype(np.float32), self._uses.data[here]

    def reached(self, nodes: Iterable[int]) -> set[int]:
        """Return all nodes that the policies of `nodes` lead to, themselves among them."""
        met, waiting = set(nodes), list(nodes)
        while waiting:
            for one in self.writer.child[waiting.pop()]:
                if one not in met:
                    met.add(one)
                    waiting.append(one)
        return met

    def levels(self, nodes: Ints) -> Iterator[Ints]:
        """Give all that the policies of `nodes` lead to, each level before those it leads to."""
        met = np.array(sorted(self.reached(nodes.tolist())), np.int64)
        heights = np.array([self.writer.height[node] for node in met.tolist()])
        for height in np.unique(heights)[::-1].tolist():
            yield met[heights == height]

    def passed(self, nodes: Ints, cars: Floats) -> Iterator[tuple[Ints, Floats]]:
        """Give the nodes that come after `nodes`, with the cars that get there; `cars`: [node, any, cause]."""
        arrays, act = self.arrays, self.act.data[nodes]
        test = act < arrays.tests
        for outcome in range(arrays.width if test.any() else 0):
            after = self.child.data[nodes[test], outcome]
            shown = cars[test] * arrays.chance[act[test], outcome][:, None, :]
            yield after[after >= 0], shown[after >= 0]
        fix = np.nonzero((act >= arrays.tests) & (act < arrays.tests + arrays.causes))[0]
        failed = cars[fix].sum(axis=1, keepdims=True) * np.array([[0.0], [1.0]])  # tried by now
        failed[np.arange(len(fix)), :, act[fix] - arrays.tests] = 0.0
        yield self.child.data[nodes[fix], 0], failed

    def _endings(self) -> list[int]:
        arrays, found = self.arrays, []
        for place in range(arrays.arrangements):
            for cause in np.nonzero(np.isfinite(arrays.advise[place]))[0].tolist():
                found.append(self.writer.node(arrays.tests + arrays.causes + cause, place))
            if np.isfinite(arrays.refer[place]):
                found.append(self.writer.node(arrays.tests + 2 * arrays.causes, place))
        self.enter()
        return found

    def done(self, left: Bools, fixes: Bools) -> Words:
        """Return what may not be done any more, as bits: tests not `left`, corrections not among `fixes`."""
        spent = np.concatenate([~left, ~fixes], axis=1)
        room = np.zeros((len(spent), self._words * 64), bool)
        room[:, : spent.shape[1]] = spent
        return np.asarray(np.packbits(room, axis=1, bitorder="little").view("<u8"))

    def best(self, belief: Floats, place: Ints, done: Words) -> tuple[Floats, Ints]:
        """Return for each state the cost of the cheapest policy that fits, and its node; infinity and -1 for none.

        belief : [state, cause], in any scale; the cost is in the same.
        """
        cost, node = np.full(len(belief), np.inf), np.full(len(belief), -1)
        scale = belief.sum(axis=1)
        scaled = (belief / scale[:, None]).astype(np.float32)  # to choose by; the cost itself is summed in full
        order = np.argsort(place, kind="stable")
        begins = np.nonzero(np.diff(place[order], prepend=-1))[0].tolist()
        for begin, end in pairwise([*begins, len(order)]):
            rows = order[begin:end]
            offered = self._offered.get(int(place[rows[0]]))
            if offered is None:
                continue
            nodes, value, uses = offered
            step = max(1, BATCH // value.size)
            for first in range(0, len(rows), step):
                some = rows[first : first + step]
                costs = scaled[some] @ value
                for word in range(self._words):
                    np.copyto(costs, np.inf, where=(done[some, None, word] & uses[None, :, word]) != 0)
                chosen = costs.argmin(axis=1)
                fits = np.isfinite(costs[np.arange(len(some)), chosen])
                node[some[fits]] = nodes[chosen[fits]]
        found = node >= 0
        cost[found] = (belief[found] * self.value.data[node[found]]).sum(axis=1)
        lost = cost > NOWHERE * 1e-3 * scale
        cost[lost], node[lost] = np.inf, -1
        return cost, node
