"""The residual-current device at the owner's charge point."""

from __future__ import annotations

from diagtree.physics.part import Mode, Part

PART = Part(
    id="residual-current-device",
    meaning="residual-current device of 30 mA at the owner's charge point",
    names=("rcd",),
    modes=(
        Mode("trips-at", "trips at another current", "A", 0.0, 1.0, usual=(0.005, 0.014)),
        Mode("slow", "trips after so long at its rated current", "s", 0.0, 10.0, usual=(0.3, 1.0)),
        Mode("stuck", "does not trip"),
    ),
    number="trips-at",
)
