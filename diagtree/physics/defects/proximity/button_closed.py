"""The latch button's switch never opens: pressing the button changes nothing."""

from __future__ import annotations

from dataclasses import replace

from diagtree.physics.defects.defect import Defect
from diagtree.physics.defects.proximity_loop import ProximityLoop


def _change(loop: ProximityLoop, _: float) -> ProximityLoop:
    return loop if loop.button is None else replace(loop, switch="closed")


DEFECT = Defect(
    id="button-closed",
    name="latch button without effect, its switch stuck closed",
    change=_change,
    span=None,
    remedy="Press the button with the plug measured by itself; try another cable.",
)
