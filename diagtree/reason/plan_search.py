"""Best-first search over the graph of states, in whole batches: proven limits that only ever close in.

From the roots down, the acts that may turn out best are followed to the states that leave most open (gap times
chance; after AO*, Nilsson 1980, and HSVI, Smith and Simmons 2004); these are opened, and on the way back up every
state on the way draws its limits anew. One kind of sweep judges acts by their floor and lifts it; one by their ceiling,
which is where the policy goes that could be followed now, and lowers it; and one by the middle of the two, which finds
other policies: acts whose follow-ups nobody has looked into have high ceilings. The very first sweep makes a policy for
nearly all that may happen. Tables for the floor grow as the search turns out long.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

import numpy as np

from diagtree.reason.plan_arrays import Bools, Floats, Ints
from diagtree.reason.plan_graph import Edges, Graph

COVER = 0.95  # part of what is open at one level that is looked into
WHOLE = 0.9999  # the same in the first sweep, which makes a whole policy out of nothing
NEAR = 0.1  # acts whose floor lies this far into a state's gap are looked into along with the best
NARROW, WIDEST = 60, 4_000  # states of one level in the first sweep, and in any
ROOM = 280e6  # bytes
TABLE_PACE = 500  # values of tables that are worth one opened state
TABLE_CREDIT = 100_000  # values of tables that are made after the first sweep
TABLE_STEP = 1_000_000  # values of tables that are made at once
CLOSED = 1e-11  # relative
FLOOR, MIDDLE, CEILING = 0.0, 0.5, 1.0  # where between its limits an act is judged

_Waiting: TypeAlias = dict[int, list[tuple[Ints, Floats]]]


class Search:
    """Closes the limits of some nodes of a graph."""

    def __init__(self, graph: Graph) -> None:
        self.graph = graph
        self._begun: dict[int, int] = {}

    @property
    def filled(self) -> float:
        """The part of the room that the graph takes. [-]"""
        return self.graph.bytes / ROOM

    def run(self, roots: Ints, out_of_time: Callable[[], bool], reach: Floats | None = None) -> None:
        """Sweep until the limits of all `roots` (which count by their `reach`) meet, or time or room is out."""
        graph, width = self.graph, NARROW
        weight = np.ones(len(roots)) if reach is None else reach
        while self.filled < 1.0:
            gap, upper = graph.gap(roots), graph.upper.data[roots]
            open_yet = gap > CLOSED * np.abs(upper)
            still, chance = roots[open_yet], weight[open_yet]
            if not len(still) or out_of_time():
                return
            moves = graph.moves
            if width == NARROW:
                self.sweep(still, chance, width // 3, out_of_time, aim=CEILING, cover=WHOLE)
            self.sweep(still, chance, width, out_of_time, aim=FLOOR)
            self.sweep(still, chance, width, out_of_time, aim=MIDDLE, cover=WHOLE)
            self.sweep(still, chance, 3 * width, out_of_time, aim=CEILING)
            if graph.moves == moves:
                return
            width = min(2 * width, WIDEST)
            for context in np.unique(graph.context.data[still]).tolist():
                if not out_of_time():
                    self._grow(context, still, out_of_time)

    def sweep(
        self, roots: Ints, reach: Floats, width: int, out_of_time: Callable[[], bool],
        *, aim: float, cover: float = COVER,
    ) -> None:
        """Go down from `roots` once and back up, along the acts that are best at the `aim` (FLOOR, ...)."""
        graph = self.graph
        trail: list[Ints] = []
        waiting: _Waiting = {}
        self._put(waiting, roots, reach)
        while waiting and not out_of_time():
            nodes, reach = merge(waiting.pop(max(waiting)))
            shut = graph.first.data[nodes] < 0
            if len(graph.open(nodes[shut], out_of_time)) < shut.sum():
                opened = graph.first.data[nodes] >= 0
                nodes, reach = nodes[opened], reach[opened]
            edges = graph.settle(nodes)
            trail.append(nodes)
            near = self._near(nodes, edges, aim)
            number = edges.number[near]
            children = graph.child.data[number].ravel().astype(np.int64)
            weight = (reach[edges.owner[near]][:, None] * graph.chance.data[number]).ravel()
            self._put(waiting, *self._most_open(children, weight, width, cover))
        for nodes in reversed(trail):
            graph.settle(nodes)

    def _near(self, nodes: Ints, edges: Edges, aim: float) -> Bools:
        """Return which acts are (nearly) the best at the `aim`."""
        lower, upper = self.graph.lower.data[nodes], self.graph.upper.data[nodes]
        if aim == FLOOR:
            return np.asarray(edges.lower <= (lower + NEAR * (upper - lower))[edges.owner])
        if aim == CEILING:
            return np.asarray(edges.upper <= (upper + CLOSED * np.abs(upper))[edges.owner])
        score = edges.lower + aim * (edges.upper - edges.lower)
        best = np.full(len(nodes), np.inf)
        np.minimum.at(best, edges.owner, score)
        return np.asarray(score <= (best + CLOSED * np.abs(best))[edges.owner])

    def _most_open(self, nodes: Ints, reach: Floats, width: int, cover: float) -> tuple[Ints, Floats]:
        gap = self.graph.gap(nodes) * reach
        some = np.nonzero(gap > 0)[0]
        some = some[np.argsort(-gap[some], kind="stable")]
        if len(some) > 8:
            summed = np.cumsum(gap[some])
            some = some[: max(8, min(width, int(np.searchsorted(summed, cover * summed[-1])) + 1))]
        return nodes[some], reach[some]

    def _put(self, waiting: _Waiting, nodes: Ints, reach: Floats) -> None:
        ranks = self.graph.rank.data[nodes]
        for rank in np.unique(ranks).tolist():
            here = ranks == rank
            waiting.setdefault(rank, []).append((nodes[here], reach[here]))

    def _grow(self, context: int, roots: Ints, out_of_time: Callable[[], bool]) -> None:
        """Let the tables of a context grow with the effort spent since it was begun, by half at a time."""
        graph = self.graph
        floor = graph.contexts[context]
        begun = self._begun.setdefault(context, graph.opened)
        earned = (graph.opened - begun) * TABLE_PACE + TABLE_CREDIT - floor.effort
        step = floor.next_effort
        if step is None or earned <= max(step, floor.effort // 2):
            return
        if floor.grow(min(earned, TABLE_STEP), out_of_time):
            graph.refresh(context, roots, out_of_time)


def merge(parts: list[tuple[Ints, Floats]]) -> tuple[Ints, Floats]:
    """Return each node once, with all of its reach."""
    nodes, back = np.unique(np.concatenate([nodes for nodes, _ in parts]), return_inverse=True)
    reach = np.bincount(back, np.concatenate([reach for _, reach in parts]), len(nodes))
    return nodes, reach.astype(float)
