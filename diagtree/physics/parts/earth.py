"""The protective earth at the owner's charge point."""

from __future__ import annotations

from diagtree.physics.part import Mode, Part

PART = Part(
    id="earth",
    meaning="protective earth of the owner's charge point",
    names=("earth",),
    modes=(
        Mode("open", "no earth"),
        Mode("resistance", "resistance of the earth", "ohm", 0.0, 1e6, usual=(50.0, 2e3)),
    ),
    number="resistance",
)
