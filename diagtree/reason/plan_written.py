"""Policies written down: what is done and what comes after each outcome, free of the graph they were found in.

A written policy can be costed for every cause, on other figures, and from elsewhere: it is a policy in any problem that
has the same acts. Where nothing could lead when it was found, the car is referred, or all is corrected in turn.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

import numpy as np

from diagtree.reason.arrangement import Arrangement
from diagtree.reason.bounds import plain_plan
from diagtree.reason.plan_arrays import Arrays, Floats, Ints
from diagtree.reason.plan_graph import NOTHING
from diagtree.reason.plan_rank import by_rank
from diagtree.records import dataclass

if TYPE_CHECKING:
    from diagtree.reason.plan_board import Board

NOWHERE = 1e12  # money; what a policy costs a car for which it has no act


@dataclass(frozen=True, slots=True)
class Written:
    """One policy. Nodes lie in levels, each level leads to lower ones only; the start is the last node.

    act : as numbered in `plan_policy.Deeds`. place : the arrangement's number in the writer's arrays.
    child : [node, outcome], -1 where there is none; a correction's failure is outcome 0.
    levels : where each level begins, and where the last one ends.
    """

    act: Ints
    place: Ints
    child: Ints
    levels: tuple[int, ...]


class Writer:
    """Holds the nodes of many policies of one problem; equal ones once.

    forced : what cannot happen by the problem's own figures is foreseen all the same: refer, else correct all in turn.
    """

    def __init__(self, arrays: Arrays, *, forced: bool = False) -> None:
        self.arrays = arrays
        self.forced = forced
        self.act: list[int] = []
        self.place: list[int] = []
        self.child: list[tuple[int, ...]] = []
        self.height: list[int] = []
        self.uses: list[int] = []  # bits: the tests and corrections done from here on
        self._known: dict[tuple[int, int, tuple[int, ...]], int] = {}
        self._adopted: dict[tuple[Writer, int], int] = {}

    def node(self, act: int, place: int, child: tuple[int, ...] = ()) -> int:
        """Return the node in which `act` is done; -1 among its children stands for what cannot happen."""
        if -1 in child:
            there = self._there(act, place)
            child = tuple(self._unforeseen(there) if one < 0 else one for one in child)
        key = act, place, child
        if key not in self._known:
            self._known[key] = len(self.act)
            self.act.append(act)
            self.place.append(place)
            self.child.append(child)
            self.height.append(1 + max((self.height[one] for one in child), default=-1))
            uses = 1 << act
            for one in child:
                uses |= self.uses[one]
            self.uses.append(uses)
        return self._known[key]

    def ending(self, place: int) -> int:
        """Return the number of the act that ends a case about which nothing is known."""
        arrays = self.arrays
        if np.isfinite(arrays.refer[place]):
            return arrays.tests + 2 * arrays.causes
        if np.isfinite(arrays.advise[place]).any():
            return arrays.tests + arrays.causes + int(arrays.advise[place].argmin())
        return arrays.tests + 2 * arrays.causes + 1

    def elsewhere(self, node: int, place: int, shown: Mapping[int, int], struck: frozenset[int] = frozenset()) -> int:
        """Return the policy of `node` as it goes from another arrangement, with some tests done before.

        shown : test to outcome; the test is not done again. struck : causes whose correction was in vain.
        """
        done = sum(1 << test for test in shown) | sum(1 << self.arrays.tests + cause for cause in struck)
        found: dict[tuple[int, int], int] = {}

        def go(node: int, place: int) -> int:
            act = self.act[node]
            while done >> act & 1:
                node = self.child[node][shown[act] if act < self.arrays.tests else 0]
                act = self.act[node]
            if place == self.place[node] and not self.uses[node] & done:
                return node
            if (node, place) not in found:
                there = self._there(act, place)
                found[node, place] = self.node(act, place, tuple(go(one, there) for one in self.child[node]))
            return found[node, place]

        return go(node, place)

    def adopted(self, other: Writer, node: int) -> int:
        """Return the policy of another writer's node, of a problem with the same acts, written down here."""
        if (other, node) not in self._adopted:
            child = tuple(self.adopted(other, one) for one in other.child[node])
            place = self.place_of(other.arrays.costs.arrangements[other.place[node]])
            nothing = other.act[node] > self.arrays.tests + 2 * self.arrays.causes
            made = self._unforeseen(place) if nothing else self.node(other.act[node], place, child)
            self._adopted[other, node] = made
        return self._adopted[other, node]

    def written(self, node: int) -> Written:
        """Return the policy that begins at `node`."""
        met, waiting = {node}, [node]
        while waiting:
            for one in self.child[waiting.pop()]:
                if one not in met:
                    met.add(one)
                    waiting.append(one)
        order = sorted(met, key=lambda one: self.height[one])
        number = {one: rank for rank, one in enumerate(order)}
        child = np.full((len(order), self.arrays.width), -1, np.int64)
        for rank, one in enumerate(order):
            child[rank, : len(self.child[one])] = [number[after] for after in self.child[one]]
        heights = np.array([self.height[one] for one in order])
        levels = (0, *(np.nonzero(np.diff(heights))[0] + 1).tolist(), len(order))
        places = np.array([self.place[one] for one in order], np.int64)
        return Written(np.array([self.act[one] for one in order], np.int64), places, child, levels)

    def copy(self, board: Board, nodes: Ints, least: float = 0.0) -> list[int]:
        """Write down what the policy of a board does from each of `nodes`.

        least : where fewer cars get than this share, the plan without tests is written. [-]
        """
        graph, arrays = board.graph, self.arrays
        edge_of: dict[int, int] = {}

        def onward(here: Ints, cars: Floats) -> tuple[Ints, Floats]:
            some = (graph.first.data[here] >= 0) & (cars[:, 0] >= least) & ~graph.led_by(here)
            opened, cars = here[some], cars[some]
            chosen = board.follower.choose(opened)
            edge_of.update(zip(opened.tolist(), chosen.tolist(), strict=True))
            chosen, cars = chosen[chosen >= 0], cars[chosen >= 0]
            children = graph.child.data[chosen].ravel().astype(np.int64)
            reach = (cars[:, None, :] * graph.chance.data[chosen][:, :, None]).reshape(-1, 2)
            real = children != NOTHING
            return children[real], reach[real]

        unlike = np.unique(nodes)
        layers = by_rank(graph, unlike, np.ones((len(unlike), 2)), onward)
        met = np.concatenate([here for here, _ in layers])
        places = [self.place_of(one) for one in board.arrays.costs.arrangements]
        led = graph.led_by(met)
        plain = np.array([node not in edge_of for node in met.tolist()], bool) & ~led
        number = {NOTHING: -1, **self._plain(board, met[plain], places)}
        for node, guide in zip(met[led].tolist(), graph.guide.data[met[led]].tolist(), strict=True):
            number[node] = guide if board.bank.writer is self else self.adopted(board.bank.writer, guide)
        endings = dict(zip(met.tolist(), board.endings(met).tolist(), strict=True))
        for here, _ in reversed(layers):
            for node in here.tolist():
                if node not in number:
                    place, edge = places[graph.place.data[node]], edge_of[node]
                    if edge < 0:
                        number[node] = self.node(endings[node], place)
                        continue
                    act = int(graph.act.data[edge])
                    width = arrays.outcomes[act] if act < arrays.tests else 1
                    children = graph.child.data[edge][:width].tolist()
                    number[node] = self.node(act, place, tuple(number[one] for one in children))
        return [number[node] for node in nodes.tolist()]

    def place_of(self, arrangement: Arrangement) -> int:
        """Return the number of an arrangement here."""
        return self.arrays.include(arrangement)

    def _there(self, act: int, place: int) -> int:
        arrays = self.arrays
        if act < arrays.tests:
            return int(arrays.test_next[place, act])
        return int(arrays.correct_next[place, act - arrays.tests]) if act < arrays.tests + arrays.causes else place

    def _unforeseen(self, place: int) -> int:
        """Return what is done where nothing should have led: refer the car, else correct all in turn, or nothing."""
        arrays = self.arrays
        if np.isfinite(arrays.refer[place]):
            return self.node(self.ending(place), place)
        if not self.forced:
            return self.node(arrays.tests + 2 * arrays.causes + 1, place)
        return self._chain(place, [arrays.tests + cause for cause in np.nonzero(arrays.correctable)[0].tolist()])

    def _chain(self, place: int, acts: list[int]) -> int:
        """Return acts done one after the other, a correction's failure leading to the next."""
        places = [place]
        for act in acts[:-1]:
            places.append(self._there(act, places[-1]))
        node = -1
        for act, here in zip(reversed(acts), reversed(places), strict=True):
            if act >= self.arrays.tests + self.arrays.causes:
                node = self.node(act, here)
            elif node < 0 and self.forced and not np.isfinite(self.arrays.refer[here]):
                there = self._there(act, here)  # nothing more can be thought of than some advice, right or wrong
                node = self.node(act, here, (self.node(self.ending(there), there),))
            else:
                node = self.node(act, here, (node,))
        return node

    def _plain(self, board: Board, nodes: Ints, places: list[int]) -> dict[int, int]:
        """Return the nodes of the plan without tests, for nodes of the board that nobody has looked into."""
        graph, arrays = board.graph, self.arrays
        belief, place = graph.belief.data[nodes], graph.place.data[nodes].astype(np.int64)
        order = plain_plan(board.arrays, belief, place)[1]
        acts: list[list[int]] = [[] for _ in nodes]
        rows, now = np.arange(len(nodes)), place
        for step in range(arrays.causes + 1):
            cause = order[rows, step]
            over = np.nonzero(cause < 0)[0]
            for row, act in zip(rows[over].tolist(), board.follower.endings(belief[over], now[over]), strict=True):
                acts[row].append(int(act))
            rows, belief, now, cause = (some[cause >= 0] for some in (rows, belief, now, cause))
            for row, one in zip(rows.tolist(), cause.tolist(), strict=True):
                acts[row].append(arrays.tests + one)
            left = belief.copy()
            left[np.arange(len(rows)), cause] = 0.0
            mass = left.sum(axis=1)
            some = mass > 0
            now = board.arrays.correct_next[now[some], cause[some]]
            rows, belief = rows[some], left[some] / mass[some, None]
        return {
            node: self._chain(places[here], done)
            for node, here, done in zip(nodes.tolist(), place.tolist(), acts, strict=True)
        }
