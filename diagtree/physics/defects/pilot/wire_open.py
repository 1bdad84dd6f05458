"""The pilot's wire, or the earth beside it, is broken between station and car: the station sees no car."""

from __future__ import annotations

from dataclasses import replace

from diagtree.physics.defects.defect import Defect
from diagtree.physics.defects.pilot_loop import PilotLoop


def _change(loop: PilotLoop, _: float) -> PilotLoop:
    return replace(loop, broken=True)


DEFECT = Defect(
    id="wire-open",
    name="pilot or its earth broken between station and car",
    change=_change,
    span=None,
    remedy="Look at the plug's pilot pin, the cable and the inlet's pilot wire.",
)
