"""The car's diode does not conduct: no load at all, though the car's pin sees the pilot."""

from __future__ import annotations

from dataclasses import replace

from diagtree.physics.defects.defect import Defect
from diagtree.physics.defects.pilot_loop import PilotLoop


def _change(loop: PilotLoop, _: float) -> PilotLoop:
    return replace(loop, diode="open")


DEFECT = Defect(
    id="diode-open",
    name="vehicle's diode open",
    change=_change,
    span=None,
    remedy="The diode sits in the car's charging controller or inlet electronics; R2 open reads the same.",
)
