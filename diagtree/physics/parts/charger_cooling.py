"""The coolant circuit of the on-board charger."""

from __future__ import annotations

from diagtree.physics.part import Mode, Part

PART = Part(
    id="charger-cooling",
    meaning="coolant circuit of the on-board charger",
    names=("charger.cooling",),
    modes=(
        Mode("stopped", "no flow: pump still, or air"),
        Mode("weak", "flow as a share of what it should be", "percent", 1.0, 100.0, usual=(10.0, 60.0)),
    ),
    number="weak",
)
