"""Resistance of the motor of the plug's lock."""

from __future__ import annotations

import math

from diagtree.physics.assumed import LOCK_MOTOR
from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup


def _motor(setup: Setup) -> float:
    return math.inf if setup.has("lock", "motor-open") else LOCK_MOTOR.value


OBSERVABLE = Observable(
    id="lock-motor",
    kind="resistance",
    details=(("lock motor",),),
    unit="ohm",
    meaning="resistance of the lock's motor at its unplugged connector",
    changed_by=("lock",),
    compute=_motor,
    source="Ohm's law",
    assumes="10 ohm in a sound motor (estimate)",
)
