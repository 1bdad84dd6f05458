"""Going down a graph of states level by level, every state once, with all the cars that get there."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from diagtree.reason.plan_arrays import Floats, Ints
from diagtree.reason.plan_graph import Graph


def by_rank(
    graph: Graph, nodes: Ints, reach: Floats, onward: Callable[[Ints, Floats], tuple[Ints, Floats]]
) -> list[tuple[Ints, Floats]]:
    """Go down from `nodes`, each node once, with all cars that get there; return what was met, in that order."""
    met: list[tuple[Ints, Floats]] = []
    waiting: dict[int, list[tuple[Ints, Floats]]] = {}

    def put(some: Ints, cars: Floats) -> None:
        ranks = graph.rank.data[some]
        for rank in np.unique(ranks).tolist():
            waiting.setdefault(rank, []).append((some[ranks == rank], cars[ranks == rank]))

    put(nodes, reach)
    while waiting:
        parts = waiting.pop(max(waiting))
        here, back = np.unique(np.concatenate([some for some, _ in parts]), return_inverse=True)
        cars = np.zeros((len(here), 2))
        np.add.at(cars, back, np.concatenate([share for _, share in parts]))
        met.append((here, cars))
        put(*onward(here, cars))
    return met
