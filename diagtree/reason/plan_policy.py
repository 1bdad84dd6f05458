"""What following a policy brings: every act of it with the cars it is done to, summed over all that may happen.

Where a state has been opened, the policy is its cheapest act; where not, the policy of the bank, or the plain plan of
corrections, that its ceiling was taken from. So what is claimed can be followed, and following opens nothing.
"""

from __future__ import annotations

import numpy as np

from diagtree.reason.bounds import plain_plan
from diagtree.reason.plan_arrays import Arrays, Floats, Ints
from diagtree.reason.plan_bank import Bank
from diagtree.reason.plan_graph import NOTHING, Graph
from diagtree.reason.plan_rank import by_rank
from diagtree.records import dataclass

TIE = 1e-12  # relative: acts whose costs differ by less than float noise count as equally good
ENDING = -1  # instead of an edge: the case ends with the cheapest act that ends it


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


@dataclass(frozen=True, slots=True)
class Deeds:
    """Acts done by a policy, one a row: arrangement, act, the weights of the causes of the cars it is done to.

    Acts are numbered: tests, corrections by cause, advices by cause, refer. `weights` is [row, tried, cause]; cars on
    which nothing was corrected before have tried = 0.
    """

    place: Ints
    act: Ints
    weights: Floats

    def outlook(self, arrays: Arrays, cost: float) -> Outlook:
        """Return the sums over all of them."""
        weights = self.weights.sum(axis=1)
        cars, tests, causes = weights.sum(axis=1), arrays.tests, arrays.causes
        test = self.act < tests
        minutes = float((cars[test] * arrays.test_minutes[self.place[test], self.act[test]]).sum())
        fixes = (self.act >= tests) & (self.act < tests + causes)
        place, cause = self.place[fixes], self.act[fixes] - tests
        hit = weights[fixes, cause]
        minutes += float((cars[fixes] * arrays.correct_minutes[place, cause]).sum())
        minutes += float((hit * arrays.solved_minutes[place, cause]).sum())
        wrong = np.bincount(cause, cars[fixes] - hit, causes)
        advises = (self.act >= tests + causes) & (self.act < tests + 2 * causes)
        place, cause = self.place[advises], self.act[advises] - tests - causes
        minutes += float((cars[advises] * arrays.advise_minutes[place, cause]).sum())
        comebacks = float((cars[advises] - weights[advises, cause]).sum())
        refers = self.act == tests + 2 * causes
        minutes += float((cars[refers] * arrays.refer_minutes[self.place[refers]]).sum())
        return Outlook(cost, minutes, tuple(wrong.tolist()), comebacks)


