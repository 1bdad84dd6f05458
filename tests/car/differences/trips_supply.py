"""Where physics and the figures of supplies that trip differ, and why."""

from __future__ import annotations

from collections.abc import Mapping

from tests.car.differences import SURE, Explained, both

DRY = "some are dry again when they are measured; the simulated leak is there all the time"

EXPLAINED: Mapping[tuple[str, str], Explained] = {
    ("device-unfit", "device-trip-current"): both(
        "a device of the wrong type trips rightly at alternating current; the simulated one is too sensitive",
        SURE["early"],
    ),
    ("cable-leaks", "cable-insulation"): both(DRY, SURE["low"]),
    ("inlet-leaks", "inlet-insulation"): both(DRY, SURE["low"]),
    ("inlet-leaks", "residual-current-charging"): both(DRY, SURE["high"]),
    ("charger-leaks", "residual-current-charging"): both(
        "some leak only when they are warm or damp; the simulated leak is there all the time", SURE["high"]
    ),
}
