"""What the feedback of a connector lock says, from its voltage at the controller."""

from __future__ import annotations

from diagtree.physics.data import LOCK_LOCKED_VOLTAGE, LOCK_UNLOCKED_VOLTAGE
from diagtree.physics.quantity import Input
from diagtree.physics.ranges import checked
from diagtree.physics.verdict import Spelled, Verdict

VOLTAGE = Input("voltage", "V", "voltage at the controller's feedback pin", 0.0, 30.0)
MANUAL = "user manual of a vehicle charge controller (2021), p. 173"


@checked(VOLTAGE)
def lock_voltage(voltage: float) -> str:
    """Return what the lock's feedback says: locked, unlocked or faulty.

    voltage : at the controller's feedback pin, 0 to 30. [V]

    Raises OutOfRange outside.
    Source: user manual of one vehicle charge controller (2021), p. 173; another controller's levels differ.
    """
    if LOCK_LOCKED_VOLTAGE.holds(voltage):
        return "locked"
    return "unlocked" if LOCK_UNLOCKED_VOLTAGE.holds(voltage) else "fault: neither locked nor unlocked"


VERDICT = Verdict(
    id="lock-voltage",
    meaning="what the feedback of a connector lock says, from its voltage",
    inputs=(VOLTAGE,),
    compute=lock_voltage,
    rule="0.48 to 0.68 V unlocked, 2.51 to 3.21 V locked, anything else a fault (one controller)",
    source=MANUAL,
    worked=(
        Spelled({"voltage": 0.6}, "unlocked", MANUAL),
        Spelled({"voltage": 2.8}, "locked", MANUAL),
        Spelled({"voltage": 5.0}, "fault: neither locked nor unlocked", MANUAL),
    ),
    hazard="live",
)
