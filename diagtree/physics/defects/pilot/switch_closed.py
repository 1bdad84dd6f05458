"""Switch S2 is always closed: the car goes from A to C at once, and never shows B."""

from __future__ import annotations

from dataclasses import replace

from diagtree.physics.defects.defect import Defect
from diagtree.physics.defects.pilot_loop import PilotLoop


def _change(loop: PilotLoop, _: float) -> PilotLoop:
    return replace(loop, switch="closed")


DEFECT = Defect(
    id="switch-closed",
    name="switch S2 stuck closed",
    change=_change,
    span=None,
    remedy="S2 sits in the car's charging controller; a simplified pilot circuit reads the same.",
)
