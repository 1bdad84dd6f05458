"""The lock of the charging plug at the inlet."""

from __future__ import annotations

from diagtree.physics.part import Mode, Part

PART = Part(
    id="lock",
    meaning="lock of the charging plug at the inlet",
    names=("lock",),
    modes=(
        Mode("stuck-unlocked", "does not lock"),
        Mode("stuck-locked", "does not unlock"),
        Mode("feedback-open", "feedback wire broken"),
        Mode("feedback-shorted", "feedback wires touch"),
        Mode("feedback-series", "resistance in the feedback", "ohm", 0.0, 1e7, usual=(100.0, 20e3)),
        Mode("motor-open", "motor or its wires open"),
    ),
)
