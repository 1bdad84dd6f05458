"""Rules of graph and meaning against plain enumeration of all paths, on small trees with random mistakes.

Both ways round: what enumeration finds is told at its place, and nothing else is.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

from hypothesis import HealthCheck, given, settings

from diagtree.check.flow import Flow
from diagtree.check.loops import components, loops
from diagtree.check.repeats import way_between
from diagtree.check.rule import rules
from diagtree.check.run import check_library
from diagtree.knowledge.library import Library, read_library
from diagtree.knowledge.place import Finding
from diagtree.knowledge.words import Conclude, Tree
from tests.check.mistaken import Listed, mistaken
from tests.check.replay import replay
from tests.documents import Document, texts

RULES = {rule.id: rule for rule in rules()}
SLOW = [HealthCheck.too_slow]  # drawing whole documents takes its time on a busy machine
EXAMPLES = settings(max_examples=60, deadline=None, suppress_health_check=SLOW)


def found(rule: str, library: Library) -> list[Finding]:
    return [one for one in check_library(library, [RULES[rule]]) if one.rule == rule]


def lines(rule: str, library: Library) -> set[int]:
    return {one.place.line for one in found(rule, library)}


def known(document: Document) -> tuple[Library, Tree, Listed]:
    library = read_library(texts(document))
    tree = library.trees["made-up"]
    return library, tree, Listed(tree, library.catalogue(None))


def places(tree: Tree, steps: set[str]) -> set[int]:
    return {tree.steps[step].at.line for step in steps}


def branch_places(tree: Tree, branches: set[tuple[str, str]]) -> set[int]:
    return {tree.steps[step].then_at[outcome].line for step, outcome in branches}


@settings(max_examples=120, deadline=None, suppress_health_check=SLOW)
@given(document=mistaken(loops=False))
def test_trees_without_loops(document: Document) -> None:
    library, tree, listed = known(document)
    assert lines("test-parts-nothing", library) == places(tree, listed.parting_nothing())
    assert lines("test-repeated", library) == places(tree, listed.repeated())
    caught = listed.caught()  # told where the walk stands still, not at every step that leads there
    still = {step for step in caught if not set(listed.leads(step).values()) & caught}
    assert lines("dead-end", library) == places(tree, still)
    assert lines("branch-never-taken", library) == branch_places(tree, listed.never_taken())
    assert lines("conclusion-excluded", library) == branch_places(tree, listed.excluded())
    assert not found("loop", library)


@EXAMPLES
@given(document=mistaken())
def test_any_trees(document: Document) -> None:
    library, tree, listed = known(document)
    assert lines("unreached-step", library) == places(tree, listed.unreached())
    assert lines("test-without-effect", library) == places(tree, listed.without_effect())
    everywhere = _concluded(tree, tree.steps)
    reached = _concluded(tree, listed.reached())
    never = {tree.causes_at[cause].line for cause in listed.causes if cause not in everywhere}
    assert lines("cause-never-concluded", library) == never
    lost = {cause for cause in listed.causes if cause in everywhere - reached}
    assert len(found("unreached-conclusion", library)) == len(lost)


def _concluded(tree: Tree, steps: Iterable[str]) -> set[str]:
    ends = (end for step in steps for end in tree.steps[step].then.values())
    return {end.cause for end in ends if isinstance(end, Conclude)}


@EXAMPLES
@given(document=mistaken())
def test_loops_are_found_and_real(document: Document) -> None:
    library, tree, listed = known(document)
    assert bool(found("loop", library)) == listed.looping()
    flow = Flow(tree, library.catalogue(None))
    for around in loops(flow):
        for answer, onward in zip(around, [*around[1:], around[0]], strict=True):
            assert listed.leads(answer.step)[answer.outcome] == onward.step
    at = {one.place.line for one in found("loop", library)}
    assert len(at) <= len(components(flow))


@EXAMPLES
@given(document=mistaken())
def test_dead_ends_with_loops(document: Document) -> None:
    library, tree, listed = known(document)
    told, caught = lines("dead-end", library), listed.caught()
    assert bool(told) == bool(caught)
    assert told <= places(tree, caught)


@EXAMPLES
@given(document=mistaken(loops=False))
def test_a_repeat_is_shown_by_a_real_way(document: Document) -> None:
    library, tree, listed = known(document)
    flow = Flow(tree, library.catalogue(None))
    for step in listed.repeated():
        way = way_between(flow, step)
        assert tree.steps[way[0].step].test == tree.steps[step].test
        assert (way[-1].step, way[-1].outcome) == (step, way[0].outcome)
        for answer, onward in pairwise(way):
            assert listed.leads(answer.step)[answer.outcome] == onward.step


@settings(max_examples=40, deadline=None, suppress_health_check=SLOW)
@given(document=mistaken(loops=False))
def test_witnesses_of_branches_are_walked_by_the_real_driver(document: Document) -> None:
    library, tree, listed = known(document)
    flow = Flow(tree, library.catalogue(None))
    if any(one.level == "error" for one in library.all_findings()):
        return  # nobody is walked by knowledge with broken links
    for one in found("branch-never-taken", library):
        step, outcome = next(
            (step, outcome) for step, outcome in listed.never_taken()
            if tree.steps[step].then_at[outcome] == one.place
        )  # fmt: skip
        if one.witness is None:  # only where the shortest way would answer some test twice, and differently
            assert listed.repeated()
            continue
        played = replay(library, tree.id, one.witness)
        assert played.answers[flow.test(step).id] == outcome
        shortest = min(
            len(path.answers) for path in listed.to(step)
            if any(listed.allows(cause, path.answers) for cause in listed.causes)
        )  # fmt: skip
        assert len(one.witness.partition("  # shown")[0].split("answers:")[1].strip().splitlines()) <= shortest + 1

