"""A low-voltage connector with the signal wires of one part."""

from __future__ import annotations

from diagtree.physics.part import Mode, Part

PART = Part(
    id="low-voltage-connector",
    meaning="low-voltage connector, wet or corroded",
    names=("inlet.connector", "charger.connector"),
    modes=(
        Mode("corroded", "resistance in series with every signal", "ohm", 0.0, 1e9, usual=(30.0, 1e6)),
        Mode("leakage", "water between its pins: resistance beside every signal", "ohm", 0.0, 1e9, usual=(1e3, 1e6)),
        Mode("open", "no contact"),
    ),
)
