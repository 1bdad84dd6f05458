"""Nothing is wrong: all parts within their tolerances."""

from __future__ import annotations

from diagtree.physics.defects.defect import Defect
from diagtree.physics.defects.proximity_loop import ProximityLoop


def _change(loop: ProximityLoop, _: float) -> ProximityLoop:
    return loop


DEFECT = Defect(
    id="none",
    name="no defect",
    change=_change,
    span=None,
    remedy="No single defect is needed to explain these readings.",
)
