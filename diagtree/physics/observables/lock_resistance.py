"""Resistance of the lock's feedback."""

from __future__ import annotations

from diagtree.physics.observable import Observable
from diagtree.physics.observables.lock_voltage import feedback
from diagtree.physics.setup import Setup


def _resistance(setup: Setup, position: str) -> float:
    return feedback(setup, position)


OBSERVABLE = Observable(
    id="lock-resistance",
    kind="resistance",
    details=(("lock feedback",), ("locked", "unlocked")),
    unit="ohm",
    meaning="resistance of the lock's feedback when it was told to lock or unlock",
    changed_by=("lock",),
    compute=_resistance,
    source="documentation of a vehicle charge controller: 1 and 11 kohm",
)
