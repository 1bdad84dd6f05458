"""A tree as a graph of networkx, for tools that know graphs: the one place where that library is loaded.

Everything that a walk needs works on the tree itself (`reason.graph`): its first prompt must not wait for this.
"""

from __future__ import annotations

import networkx

from diagtree.knowledge.words import Catalogue, Target, Tree
from diagtree.reason.graph import branches


def to_graph(tree: Tree, catalogue: Catalogue) -> networkx.DiGraph[Target]:
    """Return the tree as a directed graph.

    Nodes are the ids of all steps, and the endings that some step leads to (equal endings are one node); attribute
    `kind` is "step" or "ending". An edge's attribute `outcomes` holds, in order, all outcomes that lead along it.
    """
    graph: networkx.DiGraph[Target] = networkx.DiGraph(tree=tree.id, start=tree.start)
    graph.add_nodes_from(tree.steps, kind="step")
    for step in tree.steps.values():
        for outcome, target in branches(step, catalogue.tests[step.test]).items():
            if not isinstance(target, str):
                graph.add_node(target, kind="ending")
            elif target not in tree.steps:
                continue  # a broken link is a finding of its own
            taken = graph.get_edge_data(step.id, target, {"outcomes": ()})["outcomes"]
            graph.add_edge(step.id, target, outcomes=(*taken, outcome))
    return graph
