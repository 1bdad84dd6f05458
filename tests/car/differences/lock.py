"""Where physics and the figures of plugs that are not seen, not locked or not let go differ, and why."""

from __future__ import annotations

from collections.abc import Mapping

from tests.car.differences import SURE, Explained, both

FEEDBACK = "the feedback that is simulated is open; others are shorted, stuck in one position, or open now and then"
PLUG = "the plug that is simulated has lost its resistor; others have a shorted one, or a switch that closes again"
RECOVERS = "some recover at rest or fail under load only; the simulated battery stays flat"
TURNS = "a weak battery leaves the lock half-way; the simulated lock turns at any voltage"

EXPLAINED: Mapping[tuple[str, str], Explained] = {
    ("lock-motor-worn", "lock-motor-resistance"): both(
        "the lock that is simulated is worn or jammed in its gear; the figures hold burnt and broken windings too",
        SURE["right"],
    ),
    ("lock-feedback-wrong", "lock-feedback-locked"): both(FEEDBACK, SURE["open-circuit"]),
    ("lock-feedback-wrong", "lock-feedback-resistance"): both(FEEDBACK, SURE["open-circuit"]),
    ("lock-feedback-lies", "lock-feedback-unlocked"): both(FEEDBACK, SURE["open-circuit"]),
    ("plug-coding-fault", "proximity-readout"): both(PLUG, SURE["nothing-seen"]),
    ("plug-coding-fault", "plug-resistor"): both(PLUG, SURE["too-high"]),
    ("lock-lacks-volts", "low-voltage-battery-volts"): both(RECOVERS, SURE["flat"]),
    ("lock-lacks-volts", "lock-feedback-locked"): both(TURNS, SURE["locked"]),
    ("unlock-lacks-volts", "low-voltage-battery-volts"): both(RECOVERS, SURE["flat"]),
    ("unlock-lacks-volts", "lock-feedback-unlocked"): both(TURNS, SURE["free"]),
}
