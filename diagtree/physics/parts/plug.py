"""The plug for the car: its proximity resistor, and the release button of type 1."""

from __future__ import annotations

from diagtree.physics.part import Mode, Part

PART = Part(
    id="plug",
    meaning="proximity resistor in the plug for the car",
    names=("plug",),
    modes=(
        Mode("open", "resistor or its wire broken"),
        Mode("shorted", "resistor shorted"),
        Mode("coded", "another resistance than the cable has", "ohm", 0.0, 1e6),
        Mode("button-stuck", "the release button of a type 1 plug stays pressed"),
    ),
    number="coded",
)
