"""Which complaint and car a round is about: all trees come round, weak subjects first, few files read."""

from __future__ import annotations

from collections import Counter

import pytest

from diagtree.errors import WrongUse
from diagtree.knowledge.files import load
from diagtree.knowledge.house import House
from diagtree.knowledge.library import read_library
from diagtree.knowledge.words import TRIAGE
from diagtree.quiz.choosing import Choosing
from diagtree.quiz.modes import PRACTICE
from diagtree.quiz.subject import SAFETY, SUBJECTS, subject_of, subject_of_cause
from diagtree.walk.context import Walk

HOUSE = House(96, 2200, 2500)
LIBRARY = load()
TREES = sorted(tree for tree in LIBRARY.trees if tree != TRIAGE)  # a desk has no faulty car


def test_complaints_that_were_played_least_come_first():
    """As many rounds as there are trees, each on another one; then they begin anew."""
    played: Counter[str] = Counter()
    for number in range(2 * len(TREES)):
        tree = Choosing(LIBRARY, HOUSE, played=played).walk(f"round {number}").tree
        assert played[tree] == min(played[one] for one in TREES)
        played[tree] += 1
    assert set(played.values()) == {2}


def test_what_was_asked_for_is_played():
    for tree in TREES:
        for vehicle in ("petrel-2", "marlin-1"):
            walk = Choosing(LIBRARY, HOUSE, tree, vehicle).walk("1")
            assert (walk.tree, walk.vehicle) == (tree, vehicle)


@pytest.mark.parametrize("subject", [one for one in SUBJECTS if one != SAFETY])
def test_a_weak_subject_is_served_where_any_tree_has_it(subject: str):
    """In most of the rounds: where its shares are small, the dice of a tree may pass it by."""
    walks = [Walk.begin(LIBRARY, tree, "petrel-2") for tree in TREES]
    assert any(
        subject_of_cause(cause, walk.catalogue) == subject
        for walk in walks for cause in LIBRARY.tree(walk.tree).causes
    ), "no tree that ships has a fault of it"
    dealt = [Choosing(LIBRARY, HOUSE).deal(str(seed), PRACTICE, [subject]) for seed in range(6)]
    served = [one for one in dealt if subject_of_cause(one.dealt.cause, one.walk.catalogue) == subject]
    assert len(served) > 3


def test_the_same_seed_is_the_same_round():
    one, other = (Choosing(LIBRARY, HOUSE).deal("7", PRACTICE, ["supply"]) for _ in range(2))
    assert one.dealt == other.dealt


def test_no_more_trees_are_read_than_are_looked_at():
    library = load()
    Choosing(library, HOUSE).deal("1", PRACTICE)
    read = [tree for tree in TREES if library.trees._read.get(tree) is not None]
    assert len(read) == 1


def test_knowledge_without_trees_is_told():
    with pytest.raises(WrongUse, match="no tree to play"):
        Choosing(read_library({}), HOUSE).walk("1")


@pytest.mark.parametrize("tree", TREES)
def test_every_test_and_cause_that_ships_has_a_subject(tree: str):
    walk = Walk.begin(LIBRARY, tree, "petrel-2")
    for test in walk.catalogue.tests.values():
        assert subject_of(test, walk.catalogue) in SUBJECTS
    for cause in LIBRARY.tree(tree).causes:
        assert subject_of_cause(cause, walk.catalogue) in SUBJECTS
