"""Nothing is wrong: all parts within their tolerances."""

from __future__ import annotations

from diagtree.physics.defects.defect import Defect
from diagtree.physics.defects.pilot_loop import PilotLoop


def _change(loop: PilotLoop, _: float) -> PilotLoop:
    return loop


DEFECT = Defect(
    id="none",
    name="no defect",
    change=_change,
    span=None,
    remedy="No single defect is needed to explain these readings.",
)
