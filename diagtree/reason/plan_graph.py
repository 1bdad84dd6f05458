"""The graph of states: nodes with proven limits of their cost, and the acts that may still be the best in them.

A node is what matters of a state: the beliefs (per car), which tests could still tell something, the arrangement.
States that differ in anything else share a node; whole batches of nodes are made, opened and settled at once.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from diagtree.reason.bounds import perfect_information, without_tests
from diagtree.reason.bounds_partition import PartitionFloor
from diagtree.reason.plan_arrays import Arrays, Bools, Floats, Ints, parted
from diagtree.reason.plan_state import never
from diagtree.reason.plan_store import Column, Index, Words, constants, mix

NOTHING = 0  # the node in which no car is left
FINEST = 2.0**44  # beliefs closer than 1/FINEST are one node; moves no cost by more than 1e-12 of the dearest act
NOISE = 1e-13  # relative: a gap that is none
SLACK = 1e-11  # relative: acts that may be as good as the best are kept
BATCH = 1_500_000  # numbers in the largest array of one batch


@dataclass(slots=True)
class Rows:
    """States to be looked up or made: beliefs, outcomes since the start of their context, tests left, arrangement."""

    belief: Floats
    digits: Ints
    left: Bools
    place: Ints
    context: Ints

    def pick(self, rows: Ints | Bools) -> Rows:
        """Return some of them."""
        return Rows(self.belief[rows], self.digits[rows], self.left[rows], self.place[rows], self.context[rows])


@dataclass(slots=True)
class Edges:
    """The acts of some nodes: edge numbers, the rank of the node that each belongs to, and their limits."""

    number: Ints
    owner: Ints
    lower: Floats
    upper: Floats


class Graph:
    """Nodes and edges in columns. An act is a number: a test's, or `arrays.tests` + a cause's for its correction."""

    def __init__(self, arrays: Arrays) -> None:
        self.arrays = arrays
        causes, tests, width = arrays.causes, arrays.tests, arrays.width
        self.belief, self.digits, self.left = Column(float, causes), Column(np.uint8, tests), Column(bool, tests)
        self.place, self.context, self.rank = Column(np.int32), Column(np.int32), Column(np.int32)
        self.lower, self.upper, self.stop = Column(float), Column(float), Column(float)
        self.guide, self.led = Column(np.int64), Column(float)  # a bank's policy (-1: none), and what it costs here
        self.first, self.acts = Column(np.int64), Column(np.int32)  # first edge (-1: not opened), number of edges
        self.act, self.cost = Column(np.int16), Column(float)
        self.child, self.chance = Column(np.int32, width), Column(float, width)
        self.contexts: list[PartitionFloor] = []
        self.opened = 0
        self.moves = 0  # how often anything was opened or a limit moved: stands still when nothing is left to do
        self._index = Index()
        self._belief_words, self._test_words = constants(1, causes), constants(2, tests)
        self._useful: dict[bytes, Bools] = {}
        self._bare = np.zeros(1, np.int64)
        nothing = Rows(
            np.zeros((1, causes)), np.zeros((1, tests), np.int64), np.zeros((1, tests), bool), self._bare, self._bare
        )
        self._store(nothing, np.zeros(1), np.zeros(1), np.zeros(1))
        self.first.data[NOTHING] = 0

    @property
    def bytes(self) -> int:
        """Room taken by all columns and the index. [B]"""
        columns = [one for one in vars(self).values() if isinstance(one, Column)]
        tables = sum(floor.entries * 16 for floor in self.contexts)
        return sum(int(one.data.nbytes) for one in columns) + self._index.bytes + tables

    def begin(self, weights: Floats, tests: Bools) -> int:
        """Return the number of a new context: what follows from a state with these weights and tests left."""
        left = tests & self._useful_tests((weights > 0)[None].astype(float))[0]
        self.contexts.append(PartitionFloor(self.arrays, weights, left))
        return len(self.contexts) - 1

    def enter(self, weights: Floats, tests: Bools, place: Ints, digits: Ints, contexts: Ints) -> Ints:
        """Return the nodes of states of some contexts; `digits`: per test 0 for not done, else its outcome + 1."""
        belief = weights / weights.sum(axis=1)[:, None]
        rows = Rows(belief, digits, tests & self._useful_tests(belief), place, contexts)
        keys = self._keys(rows)
        found = self._index.find(keys)
        new = np.nonzero(found < 0)[0]
        if len(new):
            found[new] = self._make(rows.pick(new), keys[new], self._floor(rows.pick(new)))
        return found

    def open(self, nodes: Ints, out_of_time: Callable[[], bool] = never, *, every_act: bool = False) -> Ints:
        """Give `nodes` their acts; those that cannot be the best (or all, where `every_act`) are left out for good.

        Return how far it got: the nodes that are opened now.
        """
        arrays = self.arrays
        step = max(1, BATCH // (arrays.causes * arrays.width * max(1, arrays.tests + arrays.causes)))
        for begin in range(0, len(nodes), step):
            if out_of_time():
                return nodes[:begin]
            self._open(nodes[begin : begin + step], every_act)
        return nodes

    def settle(self, nodes: Ints) -> Edges:
        """Draw the limits of opened `nodes` from their acts; return these."""
        edges = self.edges(nodes)
        lower, upper = self.stop.data[nodes].copy(), self.stop.data[nodes].copy()
        counts = self.acts.data[nodes]
        some = counts > 0
        if some.any():
            begins = (np.cumsum(counts) - counts)[some]
            lower[some] = np.minimum(lower[some], np.minimum.reduceat(edges.lower, begins))
            upper[some] = np.minimum(upper[some], np.minimum.reduceat(edges.upper, begins))
        old_lower, old_upper = self.lower.data[nodes], self.upper.data[nodes]
        upper = np.minimum(old_upper, upper)
        lower = np.minimum(np.maximum(old_lower, lower), upper)
        self.moves += int(((upper < old_upper) | (lower > old_lower)).sum())
        self.upper.data[nodes], self.lower.data[nodes] = upper, lower
        return edges

    def edges(self, nodes: Ints) -> Edges:
        """Return the acts of opened `nodes`."""
        counts = self.acts.data[nodes].astype(np.int64)
        owner = np.repeat(np.arange(len(nodes)), counts)
        number = np.repeat(self.first.data[nodes] - (np.cumsum(counts) - counts), counts) + np.arange(len(owner))
        child, chance, cost = self.child.data[number], self.chance.data[number], self.cost.data[number]
        lower = cost + (chance * self.lower.data[child]).sum(axis=1)
        upper = cost + (chance * self.upper.data[child]).sum(axis=1)
        return Edges(number, owner, lower, upper)

    def lead(self, nodes: Ints, guides: Ints, costs: Floats) -> None:
        """Let `nodes`, unlike each other, follow policies of a bank where these are the cheapest known."""
        cheaper = (guides >= 0) & (costs < self.upper.data[nodes] * (1 - NOISE))
        nodes, guides, costs = nodes[cheaper], guides[cheaper], costs[cheaper]
        self.guide.data[nodes], self.led.data[nodes], self.upper.data[nodes] = guides, costs, costs
        self.lower.data[nodes] = np.minimum(self.lower.data[nodes], costs)
        self.moves += len(nodes)

    def led_by(self, nodes: Ints) -> Bools:
        """Return which of `nodes` follow a bank's policy because no act of theirs is known to be as cheap."""
        return np.asarray(
            (self.guide.data[nodes] >= 0) & (self.led.data[nodes] <= self.upper.data[nodes] * (1 + NOISE))
        )

    def gap(self, nodes: Ints) -> Floats:
        """Return what is open between the limits; 0 where that is noise."""
        upper = self.upper.data[nodes]
        gap = upper - self.lower.data[nodes]
        return np.where(gap > NOISE * np.abs(upper), gap, 0.0)

    def refresh(self, context: int, roots: Ints, out_of_time: Callable[[], bool]) -> None:
        """Look up floors again after the tables of a context have grown: of all that may matter to `roots` still."""
        layers = self._that_matter(roots)
        nodes = np.concatenate(layers) if layers else roots[:0]
        nodes = nodes[self.context.data[nodes] == context]
        for begin in range(0, len(nodes), 20_000):
            if out_of_time():
                return
            some = nodes[begin : begin + 20_000]
            floor = self._floor(self._rows(some))
            self.lower.data[some] = np.minimum(np.maximum(self.lower.data[some], floor), self.upper.data[some])
        for layer in reversed(layers):
            self.settle(layer[self.first.data[layer] >= 0])

    def _that_matter(self, roots: Ints) -> list[Ints]:
        """Return what is not closed and is reached from `roots` by acts that may be the best, highest rank first."""
        met = np.zeros(self.belief.count, bool)
        met[roots] = True
        ranks = self.rank.data[: self.belief.count]
        order = np.argsort(-ranks, kind="stable")
        layers = []
        for layer in np.split(order, np.nonzero(np.diff(ranks[order]))[0] + 1):
            nodes = layer[met[layer]]
            nodes = nodes[self.gap(nodes) > 0]
            if len(nodes):
                layers.append(nodes)
                opened = nodes[self.first.data[nodes] >= 0]
                edges = self.edges(opened)
                good = edges.lower <= (self.upper.data[opened] * (1 + SLACK))[edges.owner]
                met[self.child.data[edges.number[good]].ravel()] = True
        return layers

    def _rows(self, nodes: Ints) -> Rows:
        return Rows(
            self.belief.data[nodes], self.digits.data[nodes].astype(np.int64), self.left.data[nodes],
            self.place.data[nodes].astype(np.int64), self.context.data[nodes].astype(np.int64),
        )

    def _open(self, nodes: Ints, every_act: bool) -> None:
        self.opened += len(nodes)
        self.moves += len(nodes)
        arrays, width = self.arrays, self.arrays.width
        rows = self._rows(nodes)
        owner, test, cost, chance, after_tests = self._tests(rows)
        owner_2, cause, cost_2, mass, after_failures = self._corrections(rows)
        children = _join(after_tests, after_failures)
        flat = np.concatenate([chance.ravel(), mass])
        real = np.nonzero(flat > 0)[0]
        children = children.pick(real)
        children.left &= self._useful_tests(children.belief)
        keys = self._keys(children)
        known = self._index.find(keys)
        new = np.nonzero(known < 0)[0]
        lower = self.lower.data[known]
        floors = self._floor(children.pick(new))
        lower[new] = floors
        floor = np.zeros(len(flat))
        floor[real] = lower
        # The children of act number i stand in slots[i]; slot len(flat) is the node in which no car is left.
        slots = np.full((len(owner) + len(owner_2), width), len(flat))
        slots[: len(owner)] = np.arange(chance.size).reshape(chance.shape)
        slots[len(owner) :, 0] = chance.size + np.arange(len(owner_2))
        chances = np.zeros(slots.shape)
        chances[: len(owner)], chances[len(owner) :, 0] = chance, mass
        owners, costs = np.concatenate([owner, owner_2]), np.concatenate([cost, cost_2])
        acts = np.concatenate([test, arrays.tests + cause])
        least = costs + (chances * np.append(floor, 0.0)[slots]).sum(axis=1)
        kept = np.nonzero(every_act | (least <= self.upper.data[nodes][owners] * (1 + SLACK)))[0]
        kept = kept[np.argsort(owners[kept], kind="stable")]
        node_of = np.zeros(len(flat) + 1, np.int64)
        node_of[real] = np.maximum(known, 0)
        wanted = np.zeros(len(flat) + 1, bool)
        wanted[slots[kept].ravel()] = True
        made = wanted[real[new]]
        node_of[real[new[made]]] = self._make(children.pick(new[made]), keys[new[made]], floors[made])
        begin = self.act.add(acts[kept])
        self.cost.add(costs[kept])
        self.child.add(node_of[slots[kept]])
        self.chance.add(chances[kept])
        counts = np.bincount(owners[kept], minlength=len(nodes))
        self.acts.data[nodes] = counts
        self.first.data[nodes] = begin + np.cumsum(counts) - counts

    def _tests(self, rows: Rows) -> tuple[Ints, Ints, Floats, Floats, Rows]:
        arrays = self.arrays
        owner, test = np.nonzero(rows.left)
        belief = rows.belief[owner][:, None, :] * arrays.chance[test]
        chance = belief.sum(axis=2)
        belief /= np.where(chance > 0, chance, 1.0)[:, :, None]
        digits = np.repeat(rows.digits[owner][:, None, :], arrays.width, axis=1)
        every = np.arange(len(owner))
        digits[every, :, test] = np.arange(1, arrays.width + 1)
        left = rows.left[owner]
        left[every, test] = False
        place = rows.place[owner]
        count = len(owner) * arrays.width
        after = Rows(
            belief.reshape(count, arrays.causes), digits.reshape(count, arrays.tests),
            np.repeat(left, arrays.width, axis=0),
            np.repeat(arrays.test_next[place, test], arrays.width), np.repeat(rows.context[owner], arrays.width),
        )
        return owner, test, arrays.test_cost[place, test], chance, after

    def _corrections(self, rows: Rows) -> tuple[Ints, Ints, Floats, Floats, Rows]:
        arrays = self.arrays
        owner, cause = np.nonzero((rows.belief > 0) & arrays.correctable)
        after, every = rows.pick(owner), np.arange(len(owner))
        hit = after.belief[every, cause]
        after.belief[every, cause] = 0.0
        mass = after.belief.sum(axis=1)
        after.belief /= np.where(mass > 0, mass, 1.0)[:, None]
        cost = arrays.correct[after.place, cause] + hit * arrays.solved[after.place, cause]
        after.place = arrays.correct_next[after.place, cause]
        return owner, cause, cost, mass, after

    def _floor(self, rows: Rows) -> Floats:
        floor = perfect_information(self.arrays, rows.belief, rows.place)
        for context in np.unique(rows.context).tolist():
            if self.contexts[context].entries:
                own = np.nonzero(rows.context == context)[0]
                floor[own] += self.contexts[context].above(rows.belief[own], rows.digits[own], rows.place[own])
        return floor

    def _make(self, rows: Rows, keys: Words, floor: Floats) -> Ints:
        """Return the numbers of new nodes; rows with one key get one."""
        unlike, firsts, back = np.unique(keys, return_index=True, return_inverse=True)
        if not len(unlike):
            return np.zeros(0, np.int64)
        some = rows.pick(firsts)
        ceiling = without_tests(self.arrays, some.belief, some.place)
        begin = self._store(some, floor[firsts], ceiling, self.arrays.stop(some.belief, some.place))
        numbers = np.arange(begin, begin + len(unlike))
        self._index.add(unlike, numbers)
        return np.asarray(numbers[back])

    def _store(self, rows: Rows, lower: Floats, upper: Floats, stop: Floats) -> int:
        begin = self.belief.add(rows.belief)
        self.digits.add(rows.digits)
        self.left.add(rows.left)
        self.place.add(rows.place)
        self.context.add(rows.context)
        self.rank.add(rows.left.sum(axis=1) + (rows.belief > 0).sum(axis=1))  # every act lowers it
        self.lower.add(np.minimum(lower, upper))
        self.upper.add(upper)
        self.stop.add(stop)
        self.guide.add(np.full(len(lower), -1))
        self.led.add(np.full(len(lower), np.inf))
        self.first.add(np.full(len(lower), -1))
        self.acts.add(np.zeros(len(lower), np.int64))
        return begin

    def _keys(self, rows: Rows) -> Words:
        # Sums wrap around at 2^64, as they should.
        words = np.rint(rows.belief * FINEST).astype(np.uint64) * self._belief_words
        keys = mix(words.sum(axis=1, dtype=np.uint64))
        keys += (rows.left * self._test_words).sum(axis=1, dtype=np.uint64)
        return mix(keys ^ mix(rows.place.astype(np.uint64) + np.uint64(1)))

    def _useful_tests(self, belief: Floats) -> Bools:
        """Return which tests tell some of the causes apart that are still possible."""
        packed = np.packbits(belief > 0, axis=1)
        patterns, back = np.unique(packed.view(f"V{packed.shape[1]}").ravel(), return_inverse=True)
        rows = np.empty((len(patterns), self.arrays.tests), bool)
        for rank, pattern in enumerate(patterns):
            key = pattern.tobytes()
            if key not in self._useful:
                alive = np.unpackbits(np.frombuffer(key, np.uint8))[: self.arrays.causes].astype(bool)
                self._useful[key] = parted(self.arrays.chance[:, :, alive])
            rows[rank] = self._useful[key]
        return np.asarray(rows[back])


def _join(first: Rows, second: Rows) -> Rows:
    return Rows(
        np.concatenate([first.belief, second.belief]), np.concatenate([first.digits, second.digits]),
        np.concatenate([first.left, second.left]), np.concatenate([first.place, second.place]),
        np.concatenate([first.context, second.context]),
    )
