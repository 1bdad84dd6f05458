"""The policy that a graph of states holds, and what following it brings, summed over all that may happen."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from diagtree.reason.arrangement import Arrangement
from diagtree.reason.plan_arrays import Arrays, Floats, Ints
from diagtree.reason.plan_costs import Costs
from diagtree.reason.plan_graph import NOTHING, Edges, Graph
from diagtree.reason.plan_search import Search, merge
from diagtree.reason.plan_state import Act
from diagtree.reason.problem import Problem

TIE = 1e-12  # relative: acts whose costs differ by less than float noise count as equally good
_NO_EDGE = -1


@dataclass(frozen=True, slots=True)
class Outlook:
    """What following the policy brings, exactly, over all cars of the state (not per car).

    minutes : time in the bay. [min]
    wrong_parts : per cause number, the weight of cars on which its correction is made in vain.
    comebacks : the weight of cars that get wrong advice.
    """

    cost: float
    minutes: float
    wrong_parts: tuple[float, ...]
    comebacks: float


class Board:
    """One graph with its search, asked for single states and for whole policies."""

    def __init__(self, problem: Problem, costs: Costs, barred: frozenset[int]) -> None:
        self.arrays = Arrays(problem, costs, barred)
        self.graph = Graph(self.arrays)
        self.search = Search(self.graph)
        self._acts = [Act("test", test.id) for test in problem.tests]
        self._acts += [Act("correct", cause) for cause in problem.causes]
        self._advice = [Act("advise", cause) for cause in problem.causes]
        ranks = {act: rank for rank, act in enumerate(sorted(self._acts, key=lambda act: act.rank))}
        self._ranks = np.array([ranks[act] for act in self._acts])
        self._chosen: dict[int, tuple[int, int]] = {}  # node to (chosen edge, moves of the graph at that time)

    def node(self, weights: tuple[float, ...], tests_left: frozenset[int], arrangement: Arrangement) -> int:
        """Return the node of a state."""
        place = self.arrays.include(arrangement)
        tests = np.zeros(self.arrays.tests, bool)
        tests[list(tests_left)] = True
        return self.graph.enter(np.array(weights, float), tests, place)

    def close(self, nodes: list[int], out_of_time: Callable[[], bool]) -> None:
        """Close the limits of `nodes` as far as time allows."""
        self.search.run(np.unique(np.array(nodes, np.int64)), out_of_time)

    def settle_ties(self, node: int, out_of_time: Callable[[], bool]) -> None:
        """Find out which of the acts that may be as good as the best, and come before it, really are."""
        best, edges = self._choose(np.array([node])), self._edges(node)
        limit = self.graph.upper.data[node] * (1 + TIE)
        first = self._ranks[self.graph.act.data[best[0]]] if best[0] >= 0 else len(self._ranks)
        earlier = self._ranks[self.graph.act.data[edges.number]] < first
        unsure = earlier & (edges.lower <= limit) & (edges.upper > limit)
        children = self.graph.child.data[edges.number[unsure]].ravel()
        if len(children):
            self.close(children.tolist(), out_of_time)
            self.graph.settle(np.array([node]))

    def act(self, node: int) -> Act:
        """Return the act that the policy has for `node`."""
        edge, moves = self._chosen.get(node, (_NO_EDGE, -1))
        if moves != self.graph.moves:
            if self.graph.first.data[node] < 0:
                self.policy(node)  # opens whatever the policy may meet from here on
            edge = int(self._choose(np.array([node]))[0])
            self._chosen[node] = edge, self.graph.moves
        return self._acts[int(self.graph.act.data[edge])] if edge >= 0 else self._last(node)

    def every_act(self, node: int, out_of_time: Callable[[], bool]) -> list[tuple[Act, float, float]]:
        """Return all acts with the limits of their cost per car, each done now with all going best afterwards."""
        one = np.array([node])
        if self.graph.acts.data[node] < self._all_acts(node):
            self.graph.open(one, every_act=True)
        children = np.unique(self.graph.child.data[self._edges(node).number])
        self.close([child for child in children.tolist() if child != NOTHING], out_of_time)
        edges = self.graph.settle(one)
        found = [
            (self._acts[act], float(lower), float(upper))
            for act, lower, upper in zip(self.graph.act.data[edges.number], edges.lower, edges.upper, strict=True)
        ]
        return found + [(act, cost, cost) for act, cost in self._endings(node)]

    def policy(self, node: int) -> list[tuple[Ints, Floats, Ints]]:
        """Return the nodes that the policy meets from `node`, each with its chance and the edge of its act (or -1).

        Nodes that were not opened before are; the limits of those above are left as they are, and with them the policy.
        """
        graph = self.graph
        met: list[tuple[Ints, Floats, Ints]] = []
        waiting: dict[int, list[tuple[Ints, Floats]]] = {int(graph.rank.data[node]): [(np.array([node]), np.ones(1))]}
        while waiting:
            nodes, reach = merge(waiting.pop(max(waiting)))
            shut = nodes[graph.first.data[nodes] < 0]
            graph.open(shut)
            graph.settle(shut)
            chosen = self._choose(nodes)
            met.append((nodes, reach, chosen))
            going = chosen >= 0
            children = graph.child.data[chosen[going]].ravel().astype(np.int64)
            chances = (reach[going][:, None] * graph.chance.data[chosen[going]]).ravel()
            some = (children != NOTHING) & (chances > 0)
            children, chances = children[some], chances[some]
            ranks = graph.rank.data[children]
            for rank in np.unique(ranks).tolist():
                waiting.setdefault(rank, []).append((children[ranks == rank], chances[ranks == rank]))
        return met

    def outlook(self, node: int, total: float) -> Outlook:
        """Return what following the policy from `node` brings to cars of this total weight."""
        graph, arrays = self.graph, self.arrays
        cost = minutes = comebacks = 0.0
        wrong = np.zeros(arrays.causes)
        for nodes, reach, chosen in self.policy(node):
            place, belief = graph.place.data[nodes], graph.belief.data[nodes]
            acts = np.where(chosen >= 0, graph.act.data[chosen], -1)
            cost += float((reach * np.where(chosen >= 0, graph.cost.data[chosen], graph.stop.data[nodes])).sum())
            tests = (acts >= 0) & (acts < arrays.tests)
            minutes += float((reach[tests] * arrays.test_minutes[place[tests], acts[tests]]).sum())
            fixes = acts >= arrays.tests
            cause, weight, where = acts[fixes] - arrays.tests, reach[fixes], place[fixes]
            hit = belief[fixes, cause]
            minutes += float((weight * arrays.correct_minutes[where, cause]).sum())
            minutes += float((weight * hit * arrays.solved_minutes[where, cause]).sum())
            wrong += np.bincount(cause, weight * (1 - hit), arrays.causes)
            for number, share in zip(nodes[acts < 0].tolist(), reach[acts < 0].tolist(), strict=True):
                ending, bay, astray = self._ending(number)
                minutes, comebacks = minutes + share * bay, comebacks + share * astray * (ending.kind == "advise")
        return Outlook(cost * total, minutes * total, tuple((wrong * total).tolist()), comebacks * total)

    def _choose(self, nodes: Ints) -> Ints:
        """Return the edge of each node's act, -1 where the case ends: the cheapest; of equally good ones the first."""
        graph = self.graph
        edges, chosen = graph.edges(nodes), np.full(len(nodes), _NO_EDGE)
        if len(edges.number):
            best = graph.stop.data[nodes].copy()
            np.minimum.at(best, edges.owner, edges.upper)
            good = np.nonzero(edges.upper <= (best + TIE * np.abs(best))[edges.owner])[0]
            order = good[np.lexsort((self._ranks[graph.act.data[edges.number[good]]], edges.owner[good]))]
            owners, firsts = np.unique(edges.owner[order], return_index=True)
            chosen[owners] = edges.number[order[firsts]]
        return chosen

    def _edges(self, node: int) -> Edges:
        if self.graph.first.data[node] < 0:
            self.graph.open(np.array([node]))
            self.graph.settle(np.array([node]))
        return self.graph.edges(np.array([node]))

    def _all_acts(self, node: int) -> int:
        fixes = (self.graph.belief.data[node] > 0) & self.arrays.correctable
        return int(self.graph.left.data[node].sum() + fixes.sum())

    def _endings(self, node: int) -> Iterator[tuple[Act, float]]:
        place, belief = int(self.graph.place.data[node]), self.graph.belief.data[node]
        for cause, act in enumerate(self._advice):
            if np.isfinite(self.arrays.advise[place, cause]):
                yield act, float(self.arrays.advise[place, cause] + self.arrays.comeback * (1 - belief[cause]))
        if np.isfinite(self.arrays.refer[place]):
            yield Act("refer"), float(self.arrays.refer[place])

    def _last(self, node: int) -> Act:
        return self._ending(node)[0]

    def _ending(self, node: int) -> tuple[Act, float, float]:
        """Return the cheapest act that ends the case at once, its minutes, and the chance that it is wrong."""
        endings = list(self._endings(node))
        least = min(cost for _, cost in endings)
        act = min((act for act, cost in endings if cost <= least + TIE * abs(least)), key=lambda act: act.rank)
        place = int(self.graph.place.data[node])
        if act.kind == "refer":
            return act, float(self.arrays.refer_minutes[place]), 1.0
        cause = self._advice.index(act)
        return act, float(self.arrays.advise_minutes[place, cause]), 1 - float(self.graph.belief.data[node, cause])
