"""Power of the DC charge."""

from __future__ import annotations

from diagtree.physics.dc_charge import STOPS, dc_power
from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup


def _power(setup: Setup) -> float:
    return dc_power(setup)


OBSERVABLE = Observable(
    id="dc-power",
    kind="power",
    details=(("dc",),),
    unit="W",
    meaning="power at the DC charge point, battery warm and between 20 and 50 percent",
    changed_by=STOPS,
    compute=_power,
    source="P = U I; the least of what car, battery and charge point allow",
    hazard="live",
)
