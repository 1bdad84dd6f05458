"""The latch button's switch never closes: the plug always looks as if its button were pressed."""

from __future__ import annotations

from dataclasses import replace

from diagtree.physics.defects.defect import Defect
from diagtree.physics.defects.proximity_loop import ProximityLoop


def _change(loop: ProximityLoop, _: float) -> ProximityLoop:
    return loop if loop.button is None else replace(loop, switch="open")


DEFECT = Defect(
    id="button-open",
    name="latch button stuck as if pressed",
    change=_change,
    span=None,
    remedy="Does the button spring back? Look for a broken lever; try another cable.",
)
