"""Current of the DC charge."""

from __future__ import annotations

from diagtree.physics.dc_charge import STOPS, dc_current
from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup


def _current(setup: Setup) -> float:
    return dc_current(setup)


OBSERVABLE = Observable(
    id="dc-current",
    kind="current",
    details=(("dc",),),
    unit="A",
    meaning="current of the DC charge",
    changed_by=STOPS,
    compute=_current,
    source="the least of what car, battery and charge point allow",
    hazard="live",
)
