"""What a duty cycle of the control pilot tells the car."""

from __future__ import annotations

from diagtree.physics.pilot_duty_rule import allows_charging, current_of_duty, is_digital
from diagtree.physics.pilot_inputs import DUTY
from diagtree.physics.ranges import checked
from diagtree.physics.verdict import Spelled, Verdict

FIRMWARE = "open firmware dsPIC33EP_IEC61851_J1772_ChargePort_EVSE, inputcapture.c"


@checked(DUTY)
def pilot_duty_meaning(duty: float) -> str:
    """Return what a duty cycle means: a current, digital communication, or no charging.

    duty : share of the period spent high, 0 to 100. [percent]

    Raises OutOfRange outside.
    Source: IEC 61851-1 Annex A, by open vehicle-side firmware that quotes it.
    """
    if is_digital(duty):
        return "digital communication required"
    return f"{current_of_duty(duty):.4g} A" if allows_charging(duty) else "charging not allowed"


VERDICT = Verdict(
    id="pilot-duty-meaning",
    meaning="what a duty cycle of the control pilot tells the car",
    inputs=(DUTY,),
    compute=pilot_duty_meaning,
    rule="3 to 7 % digital communication; 8 to 97 % a current; all else: charging not allowed",
    source=f"IEC 61851-1 Annex A; {FIRMWARE}",
    worked=(
        Spelled({"duty": 5.0}, "digital communication required", FIRMWARE),
        Spelled({"duty": 7.5}, "charging not allowed", FIRMWARE),
        Spelled({"duty": 26.6667}, "16 A", FIRMWARE),
        Spelled({"duty": 100.0}, "charging not allowed", "steady level: state X1"),
    ),
    hazard="live",
)
