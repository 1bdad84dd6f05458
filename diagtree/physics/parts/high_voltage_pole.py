"""One pole of the high-voltage system, and its insulation to chassis."""

from __future__ import annotations

from diagtree.physics.part import Mode, Part

PART = Part(
    id="high-voltage-pole",
    meaning="insulation of one pole of the high-voltage system to chassis",
    names=("DC+", "DC-"),
    modes=(Mode("leakage", "insulation to chassis", "ohm", 0.0, 1e9, usual=(5e3, 200e3)),),
    number="leakage",
)
