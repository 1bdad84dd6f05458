"""The high-voltage fuse of the on-board charger."""

from __future__ import annotations

from diagtree.physics.part import Mode, Part

PART = Part(
    id="charger-fuse",
    meaning="high-voltage fuse of the on-board charger",
    names=("charger.fuse",),
    modes=(Mode("open", "blown"),),
)