class Follower:
    """Follows the policy that a graph holds. `ranks`: the order between equally good acts, by act number."""

    def __init__(self, graph: Graph, ranks: Ints) -> None:
        self.graph = graph
        self.arrays = graph.arrays
        self._ranks = ranks
        self.bank: Bank | None = None  # whose policies lead some nodes
        self._last = np.argsort(ranks[self.arrays.tests + self.arrays.causes :], kind="stable")

    def choose(self, nodes: Ints) -> Ints:
        """Return the edge of the act of each opened node: the cheapest; of equally good ones the first."""
        graph = self.graph
        edges, chosen = graph.edges(nodes), np.full(len(nodes), ENDING)
        if len(edges.number):
            best = graph.stop.data[nodes].copy()
            np.minimum.at(best, edges.owner, edges.upper)
            good = np.nonzero(edges.upper <= (best + TIE * np.abs(best))[edges.owner])[0]
            order = good[np.lexsort((self._ranks[graph.act.data[edges.number[good]]], edges.owner[good]))]
            owners, firsts = np.unique(edges.owner[order], return_index=True)
            chosen[owners] = edges.number[order[firsts]]
        return chosen

    def endings(self, belief: Floats, place: Ints) -> Ints:
        """Return the numbers of the cheapest acts that end the case at once; of equally good ones the first."""
        arrays = self.arrays
        costs = np.concatenate(
            [arrays.advise[place] + arrays.comeback * (1 - belief), arrays.refer[place][:, None]], axis=1
        )
        least = costs.min(axis=1)
        good = costs[:, self._last] <= (least + TIE * np.abs(least))[:, None]
        return np.asarray(arrays.tests + arrays.causes + self._last[good.argmax(axis=1)])

    def first_act(self, node: int) -> int:
        """Return the number of the act that the policy has for `node`."""
        graph, one = self.graph, np.array([node])
        if self.bank is not None and graph.led_by(one)[0]:
            return int(self.bank.act.data[graph.guide.data[node]])
        belief, place = graph.belief.data[one], graph.place.data[one].astype(np.int64)
        if graph.first.data[node] >= 0:
            edge = int(self.choose(one)[0])
            if edge != ENDING:
                return int(graph.act.data[edge])
        else:
            cause = int(plain_plan(self.arrays, belief, place)[1][0, 0])
            if cause >= 0:
                return self.arrays.tests + cause
        return int(self.endings(belief, place)[0])

    def follow(self, nodes: Ints, weights: Floats) -> tuple[Floats, Deeds]:
        """Return what the policy costs a car of each node, and all that it does to cars of these `weights`.

        weights : [node, tried]. `nodes` must be unlike each other.
        """
        graph, ledger = self.graph, _Ledger(self.arrays)
        value = np.zeros(graph.belief.count)
        trail: list[tuple[Ints, Ints]] = []
        for here, reach in by_rank(graph, nodes, weights, lambda some, cars: self._onward(some, cars, trail, ledger)):
            led = graph.led_by(here)
            value[here[led]] = graph.led.data[here[led]]
            if self.bank is not None and led.any():
                ledger.add_led(self.bank, graph.guide.data[here[led]], reach[led], graph.belief.data[here[led]])
            shut = (graph.first.data[here] < 0) & ~led
            value[here[shut]] = self._plain(here[shut], reach[shut], ledger)
        for opened, chosen in reversed(trail):
            going = chosen >= 0
            edges = chosen[going]
            value[opened[~going]] = graph.stop.data[opened[~going]]
            onward = (graph.chance.data[edges] * value[graph.child.data[edges]]).sum(axis=1)
            value[opened[going]] = graph.cost.data[edges] + onward
        return value[nodes], ledger.deeds()

    def _onward(
        self, nodes: Ints, reach: Floats, trail: list[tuple[Ints, Ints]], ledger: _Ledger
    ) -> tuple[Ints, Floats]:
        """Do the acts of opened `nodes`; return the nodes they lead to, with the cars that get there."""
        graph = self.graph
        open_yet = (graph.first.data[nodes] >= 0) & ~graph.led_by(nodes)
        nodes, reach = nodes[open_yet], reach[open_yet]
        chosen = self.choose(nodes)
        trail.append((nodes, chosen))
        belief, place = graph.belief.data[nodes], graph.place.data[nodes].astype(np.int64)
        going = chosen >= 0
        acts = np.empty(len(nodes), np.int64)
        acts[going] = graph.act.data[chosen[going]]
        acts[~going] = self.endings(belief[~going], place[~going])
        ledger.add(place, acts, reach, belief)
        cars = reach[going]
        fixes = acts[going] >= self.arrays.tests
        cars[fixes, 1] += cars[fixes, 0]
        cars[fixes, 0] = 0.0
        children, chances = graph.child.data[chosen[going]], graph.chance.data[chosen[going]]
        flat = (cars[:, None, :] * chances[:, :, None]).reshape(-1, 2)
        some = (children.ravel() != NOTHING) & (flat.sum(axis=1) > 0)
        return children.ravel()[some].astype(np.int64), flat[some]

    def _plain(self, nodes: Ints, reach: Floats, ledger: _Ledger) -> Floats:
        """Do corrections only, in the order of the plain plan; return what a car costs."""
        graph, arrays = self.graph, self.arrays
        belief, place = graph.belief.data[nodes], graph.place.data[nodes].astype(np.int64)
        cost, order = plain_plan(arrays, belief, place)
        rows = np.arange(len(nodes))
        for step in range(arrays.causes + 1):
            cause = order[rows, step]
            over = cause < 0
            ledger.add(place[over], self.endings(belief[over], place[over]), reach[over], belief[over])
            rows, cause = rows[~over], cause[~over]
            belief, place, reach = belief[~over], place[~over], reach[~over]
            if not len(rows):
                break
            ledger.add(place, arrays.tests + cause, reach, belief)
            left = belief.copy()
            left[np.arange(len(rows)), cause] = 0.0
            mass = left.sum(axis=1)
            some = mass > 0
            place, rows = arrays.correct_next[place[some], cause[some]], rows[some]
            belief, mass = left[some] / mass[some, None], mass[some]
            cars = reach[some].sum(axis=1) * mass
            reach = np.stack([np.zeros(len(cars)), cars], axis=1)
        return cost


class _Ledger:
    """Adds up what is done, by arrangement and act."""

    def __init__(self, arrays: Arrays) -> None:
        self._acts = arrays.tests + 2 * arrays.causes + 1
        self._sums = np.zeros((arrays.arrangements * self._acts, 2, arrays.causes))

    def add(self, place: Ints, act: Ints, reach: Floats, belief: Floats) -> None:
        np.add.at(self._sums, place * self._acts + act, reach[:, :, None] * belief[:, None, :])

    def add_led(self, bank: Bank, guides: Ints, reach: Floats, belief: Floats) -> None:
        """Add all that the bank's policies `guides` do to these cars."""
        cars = np.zeros((bank.act.count, 2, belief.shape[1]))
        np.add.at(cars, guides, reach[:, :, None] * belief[:, None, :])
        for level in bank.levels(guides):
            nodes = level[cars[level].any(axis=(1, 2))]
            here, act, place = cars[nodes], bank.act.data[nodes], bank.place.data[nodes]
            np.add.at(self._sums, place * self._acts + act, here)
            for onward, after in bank.passed(nodes, here):
                np.add.at(cars, onward, after)

    def deeds(self) -> Deeds:
        done = np.nonzero(self._sums.any(axis=(1, 2)))[0]
        return Deeds(done // self._acts, done % self._acts, self._sums[done])
