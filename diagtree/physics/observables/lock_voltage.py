"""Voltage of the lock's feedback."""

from __future__ import annotations

import math

from diagtree.physics.assumed import LOCK_RESISTORS
from diagtree.physics.observable import Observable
from diagtree.physics.quantities.divider_voltage import divider_voltage
from diagtree.physics.setup import Setup

PULL_UP, SUPPLY = 10e3, 5.0
"""The controller's resistor and supply, which give the levels that a controller's manual prints. [ohm, V]"""


def feedback(setup: Setup, position: str) -> float:
    """Return the resistance of the lock's feedback when it was told to be in `position`. [ohm]"""
    if setup.has("lock", "feedback-open"):
        return math.inf
    if setup.has("lock", "feedback-shorted"):
        return 0.0
    locked = position == "locked" and not setup.has("lock", "stuck-unlocked", "motor-open")
    locked = locked or setup.has("lock", "stuck-locked")
    return LOCK_RESISTORS[locked] + setup.value("lock", "feedback-series", 0.0)


def _voltage(setup: Setup, position: str) -> float:
    return divider_voltage(feedback(setup, position), PULL_UP, SUPPLY)


OBSERVABLE = Observable(
    id="lock-voltage",
    kind="voltage",
    details=(("lock feedback",), ("locked", "unlocked")),
    unit="V",
    meaning="voltage of the lock's feedback when it was told to lock or unlock",
    changed_by=("lock",),
    compute=_voltage,
    source="manual and documentation of a vehicle charge controller: 1 and 11 kohm",
    assumes="a controller with 10 kohm to 5 V",
    hazard="live",
)
