"""The owner's AC charge point."""

from __future__ import annotations

from diagtree.physics.part import Mode, Part

PART = Part(
    id="charge-point",
    meaning="the owner's AC charge point",
    names=("charge_point",),
    modes=(
        Mode("dead", "gives neither pilot nor mains"),
        Mode("no-pilot", "gives no pilot"),
        Mode("steady-pilot", "the pilot stands still at its positive level: no offer"),
        Mode("contactor-open", "offers, but does not switch the mains on"),
        Mode("offers", "offers so much a phase; below 6 A the car waits", "A", 0.0, 80.0),
        Mode("held-back", "held back by a manager, a limit or a lock: no offer"),
    ),
    number="offers",
)
