"""Looking first where a policy goes that is known already: a search begun so starts where another one ended."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from diagtree.reason.plan_arrays import Floats, Ints
from diagtree.reason.plan_bank import Bank
from diagtree.reason.plan_graph import NOTHING, Graph
from diagtree.reason.plan_state import never


def open_along(
    graph: Graph, bank: Bank, nodes: Ints, guides: Ints, *, least: float = 0.0, out_of_time: Callable[[], bool] = never,
    far: bool = True,
) -> None:
    """Open the states that the bank's policies `guides` lead to from `nodes`, and let them draw their limits.

    So each of `nodes` costs no more than its guide does. What fewer cars reach than `least`, a share, and what is left
    when time is out, is not opened but led by the rest of its guide. far : go on to the end, not one act only.
    What was done already, or would tell nothing any more, is passed over.
    """
    trail: list[Ints] = []
    nodes, steps, reach = nodes.astype(np.int64), guides.astype(np.int64), np.ones(len(nodes))
    while len(nodes):
        nodes, steps, reach = _to_do(graph, bank, nodes, steps, reach)
        going = reach >= least
        if out_of_time() or (trail and not far):
            going[:] = False
        shut = np.unique(nodes[going & (graph.first.data[nodes] < 0)])
        opened = graph.open(shut, out_of_time)
        if len(opened) < len(shut):
            going &= graph.first.data[nodes] >= 0
        lead(graph, bank, nodes[~going], steps[~going])
        nodes, steps, reach = nodes[going], steps[going], reach[going]
        edge = _edges_of(graph, nodes, bank.act.data[steps])
        some = edge >= 0
        trail.append(np.unique(nodes[some]))
        edge, steps, reach = edge[some], steps[some], reach[some]
        cars = reach[:, None] * graph.chance.data[edge]
        onward = (graph.child.data[edge] != NOTHING) & (bank.child.data[steps] >= 0)
        nodes, reach = graph.child.data[edge][onward].astype(np.int64), cars[onward]
        steps = bank.child.data[steps][onward]
    met = np.unique(np.concatenate(trail)) if trail else np.zeros(0, np.int64)
    ranks = graph.rank.data[met]
    for rank in np.unique(ranks).tolist():  # every act lowers the rank: from the far ends up
        graph.settle(met[ranks == rank])
    graph.guide.data[met] = -1  # their acts say the same by now, or better


def lead(graph: Graph, bank: Bank, nodes: Ints, guides: Ints) -> None:
    """Let `nodes` follow `guides`, one each, where these are cheaper than what is known; a node may come twice."""
    cost = (graph.belief.data[nodes] * bank.value.data[guides]).sum(axis=1)
    order = np.lexsort((cost, nodes))
    unlike, firsts = np.unique(nodes[order], return_index=True)
    graph.lead(unlike, guides[order[firsts]], cost[order[firsts]])


def _to_do(
    graph: Graph, bank: Bank, nodes: Ints, steps: Ints, reach: Floats
) -> tuple[Ints, Ints, Floats]:
    """Pass over acts that were done, or tell nothing any more; drop what ends. Return what is left."""
    tests, causes = graph.arrays.tests, graph.arrays.causes
    while True:
        some = bank.act.data[steps] < tests + causes  # an ending needs no looking into
        nodes, steps, reach = nodes[some], steps[some], reach[some]
        act = bank.act.data[steps]
        test, fix = np.nonzero(act < tests)[0], np.nonzero(act >= tests)[0]
        idle = test[~graph.left.data[nodes[test], act[test]]]
        vain = fix[graph.belief.data[nodes[fix], act[fix] - tests] <= 0]
        if not len(idle) and not len(vain):
            return nodes, steps, reach
        after = np.zeros(len(nodes), np.int64)
        shown = graph.digits.data[nodes[idle], act[idle]].astype(np.int64) - 1
        likely = np.einsum("nc,noc->no", graph.belief.data[nodes[idle]], graph.arrays.chance[act[idle]]).argmax(axis=1)
        after[idle] = np.where(shown >= 0, shown, likely)
        over = np.concatenate([idle, vain])
        steps[over] = bank.child.data[steps[over], after[over]]
        some = steps >= 0
        nodes, steps, reach = nodes[some], steps[some], reach[some]


def _edges_of(graph: Graph, nodes: Ints, acts: Ints) -> Ints:
    """Return for each opened node the edge of its act; -1 where it was left out, because it cannot be the best."""
    edges = graph.edges(nodes)
    found = np.full(len(nodes), -1)
    match = graph.act.data[edges.number] == acts[edges.owner]
    found[edges.owner[match]] = edges.number[match]
    return found
