"""Where a tree concludes its causes, and which trees it hands over to."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from diagtree.knowledge.place import Place
from diagtree.knowledge.words import Conclude, HandOver, Tree


def concluded(tree: Tree, steps: Iterable[str]) -> Mapping[str, tuple[str, str]]:
    """Return each cause that some of these steps conclude, with the first step and outcome that do."""
    found: dict[str, tuple[str, str]] = {}
    for step_id in steps:
        for outcome, target in tree.steps[step_id].then.items():
            if isinstance(target, Conclude):
                found.setdefault(target.cause, (step_id, outcome))
    return found


def handed_over(tree: Tree, steps: Iterable[str]) -> tuple[tuple[str, str, str], ...]:
    """Return each hand-over of these steps: the other tree, the step and the outcome."""
    return tuple(
        (target.tree, step_id, outcome)
        for step_id in steps
        for outcome, target in tree.steps[step_id].then.items()
        if isinstance(target, HandOver)
    )


def leads_nowhere(tree: Tree) -> bool:
    """Return whether a branch names a step that is not written, which the reader tells.

    Mostly it is misspelt, and what would be reached by it only seems to be out of reach.
    """
    targets = (target for step in tree.steps.values() for target in step.then.values())
    return any(isinstance(target, str) and target not in tree.steps for target in targets)


def torn(tree: Tree) -> Place | None:
    """Return where a tree's branches could not be read whole, which the reader tells; None for all other trees.

    What lies behind the tear only seems to be out of reach, and its causes to be concluded nowhere.
    """
    if not (tree.causes and tree.steps and tree.start):
        return tree.at
    for step in tree.steps.values():
        written = (key.removeprefix("then.") for key in step.places if key.startswith("then."))
        if (not step.then and "then" not in step.places) or any(outcome not in step.then for outcome in written):
            return step.at
    return None
