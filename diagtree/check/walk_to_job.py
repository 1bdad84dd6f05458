"""A walk in which a job comes up: the witness of a finding about a test or a correction."""

from __future__ import annotations

from diagtree.check.subject import Car, Subject, TreeOnCar
from diagtree.check.use import Job
from diagtree.knowledge.words import Conclude


def walk_to(subject: Subject, car: Car, job: Job) -> str | None:
    """Return an answers file that leads to a test, or to the ending whose correction it is; None where no tree does.

    Walked on `car`; what is wrong in the catalogue as written may be shown on a car that is named.
    """
    trees = [one for one in subject.trees_on_cars() if one.walkable and (car.vehicle is None or one.car is car)]
    for one in sorted(trees, key=lambda tree: tree.car is not car):
        found = _to_test(one, job.id) if job.section == "tests" else _to_conclusion(one, job.id)
        if found is not None:
            return found
    return None


def _to_test(one: TreeOnCar, test: str) -> str | None:
    for step in one.tree.steps.values():
        found = one.witnesses.to_step(step.id) if step.test == test else None
        if found is not None:
            return found
    return None


def _to_conclusion(one: TreeOnCar, cause: str) -> str | None:
    for step in one.tree.steps.values():
        for outcome, target in step.then.items():
            found = one.witnesses.to_branch(step.id, outcome) if target == Conclude(cause) else None
            if found is not None:
                return found
    return None
