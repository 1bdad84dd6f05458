"""The converter that supplies the 12 V system from high voltage."""

from __future__ import annotations

from diagtree.physics.part import Mode, Part

PART = Part(
    id="dc-converter",
    meaning="DC-DC converter that supplies the 12 V system",
    names=("dc_converter",),
    modes=(
        Mode("dead", "gives no current"),
        Mode("level", "holds another voltage", "V", 0.0, 20.0),
    ),
    number="level",
)
