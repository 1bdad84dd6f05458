"""Which steps of a procedure are due: all of them, the proof of absence alone, or hand-back without its charge."""

from __future__ import annotations

from diagtree.knowledge.words import HAND_BACK, MAKE_SAFE
from diagtree.walk.context import Walk
from diagtree.walk.route import ToEnd, route
from diagtree.walk.state import State

ABSENCE_KINDS = ("prove-tester", "absence")


def absence_steps(walk: Walk) -> tuple[int, ...]:
    """Return the steps of making safe that prove the absence of voltage: tester, absence, tester."""
    steps = walk.catalogue.procedures[MAKE_SAFE].steps
    return tuple(index for index, step in enumerate(steps) if step.kind in ABSENCE_KINDS)


def repeat_steps(walk: Walk) -> tuple[int, ...]:
    """Return the steps of a repeat after voltage was found: wait once more, then the proof of absence."""
    steps = walk.catalogue.procedures[MAKE_SAFE].steps
    return tuple(index for index, step in enumerate(steps) if step.kind in ("wait", *ABSENCE_KINDS))


def due_steps(walk: Walk, state: State, procedure: str, first: int = 0) -> tuple[int, ...]:
    """Return the steps that a procedure beginning at step `first` runs through.

    Making safe that begins with the tester is a repeated proof. A car that leaves with its trouble (referred), or
    on which a danger was found, is not charged once more at hand-back.
    """
    found = walk.catalogue.procedures.get(procedure)
    steps = found.steps if found else ()
    if procedure == MAKE_SAFE and first > 0:
        return absence_steps(walk)
    if procedure == HAND_BACK:
        here = route(walk, state)
        referred = isinstance(here.goal, ToEnd) and here.goal.how == "referred"
        keep_charge = not (referred or here.danger)
        return tuple(index for index, step in enumerate(steps) if keep_charge or step.kind != "charge")
    return tuple(range(len(steps)))
