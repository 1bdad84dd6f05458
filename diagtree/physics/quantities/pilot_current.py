"""Current that the charge point offers by the duty cycle of its pilot."""

from __future__ import annotations

from diagtree.physics.pilot_duty_rule import current_of_duty, duty_of_current
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

DUTY = Input("duty", "percent", "share of the pilot's period spent high", 0.0, 100.0)
CURRENT = Input("value", "A", "current per phase", 6.0, 80.0)


@checked(DUTY)
def pilot_current(duty: float) -> float:
    """Return the current per phase that the charge point offers. [A]

    duty : share of the 1 kHz pilot's period spent high, 8 to 97. [percent]

    Raises OutOfRange outside that range: 3 to 7 percent asks for digital communication, anything else below 8 or
    above 97 percent does not allow charging.
    Source: IEC 61851-1 Annex A, as given by open vehicle-side firmware that quotes it.
    """
    return current_of_duty(duty)


@checked(CURRENT)
def duty_for_current(value: float) -> float:
    """Return the duty cycle by which the station offers `value` [A]. [percent]

    Raises OutOfRange between 51 and 52.5 A, which no duty cycle says exactly.
    """
    return duty_of_current(value)


QUANTITY = Quantity(
    id="pilot-current",
    meaning="current per phase that the charge point offers",
    unit="A",
    inputs=(DUTY,),
    compute=pilot_current,
    inverses={"duty": duty_for_current},
    formula="I = 0.6 A * d for d = 10 to 85; I = 2.5 A * (d - 64) up to 96; 6 A from 8, 80 A up to 97 percent",
    source="IEC 61851-1 Annex A; open firmware dsPIC33EP_IEC61851_J1772_ChargePort_EVSE, inputcapture.c",
    worked=(
        Worked({"duty": 8.0}, 6.0, 0.05, "printed in that firmware"),
        Worked({"duty": 16.0}, 9.6, 0.05, "computed from the looked-up rule"),
        Worked({"duty": 50.0}, 30.0, 0.05, "computed from the looked-up rule"),
        Worked({"duty": 85.0}, 51.0, 0.05, "computed from the looked-up rule"),
        Worked({"duty": 90.0}, 65.0, 0.05, "computed from the looked-up rule"),
        Worked({"duty": 96.5}, 80.0, 0.05, "printed in that firmware"),
    ),
    hazard="live",
)
