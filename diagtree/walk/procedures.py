"""Which steps of a procedure are due: all of them, the proof of absence alone, or hand-back without plugging in."""

from __future__ import annotations

from diagtree.knowledge.words import HAND_BACK, MAKE_SAFE, OUTSIDE
from diagtree.walk.context import Walk
from diagtree.walk.danger_history import danger_stands
from diagtree.walk.route import ToEnd, route
from diagtree.walk.state import State

ABSENCE_KINDS = ("prove-tester", "absence")
PLUGS_IN = ("lock", "charge")  # kinds of steps of hand-back for which a plug goes into the car


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

    Making safe that begins with the tester is a repeated proof. At hand-back a plug goes in only where a charge was
    proven here, or where the fault is outside the car and no danger stands: the words of advice for a car that must
    not be charged are not followed by a charge.
    """
    found = walk.catalogue.procedures.get(procedure)
    steps = found.steps if found else ()
    if procedure == MAKE_SAFE and first > 0:
        return absence_steps(walk)
    if procedure == HAND_BACK and not _may_be_plugged_in(walk, state):
        return tuple(index for index, step in enumerate(steps) if step.kind not in PLUGS_IN)
    return tuple(range(len(steps)))


def _may_be_plugged_in(walk: Walk, state: State) -> bool:
    here = route(walk, state)
    how = here.goal.how if isinstance(here.goal, ToEnd) else ""
    if how == "advised" and here.cause is not None:
        return walk.catalogue.causes[here.cause].where == OUTSIDE and not here.danger and not danger_stands(walk, state)
    return how == "fixed"
