"""Trees are read when they are asked for, and what is wrong with them is told all the same."""

from __future__ import annotations

import pytest

from diagtree.errors import KnowledgeError
from diagtree.knowledge import tree_files
from diagtree.knowledge.files import read_texts, shipped_folder
from diagtree.knowledge.library import read_library
from diagtree.walk.context import Walk
from tests.bench.check_knowledge import grown

SOUND = """
diagtree: 1
tree: {}
title: A complaint
causes: {{c: 100}}
start: t
steps: {{t: {{then: {{yes: {{conclude: c}}, no: {{hand-over: {}}}}}}}}}
"""
CATALOGUE = """
tests:
  t: {ask: Is it?, place: reception, minutes: 1, outcomes: [yes, no], healthy: no, mistake: 1, source: common practice}
causes:
  c: {name: a cause, where: outside, shows: {t: {yes: 100}}, advise: {do: Tell them., minutes: 5}}
"""


def texts(**trees: str) -> dict[str, str]:
    house = "workshop: A house\nrate: 100\ncomeback: 100\n"
    found = {f"{name}.yaml": text for name, text in trees.items()}
    return found | {"catalogue/all.yaml": CATALOGUE, "workshop.yaml": house}


def test_a_walk_reads_its_own_tree_only(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of sixteen; the others wait until a walk hands over to them."""
    read = []
    compose = tree_files.compose
    monkeypatch.setattr(tree_files, "compose", lambda text, file: (read.append(file), compose(text, file))[1])
    library = read_library(grown(read_texts(shipped_folder())))
    walk = Walk.begin(library, "tree-1-2", "petrel-2")
    assert walk.tree_of("tree-1-2").steps
    assert read == ["tree-1-2.yaml"]
    assert len(library.trees) == 16
    assert len(read) == 16


@pytest.mark.parametrize("other", ["", "# a remark\n", "\n \n", "\ufeff"])
def test_an_empty_file_is_no_tree_to_hand_over_to(other: str) -> None:
    library = read_library(texts(one=SOUND.format("one", "two"), two=other))
    with pytest.raises(KnowledgeError) as raised:
        library.require("one", None)
    assert [finding.rule for finding in raised.value.findings] == ["unknown-tree"]
    assert {finding.rule for finding in library.all_findings()} >= {"unknown-tree", "empty-file"}


@pytest.mark.parametrize("other", [SOUND.format("two", "one"), "diagtree: [", "diagtree: 7\n"])
def test_mistakes_in_another_tree_stop_no_walk_of_this_one(other: str) -> None:
    library = read_library(texts(one=SOUND.format("one", "two"), two=other))
    assert library.require("one", None)[0].id == "one"


def test_what_is_no_yaml_is_told_and_counts_as_unread() -> None:
    library = read_library(texts(one=SOUND.format("one", "two"), two="diagtree: ["))
    assert library.unread == {"two.yaml"}
    assert [finding.rule for finding in library.findings] == ["unreadable-yaml"]
    assert [*library.trees] == ["one"]
    assert "two" not in library.trees
