"""The on-board charger."""

from __future__ import annotations

from diagtree.physics.part import Mode, Part

PART = Part(
    id="charger",
    meaning="on-board charger",
    names=("charger",),
    modes=(
        Mode("dead", "takes no current"),
        Mode("module-out", "one phase's module does not work"),
        Mode("limited", "takes so much a phase", "A", 0.0, 80.0),
        Mode("leakage", "its insulation from the mains side to earth", "ohm", 0.0, 1e9, usual=(2e3, 100e3)),
        Mode("dc-leakage", "smooth residual current that it draws", "A", 0.0, 1.0, usual=(0.003, 0.03)),
    ),
)
