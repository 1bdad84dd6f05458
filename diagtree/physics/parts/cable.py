"""The owner's charging cable."""

from __future__ import annotations

from diagtree.physics.part import Mode, Part

PART = Part(
    id="cable",
    meaning="the owner's charging cable, end to end",
    names=("cable",),
    modes=(
        Mode("parted", "one of its wires is broken: the first phase"),
        Mode("neutral-parted", "neutral broken"),
        Mode("earth-parted", "earth broken"),
        Mode("pilot-parted", "pilot wire broken"),
        Mode("resistance", "resistance of the one bad wire", "ohm", 0.0, 1e6, usual=(0.02, 2.0)),
        Mode("leakage", "insulation of its wires to earth", "ohm", 0.0, 1e9, usual=(1e3, 1e6)),
    ),
    number="resistance",
)
