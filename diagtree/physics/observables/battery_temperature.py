"""Temperature of the traction battery as the car shows it."""

from __future__ import annotations

from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup


def _temperature(setup: Setup) -> float:
    return setup.conditions.ambient - setup.value("battery", "sensor-reads-low", 0.0)


OBSERVABLE = Observable(
    id="battery-temperature",
    kind="temperature",
    details=(("battery",),),
    unit="degC",
    meaning="temperature of the traction battery as the car shows it, after a night without charging or driving",
    changed_by=("battery",),
    compute=_temperature,
    source="what has rested has the temperature of the air",
    hazard="live",
)
