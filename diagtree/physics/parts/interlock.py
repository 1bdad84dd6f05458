"""The interlock loop of the high-voltage connectors."""

from __future__ import annotations

from diagtree.physics.part import Mode, Part

PART = Part(
    id="interlock",
    meaning="interlock loop of the high-voltage connectors",
    names=("interlock",),
    modes=(
        Mode("open", "a connector is not home, or a wire is broken"),
        Mode("series", "resistance in the loop", "ohm", 0.0, 1e7, usual=(50.0, 5e3)),
    ),
)
