"""State of charge."""

from __future__ import annotations

from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup


def _charge(setup: Setup) -> float:
    return setup.conditions.charge


OBSERVABLE = Observable(
    id="battery-charge",
    kind="charge",
    details=(("battery",),),
    unit="percent",
    meaning="state of charge of the traction battery as the car shows it",
    changed_by=(),
    compute=_charge,
    source="a condition of the measurement",
)
