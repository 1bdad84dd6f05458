"""The DC charge point."""

from __future__ import annotations

from diagtree.physics.part import Mode, Part

PART = Part(
    id="dc-station",
    meaning="the DC charge point",
    names=("dc_station",),
    modes=(
        Mode("dead", "gives no current"),
        Mode("limited", "gives at most so much power", "kW", 0.0, 1000.0, usual=(20.0, 100.0)),
    ),
    number="limited",
)
