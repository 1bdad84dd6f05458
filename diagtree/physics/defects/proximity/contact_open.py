"""No contact between plug and inlet: the car sees an empty inlet, the plug by itself is sound."""

from __future__ import annotations

from dataclasses import replace
from math import inf

from diagtree.physics.defects.defect import Defect
from diagtree.physics.defects.proximity_loop import ProximityLoop


def _change(loop: ProximityLoop, _: float) -> ProximityLoop:
    return replace(loop, contact=inf)


DEFECT = Defect(
    id="contact-open",
    name="no contact between plug and inlet",
    change=_change,
    span=None,
    remedy="Look at the proximity pin of the inlet: pushed back, bent or broken off?",
)
