"""Switch S2 never closes (or R3 is open): the car never goes from B to C."""

from __future__ import annotations

from dataclasses import replace

from diagtree.physics.defects.defect import Defect
from diagtree.physics.defects.pilot_loop import PilotLoop


def _change(loop: PilotLoop, _: float) -> PilotLoop:
    return replace(loop, switch="open")


DEFECT = Defect(
    id="switch-open",
    name="switch S2 never closes (or R3 open)",
    change=_change,
    span=None,
    remedy="Does the car want to charge at all? Then S2 and R3 sit in its charging controller.",
)
