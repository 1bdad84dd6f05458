"""The wire from the controller to the contact is broken before the car's own resistor to earth: the full 5 V."""

from __future__ import annotations

from dataclasses import replace
from math import inf

from diagtree.physics.defects.defect import Defect
from diagtree.physics.defects.proximity_loop import ProximityLoop


def _change(loop: ProximityLoop, _: float) -> ProximityLoop:
    return replace(loop, pull_down=inf, contact=inf)


DEFECT = Defect(
    id="wire-open",
    name="car's proximity wire open before its own resistor to earth",
    change=_change,
    span=None,
    remedy="Look at the wire between inlet and controller.",
)
