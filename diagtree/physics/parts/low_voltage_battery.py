"""The 12 V battery, its charger in the car, and what draws on it."""

from __future__ import annotations

from diagtree.physics.part import Mode, Part

PART = Part(
    id="low-voltage-battery",
    meaning="12 V battery",
    names=("12 V battery",),
    modes=(
        Mode("discharged", "charge that is left", "percent", 0.0, 100.0, usual=(10.0, 40.0)),
        Mode("drained", "current that the parked car draws", "A", 0.0, 100.0, usual=(0.1, 3.0)),
        Mode("weak", "drop while the car wakes up", "V", 0.0, 12.0, usual=(1.0, 5.0)),
    ),
)
