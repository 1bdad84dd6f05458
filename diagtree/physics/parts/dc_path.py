"""The DC path from the inlet to the battery."""

from __future__ import annotations

from diagtree.physics.part import Mode, Part

PART = Part(
    id="dc-path",
    meaning="DC wires and contactors from the inlet to the battery",
    names=("inlet.dc_lead",),
    modes=(
        Mode("contactor-open", "a charging contactor does not close"),
        Mode("contactor-welded", "a charging contactor does not open"),
        Mode("open", "a wire or pin is broken"),
    ),
)
