"""The plug's resistor is open: the car sees an empty inlet."""

from __future__ import annotations

from dataclasses import replace
from math import inf

from diagtree.physics.defects.defect import Defect
from diagtree.physics.defects.proximity_loop import ProximityLoop


def _change(loop: ProximityLoop, _: float) -> ProximityLoop:
    return replace(loop, resistor=inf)


DEFECT = Defect(
    id="plug-resistor-open",
    name="resistor in the plug open",
    change=_change,
    span=None,
    remedy="Measure the plug by itself; try another cable.",
)
