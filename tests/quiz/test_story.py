"""What the owner says agrees with what the car shows, on every tree that ships, and counts as evidence."""

from __future__ import annotations

from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.errors import KnowledgeError
from diagtree.knowledge.files import load
from diagtree.quiz.round import SOON, Round, deal
from diagtree.quiz.showing import answer
from diagtree.quiz.state import start
from diagtree.reason.evidence import Answered, posterior
from diagtree.walk.context import Walk
from tests.quiz.rounds import silent, walk_of
from tests.quiz.test_trainees import HOUSE

TREES = sorted(load().trees)


@cache
def walks(tree: str) -> tuple[Walk, ...]:
    """Return the tree on every car that it can be used on."""
    library, found = load(), []
    for vehicle in sorted(library.profiles):
        try:
            found.append(Walk.begin(library, tree, vehicle))
        except KnowledgeError:
            continue
    return tuple(found)


def check(played: Round) -> None:
    told, story = played.dealt.told, played.dealt.story
    for test_id, outcome in told:
        test = played.walk.test(test_id)
        assert answer(played, test, 0).outcome == outcome
        assert answer(played, test, 3).outcome == outcome  # asked again, the owner says the same
        assert test.place == "reception"
        assert test.minutes <= SOON
        assert not test.stop
        assert f'Asked "{test.ask}", the owner says: {outcome.replace("-", " ")}.' in story
    # Nothing else is said but the weather and the complaint: free words could belie the car.
    assert story.count("the owner says:") == len(told)
    rest = story.split(" Asked ")[0]
    assert rest == f"{played.dealt.ambient:g} degC outside. The owner's complaint: {played.tree.title}."


@pytest.mark.parametrize("tree", TREES)
def test_the_story_never_contradicts_the_car(tree: str):
    """Every cause of every tree, on every car, several seeds."""
    assert walks(tree)
    for walk in walks(tree):
        for cause in walk.library.tree(tree).causes:
            for seed in range(4):
                check(deal(walk, f"story {seed}", cause=cause))


@settings(deadline=None, max_examples=80)
@given(tree=st.sampled_from(TREES), car=st.integers(0, 9), seed=st.integers(0, 10**9))
def test_the_story_never_contradicts_the_car_whatever_is_dealt(tree: str, car: int, seed: int):
    check(deal(walks(tree)[car % len(walks(tree))], str(seed)))


@pytest.mark.parametrize("tree", TREES)
def test_what_is_told_is_chosen_without_a_look_at_the_cause(tree: str):
    """The same seed has the owner speak of the same thing, whatever is wrong with the car."""
    walk = walks(tree)[0]
    for seed in range(6):
        rounds = [deal(walk, str(seed), cause=cause) for cause in walk.library.tree(tree).causes]
        assert len({tuple(test for test, _ in played.dealt.told) for played in rounds}) == 1


@pytest.mark.parametrize("tree", TREES)
def test_what_is_told_is_free_evidence(tree: str):
    walk = walks(tree)[0]
    for seed in range(6):
        played = deal(walk, str(seed))
        state = start(played)
        answers = [Answered(test, outcome, {}) for test, outcome in played.dealt.told]
        seen = posterior(played.tree.causes, answers, walk.catalogue)
        assert state.chances == pytest.approx(tuple(seen.chances.values()), abs=1e-12)
        assert state.money == state.minutes == 0.0
        assert state.outcomes == dict(played.dealt.told)


def test_a_word_that_is_told_lowers_the_expected_cost_on_average():
    """Free evidence never hurts: the mean of what is expected after it is at most what was expected before."""
    quick = {**HOUSE["tests"], "swap": {**HOUSE["tests"]["swap"], "minutes": 2}}
    walk = walk_of({**HOUSE, "tests": quick})
    after = {}
    for seed in range(40):
        played = deal(walk, str(seed))
        if played.dealt.told not in after:
            case = start(played).case
            after[played.dealt.told] = case.total, played.solver.solve(case).expected_cost
    assert set(after) == {(("swap", "charges"),), (("swap", "fails"),)}
    untold = silent(deal(walk, "1"))
    total = start(untold).case.total
    assert sum(weight for weight, _ in after.values()) == pytest.approx(total)
    mean = sum(weight * cost for weight, cost in after.values()) / total
    assert mean <= untold.solver.solve().expected_cost
