"""The traction battery."""

from __future__ import annotations

from diagtree.physics.part import Mode, Part

PART = Part(
    id="battery",
    meaning="traction battery and its contactors",
    names=("battery",),
    modes=(
        Mode("contactor-open", "a main contactor does not close"),
        Mode("cell-low", "one cell group is lower than the others by so much", "V", 0.0, 4.0, usual=(0.03, 0.5)),
        Mode("limited", "takes at most so much power", "kW", 0.0, 1000.0, usual=(5.0, 60.0)),
        Mode("sensor-reads-low", "its temperature is read too low by so much", "K", 0.0, 80.0, usual=(10.0, 40.0)),
    ),
)
