"""Resistance of an inlet temperature sensor, at its pins."""

from __future__ import annotations

from diagtree.physics.inlet_sensor import SENSORS, resistance
from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup


def _at_rest(setup: Setup, sensor: str) -> float:
    return resistance(setup, sensor, setup.conditions.ambient)


OBSERVABLE = Observable(
    id="inlet-sensor-resistance",
    kind="resistance",
    details=(SENSORS,),
    unit="ohm",
    meaning="resistance of an inlet temperature sensor at its unplugged connector, inlet at rest",
    changed_by=SENSORS,
    compute=_at_rest,
    source="IEC 60751 for platinum, beta or Steinhart-Hart for an NTC; the vehicle profile",
)
