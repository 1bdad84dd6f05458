"""Where physics and the figures of cars that do not react differ, and why."""

from __future__ import annotations

from collections.abc import Mapping

from tests.car.differences import SURE, Explained, both

ASLEEP = "a control unit without supply sends no figure; the simulated car is awake at any voltage of its 12 V battery"
WIRE = "the pilot wire is parted in the simulated cable; in others it is the coding, or a contact that closes again"

EXPLAINED: Mapping[tuple[str, str], Explained] = {
    ("battery-too-flat-to-wake", "low-voltage-battery-volts"): both(
        "some recover at rest or fail under load only; the simulated one stays flat", SURE["flat"]
    ),
    ("battery-too-flat-to-wake", "pilot-readout"): both(ASLEEP, SURE["present"]),
    ("battery-too-flat-to-wake", "proximity-readout"): both(ASLEEP, SURE["plug-seen"]),
    ("cable-signal-wire-broken", "cable-coding"): both(WIRE, SURE["coded"]),
    ("cable-signal-wire-broken", "cable-continuity"): both(WIRE, SURE["parted"]),
}
