"""Where physics and the figures of cars that charge at some points only differ, and why."""

from __future__ import annotations

from collections.abc import Mapping

from tests.car.differences import SURE, Explained, both

EXPLAINED: Mapping[tuple[str, str], Explained] = {
    ("pilot-contact-poor", "pilot-level-charging"): both(
        "a green contact is another at each plugging; the simulated one keeps its resistance", SURE["high"]
    ),
    ("pilot-circuit-drifted", "pilot-level-charging"): both(
        "a drifted resistor moves the level; the simulated car has a shorted diode, which does not", SURE["fits"]
    ),
    ("cable-coding-drifted", "cable-coding"): both(
        "many resistors are out only for points that are strict, or only when the cable is bent; simulated is 5 kohm",
        SURE["open"],
    ),
}
