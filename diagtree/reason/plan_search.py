"""Best-first search over the graph of states, in whole batches: proven limits that only ever close in.

From the roots down, the acts that may turn out best are followed to the states that leave most open (gap times
chance, after AO*: Nilsson 1980; and HSVI: Smith and Simmons 2004); these are opened, and on the way back up every
state on the way draws its limits anew. Tables for the floor grow as the search turns out to be long.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from diagtree.reason.plan_arrays import Floats, Ints
from diagtree.reason.plan_graph import Graph

COVER = 0.95  # part of what is open at one level that is looked into
NEAR = 0.1  # acts whose floor lies this far into a state's gap are looked into along with the best
NARROW, WIDEST = 200, 4_000  # states of one level in the first sweep, and in any
ROOM = 280e6  # bytes
TABLE_PACE = 500  # values of tables that are worth one opened state
TABLE_CREDIT = 100_000  # values of tables that are made after the first sweep
UBS = 1
CLOSED = 1e-11  # relative


class Search:
    """Closes the limits of some nodes of a graph."""

    def __init__(self, graph: Graph) -> None:
        self.graph = graph
        self._begun: dict[int, int] = {}
        self._widest = NARROW

    def run(self, roots: Ints, out_of_time: Callable[[], bool]) -> None:
        """Sweep until the limits of all `roots` meet, time or room is out, or a sweep finds nothing to do."""
        graph = self.graph
        self._widest = NARROW
        while graph.bytes < ROOM and not out_of_time():
            gap, upper = graph.gap(roots), graph.upper.data[roots]
            open_roots = roots[gap > CLOSED * np.abs(upper)]
            if not len(open_roots):
                return
            moved = self.sweep(open_roots)
            for _ in range(UBS):
                moved = self.sweep(open_roots, True) or moved
            if not moved:
                return
            self._widest = min(2 * self._widest, WIDEST)
            for context in np.unique(graph.context.data[open_roots]).tolist():
                self._grow(context)

    def sweep(self, roots: Ints, follow_policy: bool = False) -> bool:
        """Go down from `roots` once, and back up; return whether anything moved."""
        graph, before, trail = self.graph, self.graph.moves, []
        waiting: dict[int, list[tuple[Ints, Floats]]] = {}
        self._put(waiting, roots, np.ones(len(roots)))
        while waiting:
            nodes, reach = _merge(waiting.pop(max(waiting)))
            graph.open(nodes[graph.first.data[nodes] < 0])
            edges = graph.settle(nodes)
            trail.append(nodes)
            lower = graph.lower.data[nodes]
            limit = lower + NEAR * (graph.upper.data[nodes] - lower)
            near = edges.lower <= limit[edges.owner]
            if follow_policy:
                near = edges.upper <= graph.upper.data[nodes][edges.owner]*(1+1e-12)
            number = edges.number[near]
            children = graph.child.data[number].ravel().astype(np.int64)
            weight = (reach[edges.owner[near]][:, None] * graph.chance.data[number]).ravel()
            self._put(waiting, *self._most_open(children, weight))
        for nodes in reversed(trail):
            graph.settle(nodes)
        return graph.moves > before

    def _most_open(self, nodes: Ints, reach: Floats) -> tuple[Ints, Floats]:
        gap = self.graph.gap(nodes) * reach
        some = np.nonzero(gap > 0)[0]
        some = some[np.argsort(-gap[some], kind="stable")]
        summed = np.cumsum(gap[some])
        if len(some):
            count = min(int(np.searchsorted(summed, COVER * summed[-1])) + 1, self._widest)
            some = some[: max(count, 8)]
        return nodes[some], reach[some]

    def _put(self, waiting: dict[int, list[tuple[Ints, Floats]]], nodes: Ints, reach: Floats) -> None:
        ranks = self.graph.rank.data[nodes]
        for rank in np.unique(ranks).tolist():
            here = ranks == rank
            waiting.setdefault(rank, []).append((nodes[here], reach[here]))

    def _grow(self, context: int) -> None:
        """Let the tables of a context grow with the effort spent since it was begun, by half at a time."""
        graph = self.graph
        floor = graph.contexts[context]
        begun = self._begun.setdefault(context, graph.opened)
        earned = (graph.opened - begun) * TABLE_PACE + TABLE_CREDIT - floor.entries
        size = floor.next_entries
        if size is not None and earned > max(size, floor.entries // 2) and floor.grow(earned):
            graph.refresh(context)


def _merge(parts: list[tuple[Ints, Floats]]) -> tuple[Ints, Floats]:
    nodes, back = np.unique(np.concatenate([nodes for nodes, _ in parts]), return_inverse=True)
    total = np.bincount(back, np.concatenate([reach for _, reach in parts]), len(nodes))
    return nodes.astype(np.int64), total.astype(np.float64)
