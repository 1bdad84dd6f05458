"""Duty cycle of the pilot and the current it offers, both ways.

Source: IEC 61851-1 Annex A, as given by open firmware of both sides (dsPIC33EP_IEC61851_J1772_ChargePort_EVSE,
inputcapture.c; evse-v2-bricklet, iec61851.c).
"""

from __future__ import annotations

from diagtree.errors import OutOfRange
from diagtree.physics.ranges import plain

ASK = "type 8 to 97 percent (10 to 96 percent are currents of 6 to 80 A)"


def is_digital(duty: float) -> bool:
    """Return whether a duty cycle [percent] asks for digital communication."""
    return 3.0 <= duty <= 7.0


def allows_charging(duty: float) -> bool:
    """Return whether a duty cycle [percent] offers a current."""
    return 8.0 <= duty <= 97.0


def current_of_duty(duty: float) -> float:
    """Return the current per phase that a duty cycle of 8 to 97 percent offers. [A]

    Raises OutOfRange elsewhere, telling digital communication from no charging.
    """
    if is_digital(duty):
        raise OutOfRange(f"`duty` = {plain(duty)} percent asks for digital communication and is no current: {ASK}")
    if not allows_charging(duty):
        raise OutOfRange(f"`duty` = {plain(duty)} percent does not allow charging: {ASK}")
    if duty < 10.0:
        return 6.0
    if duty <= 85.0:
        return 0.6 * duty
    return min(2.5 * (duty - 64.0), 80.0)


def duty_of_current(current: float) -> float:
    """Return the duty cycle by which the station offers 6 to 80 A. [percent]

    Raises OutOfRange between 51 and 52.5 A: the upper rule would give a duty cycle that the car reads by the lower.
    """
    if current <= 51.0:
        return current / 0.6
    if current < 52.5:
        raise OutOfRange(f"`current` = {plain(current)} A cannot be signalled: type 6 to 51 A or 52.5 to 80 A")
    return current / 2.5 + 64.0
