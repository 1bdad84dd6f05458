"""What discharges the high-voltage link when the car is switched off."""

from __future__ import annotations

from diagtree.physics.part import Mode, Part

PART = Part(
    id="discharge-path",
    meaning="discharge of the high-voltage link",
    names=("dc_link",),
    modes=(
        Mode("active-open", "the quick discharge does not work; the passive resistor does"),
        Mode("passive-open", "neither discharges it"),
    ),
)
