"""What the feedback of a connector lock says, from its resistance."""

from __future__ import annotations

import math

from diagtree.physics.quantity import Input
from diagtree.physics.ranges import checked
from diagtree.physics.verdict import Spelled, Verdict

RESISTANCE = Input("resistance", "ohm", "resistance between the feedback pins", 0.0, math.inf)
KIND = Input("kind", "word", "kind of feedback", words=("two-resistors", "normally-open", "normally-closed"))

DOCUMENTS = "documentation of a vehicle charge controller; data of a CCS2 inlet family (2020)"
SWITCH_CLOSED = 100.0
"""Below this a switch counts as closed. [ohm]"""
UNLOCKED, LOCKED = 1000.0, 11000.0
"""Feedback by two resistors of 1 and 10 kohm. [ohm]"""
WIDTH = 0.2
"""Our assumption of how far a resistance may stray from its nominal. [-]"""


@checked(RESISTANCE, KIND)
def lock_feedback(resistance: float, kind: str) -> str:
    """Return what the lock's feedback says: locked, unlocked or faulty.

    resistance : between the feedback pins, 0 to infinity. [ohm]
    kind : two-resistors (1 kohm unlocked, 11 kohm locked), normally-open or normally-closed switch.

    Raises OutOfRange outside these ranges.
    Source: documentation of a vehicle charge controller and of a station controller; the width of 20 % is ours.
    """
    if kind == "two-resistors":
        if abs(resistance - LOCKED) <= WIDTH * LOCKED:
            return "locked"
        return "unlocked" if abs(resistance - UNLOCKED) <= WIDTH * UNLOCKED else "fault: neither locked nor unlocked"
    closed = resistance < SWITCH_CLOSED
    return "locked" if closed == (kind == "normally-open") else "unlocked"


VERDICT = Verdict(
    id="lock-feedback",
    meaning="what the feedback of a connector lock says",
    inputs=(RESISTANCE, KIND),
    compute=lock_feedback,
    rule="1 kohm unlocked, 11 kohm locked; a normally open switch closes when locked, a normally closed one opens",
    source=DOCUMENTS,
    worked=(
        Spelled({"resistance": 11000.0, "kind": "two-resistors"}, "locked", DOCUMENTS),
        Spelled({"resistance": 1000.0, "kind": "two-resistors"}, "unlocked", DOCUMENTS),
        Spelled({"resistance": math.inf, "kind": "two-resistors"}, "fault: neither locked nor unlocked", DOCUMENTS),
        Spelled({"resistance": 0.5, "kind": "normally-open"}, "locked", DOCUMENTS),
        Spelled({"resistance": 0.5, "kind": "normally-closed"}, "unlocked", "documentation of a station controller"),
    ),
    hazard="live",
)
