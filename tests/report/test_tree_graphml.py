"""The tree as a graph: every branch once, and a general-purpose graph library says of it what our own rules say."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path
from typing import Any

import networkx
import pytest
from hypothesis import given, settings

from diagtree.knowledge.files import load
from diagtree.reason.graph import branches, in_order, reachable, steps_left
from diagtree.reason.tree_graph import to_graph
from diagtree.report.tree_graphml import graphml
from diagtree.report.tree_nodes import ending_words
from diagtree.terminal.main import main
from tests.documents import words
from tests.strategies import documents

TREE = "slow-dc"


@settings(deadline=None)
@given(documents(stops=True))
def test_the_graph_holds_every_branch_once(document: Any) -> None:
    known = words(document)
    graph = to_graph(known.tree, known.catalogue)
    drawn = {(here, outcome): there for here, there, outcomes in graph.edges(data="outcomes") for outcome in outcomes}
    said = {
        (step.id, outcome): target
        for step in known.tree.steps.values()
        for outcome, target in branches(step, known.catalogue.tests[step.test]).items()
    }
    assert drawn == said
    assert {node for node, kind in graph.nodes(data="kind") if kind == "step"} == set(known.tree.steps)


@settings(deadline=None)
@given(documents(stops=True))
def test_reach_order_and_length_are_those_of_networkx(document: Any) -> None:
    """networkx: descendants, whether the graph has a loop, the longest and the shortest way to an ending."""
    known = words(document)
    tree, catalogue = known.tree, known.catalogue
    graph = to_graph(tree, catalogue)
    ahead = networkx.descendants(graph, tree.start) | {tree.start}
    assert reachable(tree, catalogue) == {node for node in ahead if node in tree.steps}
    part = graph.subgraph(ahead)
    _, looping = in_order(tree, catalogue)
    assert networkx.is_directed_acyclic_graph(part) is (not looping)
    left = steps_left(tree, catalogue, tree.start)
    far = networkx.single_source_shortest_path_length(graph, tree.start)
    assert left.at_least == min(far[node] for node in ahead if node not in tree.steps)
    if not looping:
        assert left.at_most == networkx.dag_longest_path_length(part)


@pytest.mark.parametrize("tree", sorted(load().trees))
def test_what_is_written_is_read_back_whole(tree: str) -> None:
    known, catalogue = load().require(tree, None)
    read = networkx.read_graphml(BytesIO(graphml(known, catalogue).encode()))
    assert read.graph["start"] == known.start
    steps = {name: facts for name, facts in read.nodes(data=True) if facts["kind"] == "step"}
    assert {name: facts["test"] for name, facts in steps.items()} == {one.id: one.test for one in known.steps.values()}
    assert all("depth" in facts for facts in read.nodes.values()), "every step and ending can be reached"
    for step in known.steps.values():
        for outcome, target in branches(step, catalogue.tests[step.test]).items():
            there = target if isinstance(target, str) else ending_words(target, catalogue)[1]
            assert outcome in read.edges[step.id, there]["outcomes"].split(", ")


def test_a_senior_puts_a_tree_on_paper(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "paper"
    assert main(["paper", TREE, "--out", str(out)]) == 0
    named = capsys.readouterr().out.split()
    assert {Path(name).name for name in named} == {path.name for path in out.iterdir()}
    page = (out / f"{TREE}.md").read_text(encoding="utf-8")
    assert page == (Path(__file__).parents[2] / "docs" / "trees" / f"{TREE}.md").read_text(encoding="utf-8")
    assert all((out / name).is_file() for name in (f"{TREE}.svg", f"{TREE}.graphml"))
    assert main(["paper", TREE, "--out", str(out)]) == 2
    assert "is there already" in capsys.readouterr().err
    assert main(["paper", TREE, "--out", str(out), "--overwrite"]) == 0
    assert main(["paper", "no-such-tree", "--out", str(out)]) == 2
    assert main(["paper", TREE, "--out", str(tmp_path / "a" / "b")]) == 2
    assert "cannot be made" in capsys.readouterr().err
