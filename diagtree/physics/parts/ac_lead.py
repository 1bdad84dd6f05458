"""The AC wires between the charge inlet and the on-board charger."""

from __future__ import annotations

from diagtree.physics.part import Mode, Part

PART = Part(
    id="ac-lead",
    meaning="AC wires between the charge inlet and the on-board charger, pins included",
    names=("inlet.ac_lead",),
    modes=(
        Mode("l1-open", "first phase broken, or its pin pushed back"),
        Mode("l2-open", "second phase broken"),
        Mode("l3-open", "third phase broken"),
        Mode("n-open", "neutral broken"),
        Mode("earth-open", "earth wire broken"),
        Mode("leakage", "insulation of the wires to earth", "ohm", 0.0, 1e9, usual=(5e3, 350e3)),
    ),
    number="leakage",
)
