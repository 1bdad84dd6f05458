"""The car's diode conducts both ways: the negative level mirrors the positive one."""

from __future__ import annotations

from dataclasses import replace

from diagtree.physics.defects.defect import Defect
from diagtree.physics.defects.pilot_loop import PilotLoop


def _change(loop: PilotLoop, _: float) -> PilotLoop:
    return replace(loop, diode="shorted")


DEFECT = Defect(
    id="diode-shorted",
    name="vehicle's diode shorted",
    change=_change,
    span=None,
    remedy="The diode sits in the car's charging controller or inlet electronics.",
)
