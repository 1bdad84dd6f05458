"""The steps of a tree as cars pass them: in order, every listed outcome with its target, no test twice on a path."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from diagtree.errors import WrongUse
from diagtree.knowledge.words import NOT_DONE, SOMETHING_ELSE, Catalogue, Conclude, Step, Target, Tree
from diagtree.reason.graph import in_order, next_steps, one_loop
from diagtree.records import dataclass


@dataclass(frozen=True, slots=True)
class TestedSteps:
    """The steps that can be reached by listed outcomes, each before all that follow it. `not-done` has no chance."""

    __test__ = False  # not for pytest

    order: tuple[str, ...]
    tests: Mapping[str, str]
    targets: Mapping[str, Mapping[str, Target]]
    unreached: tuple[str, ...]

    @classmethod
    def of(cls, tree: Tree, catalogue: Catalogue) -> TestedSteps:
        """Return the steps of `tree`. Raises WrongUse naming the test, step or outcome that cannot be priced."""
        if tree.start not in tree.steps:
            raise WrongUse(f"tree `{tree.id}` starts at `{tree.start}`, which is not among its steps")
        tested = _without_not_done(tree)
        for step in tested.steps.values():
            _demand_known(tested, catalogue, step)
        order, looping = in_order(tested, catalogue)
        if looping:
            loop = one_loop(tested, catalogue, looping)
            raise WrongUse(
                f"tree `{tree.id}` has no price: the path {' > '.join(loop)} repeats the test "
                f"`{tree.steps[loop[0]].test}`; lead its last outcome elsewhere"
            )
        _demand_once(tested, catalogue, order)
        return cls(
            order,
            {step_id: tested.steps[step_id].test for step_id in order},
            {step_id: tested.steps[step_id].then for step_id in order},
            tuple(step_id for step_id in tree.steps if step_id not in set(order)),
        )


def _without_not_done(tree: Tree) -> Tree:
    """Return the tree without written `not-done` branches (those filled in go where the healthy outcome goes)."""
    steps = {
        step.id: replace(step, then={outcome: target for outcome, target in step.then.items() if outcome != NOT_DONE})
        for step in tree.steps.values()
    }
    return replace(tree, steps=steps)


def _demand_known(tree: Tree, catalogue: Catalogue, step: Step) -> None:
    where = f"step `{step.id}` of tree `{tree.id}`"
    if step.test not in catalogue.tests:
        raise WrongUse(f"{where} performs the test `{step.test}`, which is not in the catalogue")
    for outcome in catalogue.tests[step.test].outcome_ids():
        if outcome not in step.then:
            raise WrongUse(f"{where} has no branch for the outcome `{outcome}`; add it under `then:`")
        target = step.then[outcome]
        if isinstance(target, str) and target not in tree.steps:
            raise WrongUse(f"{where} leads to `{target}`, which is not among the tree's steps")
        if isinstance(target, Conclude) and (target.cause == SOMETHING_ELSE or target.cause not in tree.causes):
            raise WrongUse(f"{where} concludes `{target.cause}`, which has no share under the tree's `causes:`")


def _demand_once(tree: Tree, catalogue: Catalogue, order: tuple[str, ...]) -> None:
    # A set of tests seen on some path says enough: a test in it was done on one of the paths to here.
    seen: dict[str, frozenset[str]] = {step_id: frozenset() for step_id in order}
    for step_id in order:
        test = tree.steps[step_id].test
        if test in seen[step_id]:
            path = " > ".join(_path(tree, catalogue, order, test, step_id))
            raise WrongUse(
                f"tree `{tree.id}` has no price: the test `{test}` comes twice on the path {path}; "
                "use what it showed the first time"
            )
        for target in next_steps(tree, catalogue, step_id):
            seen[target] |= seen[step_id] | {test}


def _path(tree: Tree, catalogue: Catalogue, order: tuple[str, ...], test: str, last: str) -> list[str]:
    """Return a path from a step with this `test` to the step `last`."""
    after = {last: ""}
    for step_id in reversed(order[: order.index(last)]):
        onward = next((target for target in next_steps(tree, catalogue, step_id) if target in after), None)
        if onward is not None:
            after[step_id] = onward
    here = next(step_id for step_id in after if step_id != last and tree.steps[step_id].test == test)
    path = [here]
    while path[-1] != last:
        path.append(after[path[-1]])
    return path
