"""One graph with its search and its policy, asked for the states of a case."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

import numpy as np

from diagtree.reason.plan_along import lead, open_along
from diagtree.reason.plan_arrays import Arrays, Bools, Floats, Ints
from diagtree.reason.plan_bank import Bank
from diagtree.reason.plan_costs import Costs
from diagtree.reason.plan_graph import NOTHING, Edges, Graph
from diagtree.reason.plan_policy import TIE, Deeds, Follower
from diagtree.reason.plan_rewrite import Points, first_steps, rewritten
from diagtree.reason.plan_search import Search
from diagtree.reason.plan_state import Act, State, never
from diagtree.reason.problem import Problem
from diagtree.records import dataclass

RARE = 1e-5  # share of cars below which a search's policy is written down as the plan without tests


@dataclass(frozen=True, slots=True)
class History:
    """A state, the state that its story is told from, and the answers since: (test, outcome)."""

    state: State
    root: State
    answers: tuple[tuple[int, int], ...]


class Board:
    """One graph with its search, asked for single states and for whole policies."""

    def __init__(self, problem: Problem, costs: Costs, barred: frozenset[int]) -> None:
        self.arrays = Arrays(problem, costs, barred)
        self.graph = Graph(self.arrays)
        self.search = Search(self.graph)
        self.acts = [Act("test", test.id) for test in problem.tests]  # by number, as in `plan_policy.Deeds`
        self.acts += [Act("correct", cause) for cause in problem.causes]
        self.acts += [Act("advise", cause) for cause in problem.causes]
        self.acts.append(Act("refer"))
        ranks = {act: rank for rank, act in enumerate(sorted(self.acts, key=lambda act: act.rank))}
        self._ranks = np.array([ranks[act] for act in self.acts])
        self.follower = Follower(self.graph, self._ranks)
        self.bank = self.follower.bank = Bank(self.arrays)
        self._contexts: dict[State, int] = {}
        self._chosen: dict[int, tuple[int, int]] = {}  # node to (act, moves of the graph at that time)

    def nodes(self, histories: Sequence[History]) -> Ints:
        """Return the nodes of states, each with the root it was reached from and the answers (test, outcome) since."""
        places = [self.arrays.include(history.state.arrangement) for history in histories]
        digits = np.zeros((len(histories), self.arrays.tests), np.int64)
        left = np.zeros((len(histories), self.arrays.tests), bool)
        contexts = np.zeros(len(histories), np.int64)
        for row, history in enumerate(histories):
            contexts[row] = self._context(history.root)
            left[row] = self._tests(history.state)
            for test, outcome in history.answers:
                digits[row, test] = outcome + 1
        weights = np.array([history.state.weights for history in histories], float)
        return self._enter(weights, left, np.array(places, np.int64), digits, contexts)

    def told(self, root: State, weights: Floats, left: Bools, place: Ints, digits: Ints) -> Ints:
        """Return the nodes of states told from `root`, one a row.

        left : [row, test]. digits : [row, test], 0 for a test that was not done, else its outcome + 1.
        """
        return self._enter(weights, left, place, digits, np.full(len(place), self._context(root)))

    def _context(self, root: State) -> int:
        if root not in self._contexts:
            self.arrays.include(root.arrangement)  # and all it leads to, before any table is made
            self._contexts[root] = self.graph.begin(np.array(root.weights, float), self._tests(root))
        return self._contexts[root]

    def _enter(self, weights: Floats, left: Bools, place: Ints, digits: Ints, contexts: Ints) -> Ints:
        nodes = self.graph.enter(weights, left, place, digits, contexts)
        self._lead(np.unique(nodes))
        return nodes

    def _tests(self, state: State) -> Bools:
        tests = np.zeros(self.arrays.tests, bool)
        tests[list(state.tests_left)] = True
        return tests

    def close(
        self, nodes: list[int], out_of_time: Callable[[], bool], weights: list[float] | None = None
    ) -> None:
        """Close the limits of `nodes` as far as time allows, those first that have the largest weight times gap."""
        unlike, back = np.unique(np.array(nodes, np.int64), return_inverse=True)
        reach = np.bincount(back, weights, len(unlike)).astype(float)
        if nodes:
            self.search.run(unlike, out_of_time, reach / reach.max())

    def settle_ties(self, node: int, out_of_time: Callable[[], bool]) -> None:
        """Find out which of the acts that may be as good as the best, and come before it, really are."""
        edges = self._edges(node)
        best = self.follower.choose(np.array([node]))
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
        if self.graph.led_by(np.array([node]))[0]:
            open_along(self.graph, self.bank, np.array([node]), self.graph.guide.data[[node]], far=False)
        act, moves = self._chosen.get(node, (0, -1))
        if moves != self.graph.moves:
            act = self.follower.first_act(node)
            self._chosen[node] = act, self.graph.moves
        return self.acts[act]

    def follow(self, nodes: Ints, weights: Floats) -> tuple[Floats, Deeds]:
        """Return what following the policy costs a car of each node, and all it does to cars of these weights.

        weights : [node, tried] (`plan_policy.Deeds`).
        """
        unlike, back = np.unique(nodes, return_inverse=True)
        reach = np.zeros((len(unlike), 2))
        np.add.at(reach, back, weights)
        costs, deeds = self.follower.follow(unlike, reach)
        return np.asarray(costs[back]), deeds

    def followed(self, nodes: Ints, weights: Floats) -> tuple[Floats, tuple[tuple[State, Act], ...]]:
        """Follow the policy as `follow` does; return what it costs a car of each node, and all acts that are done.

        The acts come with the cars they are done to, taken together where arrangement, act, and whether anything was
        corrected before are the same: as states whose weights are those of all these cars.
        """
        costs, deeds = self.follow(nodes, weights)
        untried = frozenset(np.nonzero(self.arrays.correctable)[0].tolist())
        done = []
        for place, act, each in zip(deeds.place.tolist(), deeds.act.tolist(), deeds.weights, strict=True):
            for left, cars in zip((untried, frozenset[int]()), each, strict=True):
                if cars.any():
                    there = self.arrays.costs.arrangements[place]
                    done.append((State(tuple(cars.tolist()), frozenset(), left, there), self.acts[act]))
        return costs, tuple(done)

    def endings(self, nodes: Ints) -> Ints:
        """Return for each node the number of the cheapest act that ends the case at once."""
        return self.follower.endings(self.graph.belief.data[nodes], self.graph.place.data[nodes].astype(np.int64))

    def improve(self, node: int, out_of_time: Callable[[], bool], known: Sequence[int] = ()) -> None:
        """Better the policy of `node` point by point, and let it be followed from there.

        known : policies written down in the bank that may be good there too.
        """
        graph, bank = self.graph, self.bank
        begin = bank.writer.copy(self, np.array([node]), RARE)
        guide = np.array([rewritten(bank, [*begin, *known], self._point(node), out_of_time)])
        graph.lead(np.array([node]), guide, (graph.belief.data[[node]] * bank.value.data[guide]).sum(axis=1))

    def _spread(self, node: int) -> None:
        """Let what follows any act be led by the policy of `node`, what is known by then left out, or by the bank."""
        graph, arrays, writer = self.graph, self.arrays, self.bank.writer
        [policy] = writer.copy(self, np.array([node]), RARE)
        place, edges = int(graph.place.data[node]), self._edges(node).number
        nodes, guides = [], []
        for act, children in zip(graph.act.data[edges].tolist(), graph.child.data[edges].tolist(), strict=True):
            test = act < arrays.tests
            there = arrays.test_next[place, act] if test else arrays.correct_next[place, act - arrays.tests]
            struck = frozenset[int]() if test else frozenset({act - arrays.tests})
            for outcome, child in enumerate(children):
                if child != NOTHING:
                    nodes.append(child)
                    guides.append(writer.elsewhere(policy, int(there), {act: outcome} if test else {}, struck))
        self.bank.enter()
        if nodes:
            self._lead(np.unique(nodes))
            lead(graph, self.bank, np.array(nodes), np.array(guides))

    def _lead(self, nodes: Ints) -> None:
        """Let those of `nodes` that nobody has looked into follow the bank's policies where these are cheaper."""
        graph = self.graph
        nodes = nodes[(graph.first.data[nodes] < 0) & (nodes != NOTHING)]
        if len(nodes) and self.bank.offers:
            belief, place = graph.belief.data[nodes], graph.place.data[nodes].astype(np.int64)
            costs, guides = self.bank.best(belief, place, self.bank.done(graph.left.data[nodes], belief > 0))
            graph.lead(nodes, guides, costs)

    def first_steps(self, node: int) -> list[tuple[int, int]]:
        """Return each act with the best policy of the bank that begins with it, where one fits."""
        bank, place = self.bank, int(self.graph.place.data[node])
        found = first_steps(bank, self._point(node), place)
        tests, causes = self.arrays.tests, self.arrays.causes
        endings = [tests + causes + cause for cause in np.nonzero(np.isfinite(self.arrays.advise[place]))[0].tolist()]
        endings += [tests + 2 * causes] * bool(np.isfinite(self.arrays.refer[place]))
        found += [(act, bank.writer.node(act, place)) for act in endings]
        bank.enter()
        return found

    def cost_of(self, node: int, written: int) -> float:
        """Return what a policy of the bank costs a car of `node`."""
        return float(self.graph.belief.data[node] @ self.bank.value.data[written])

    def _point(self, node: int) -> Points:
        belief = self.graph.belief.data[[node]]
        return Points(np.array([-1]), belief, self.graph.left.data[[node]], belief > 0, np.ones(1))

    def unfold(self, node: int, least: float, out_of_time: Callable[[], bool] = never) -> None:
        """Open what a policy of the bank that leads `node` does, as far as more cars get there than `least`."""
        one = np.array([node])
        if self.graph.led_by(one)[0]:
            open_along(self.graph, self.bank, one, self.graph.guide.data[one], least=least, out_of_time=out_of_time)

    def every_act(self, node: int, out_of_time: Callable[[], bool]) -> list[tuple[Act, float, float]]:
        """Return all acts with the limits of their cost per car, each done now with all going best afterwards."""
        one = np.array([node])
        if self.graph.acts.data[node] < self._all_acts(node):
            self.graph.open(one, every_act=True)
        if self.graph.led_by(one)[0]:
            open_along(self.graph, self.bank, one, self.graph.guide.data[one], far=False)
        if self.bank.offers:
            self._spread(node)
        children = np.unique(self.graph.child.data[self._edges(node).number])
        self.close([child for child in children.tolist() if child != NOTHING], out_of_time)
        edges = self.graph.settle(one)
        found = [
            (self.acts[act], float(lower), float(upper))
            for act, lower, upper in zip(self.graph.act.data[edges.number], edges.lower, edges.upper, strict=True)
        ]
        return found + [(act, cost, cost) for act, cost in self._endings(node)]

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
        advices = self.acts[self.arrays.tests + self.arrays.causes : -1]
        for cause, act in enumerate(advices):
            if np.isfinite(self.arrays.advise[place, cause]):
                yield act, float(self.arrays.advise[place, cause] + self.arrays.comeback * (1 - belief[cause]))
        if np.isfinite(self.arrays.refer[place]):
            yield Act("refer"), float(self.arrays.refer[place])
