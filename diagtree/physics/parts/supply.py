"""The mains at the owner's charge point."""

from __future__ import annotations

from diagtree.physics.part import Mode, Part

PART = Part(
    id="supply",
    meaning="mains supply of the owner's charge point",
    names=("supply",),
    modes=(
        # The span is fitted to what the catalogue states of weak supplies (estimate).
        Mode("weak", "drop under the car's full current, on every phase", "V", 0.0, 400.0, usual=(15.0, 60.0)),
        Mode("loop", "resistance of line and neutral together", "ohm", 0.0, 100.0),
        Mode("level", "voltage without load", "V", 0.0, 500.0),
        Mode("l1-lost", "first phase missing"),
        Mode("l2-lost", "second phase missing"),
        Mode("l3-lost", "third phase missing"),
    ),
    number="level",
)
