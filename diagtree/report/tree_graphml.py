"""A tree as GraphML (http://graphml.graphdrawing.org), which programs that draw and count graphs can read."""

from __future__ import annotations

from diagtree.knowledge.words import Catalogue, Target, Tree
from diagtree.report.tree_nodes import ending_words, needs_words


def graphml(tree: Tree, catalogue: Catalogue) -> str:
    """Return the GraphML text.

    Nodes: steps by their ids (`test`, `words`, `minutes`, `needs`, `depth`: the fewest answers that lead there) and
    endings by their words; `kind` tells which. Edges: `outcomes`, with commas between. What no answer leads to has no
    `depth`.
    """
    import networkx

    from diagtree.reason.tree_graph import to_graph

    graph = to_graph(tree, catalogue)
    depths = networkx.single_source_shortest_path_length(graph, tree.start)
    drawn: networkx.DiGraph[str] = networkx.DiGraph(tree=tree.id, title=tree.title, start=tree.start)
    for node in graph:
        far = {"depth": depths[node]} if node in depths else {}
        drawn.add_node(_name(node, catalogue), **_facts(node, tree, catalogue), **far)
    for here, there in graph.edges:
        outcomes = ", ".join(graph.edges[here, there]["outcomes"])
        drawn.add_edge(_name(here, catalogue), _name(there, catalogue), outcomes=outcomes)
    return "\n".join(networkx.generate_graphml(drawn)) + "\n"


def _name(node: Target, catalogue: Catalogue) -> str:
    return node if isinstance(node, str) else ending_words(node, catalogue)[1]


def _facts(node: Target, tree: Tree, catalogue: Catalogue) -> dict[str, str | float]:
    if not isinstance(node, str):
        kind, words = ending_words(node, catalogue)
        return {"kind": kind, "words": words}
    test = catalogue.tests[tree.steps[node].test]
    return {
        "kind": "step", "test": test.id, "words": " ".join(test.ask.split()), "minutes": float(test.minutes),
        "needs": needs_words(test),
    }  # fmt: skip
