"""The car's diode is the wrong way round: only the negative half is loaded."""

from __future__ import annotations

from dataclasses import replace

from diagtree.physics.defects.defect import Defect
from diagtree.physics.defects.pilot_loop import PilotLoop


def _change(loop: PilotLoop, _: float) -> PilotLoop:
    return replace(loop, diode="reversed")


DEFECT = Defect(
    id="diode-reversed",
    name="vehicle's diode reversed",
    change=_change,
    span=None,
    remedy="The diode sits in the car's charging controller or inlet electronics: was it repaired?",
)
