"""A tree as a graph: what follows on what, what is reached, how many steps are left (docs/meaning.md, "Steps").

All of it works on the tree itself: a walk needs it before its first prompt.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Mapping
from typing import NamedTuple

from diagtree.knowledge.words import NOT_DONE, Catalogue, Step, Target, Test, Tree


class StepsLeft(NamedTuple):
    """How many steps a walk still has, the present one counted. None: nothing bounds it.

    at_least : the shortest way to an ending; None where no ending can be reached.
    at_most : the longest way; None where a loop can be reached.
    """

    at_least: int | None
    at_most: int | None


def branches(step: Step, test: Test) -> Mapping[str, Target]:
    """Return where each outcome of `step` leads, in the order of the test's outcomes, `not-done` last.

    A step without a `not-done` branch sends it where the healthy outcome goes. A test with a `stop` outcome is never
    `not-done`: it asks for a danger. An outcome for which the author wrote nothing is left out.
    """
    led = {outcome: step.then[outcome] for outcome in test.outcome_ids() if outcome in step.then}
    skipped = step.then.get(NOT_DONE, step.then.get(test.healthy))
    if skipped is not None and not test.stop:
        led[NOT_DONE] = skipped
    return led


def following(tree: Tree, catalogue: Catalogue, step_id: str) -> tuple[Target, ...]:
    """Return the different targets of a step, in the order of the outcomes that lead to them."""
    step = tree.steps[step_id]
    return tuple(dict.fromkeys(branches(step, catalogue.tests[step.test]).values()))


def next_steps(tree: Tree, catalogue: Catalogue, step_id: str) -> tuple[str, ...]:
    """Return the different steps that may come right after a step."""
    return tuple(
        target for target in following(tree, catalogue, step_id) if isinstance(target, str) and target in tree.steps
    )


def reachable(tree: Tree, catalogue: Catalogue, start: str | None = None) -> frozenset[str]:
    """Return the steps that answers can lead to from `start` (the tree's own if not given), itself included."""
    first = tree.start if start is None else start
    found = {first} if first in tree.steps else set()
    waiting = list(found)
    while waiting:
        for step_id in next_steps(tree, catalogue, waiting.pop()):
            if step_id not in found:
                found.add(step_id)
                waiting.append(step_id)
    return frozenset(found)


def in_order(tree: Tree, catalogue: Catalogue, start: str | None = None) -> tuple[tuple[str, ...], frozenset[str]]:
    """Return the steps reached from `start`, each before all that follow it, and those that stand on or before a loop.

    Steps on a loop, and steps from which a loop can be reached, are in the second value only.
    """
    found = reachable(tree, catalogue, start)
    written = [step_id for step_id in tree.steps if step_id in found]  # a set's order differs from run to run
    after = {step_id: next_steps(tree, catalogue, step_id) for step_id in written}
    before: dict[str, list[str]] = {step_id: [] for step_id in found}
    for step_id, targets in after.items():
        for target in targets:
            before[target].append(step_id)
    open_ends = {step_id: len(targets) for step_id, targets in after.items()}
    ready = deque(step_id for step_id in written if not open_ends[step_id])
    last_first: list[str] = []
    while ready:
        step_id = ready.popleft()
        last_first.append(step_id)
        for earlier in before[step_id]:
            open_ends[earlier] -= 1
            if not open_ends[earlier]:
                ready.append(earlier)
    return tuple(reversed(last_first)), found - frozenset(last_first)


def steps_left(tree: Tree, catalogue: Catalogue, step_id: str) -> StepsLeft:
    """Return how many steps remain from `step_id` on, at least and at most. Linear in the size of the tree."""
    ordered, looping = in_order(tree, catalogue, step_id)
    longest: dict[str, int] = {}
    for current in reversed(ordered):
        longest[current] = 1 + max((longest[target] for target in next_steps(tree, catalogue, current)), default=0)
    return StepsLeft(_shortest(tree, catalogue, step_id), None if looping else longest.get(step_id))


def _shortest(tree: Tree, catalogue: Catalogue, step_id: str) -> int | None:
    layer, seen, count = [step_id], {step_id}, 1
    while layer:
        if any(_may_end(tree, catalogue, current) for current in layer):
            return count
        ahead = [target for current in layer for target in next_steps(tree, catalogue, current)]
        layer = [target for target in dict.fromkeys(ahead) if target not in seen]
        seen.update(layer)
        count += 1
    return None


def _may_end(tree: Tree, catalogue: Catalogue, step_id: str) -> bool:
    return any(not isinstance(target, str) for target in following(tree, catalogue, step_id))


def one_loop(tree: Tree, catalogue: Catalogue, looping: Iterable[str]) -> tuple[str, ...]:
    """Return one loop among the steps that `in_order` could not order, the first step repeated last; () if none."""
    inside = frozenset(looping)
    if not inside:
        return ()
    path = [next(step_id for step_id in tree.steps if step_id in inside)]
    place = {path[0]: 0}
    while True:  # every step here has a follower in here, so the path must meet itself
        ahead = next(target for target in next_steps(tree, catalogue, path[-1]) if target in inside)
        if ahead in place:
            return (*path[place[ahead]:], ahead)
        place[ahead] = len(path)
        path.append(ahead)
