"""Duty cycle by which a charge point offers a current."""

from __future__ import annotations

from diagtree.errors import OutOfRange
from diagtree.physics.pilot_duty_rule import current_of_duty, duty_of_current
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

CURRENT = Input("current", "A", "current per phase", 6.0, 80.0)
DUTY = Input("value", "percent", "share of the pilot's period spent high", 0.0, 100.0)


@checked(CURRENT)
def pilot_duty(current: float) -> float:
    """Return the duty cycle of the pilot by which the charge point offers a current. [percent]

    current : per phase, 6 to 51 and 52.5 to 80. [A]

    Raises OutOfRange outside, and between 51 and 52.5 A, which no duty cycle says exactly.
    Source: IEC 61851-1 Annex A, as given by open station firmware.
    """
    return duty_of_current(current)


@checked(DUTY)
def current_of_duty_checked(value: float) -> float:
    """Return the current that the duty cycle `value` [percent] offers. [A] Raises OutOfRange where it is none."""
    if not 10.0 <= value <= 96.0:
        raise OutOfRange(f"`value` = {value:.10g} percent is not the duty cycle of one current: type 10 to 96 percent")
    return current_of_duty(value)


QUANTITY = Quantity(
    id="pilot-duty",
    meaning="duty cycle of the pilot by which a charge point offers a current",
    unit="percent",
    inputs=(CURRENT,),
    compute=pilot_duty,
    inverses={"current": current_of_duty_checked},
    formula="d = I / 0.6 A up to 51 A; d = I / 2.5 A + 64 above",
    source="IEC 61851-1 Annex A; open firmware evse-v2-bricklet, iec61851.c",
    worked=(
        Worked({"current": 6.0}, 10.0, 0.01, "computed from the looked-up rule"),
        Worked({"current": 16.0}, 26.667, 0.01, "computed from the looked-up rule"),
        Worked({"current": 32.0}, 53.333, 0.01, "computed from the looked-up rule"),
        Worked({"current": 63.0}, 89.2, 0.01, "computed from the looked-up rule"),
        Worked({"current": 80.0}, 96.0, 0.01, "computed from the looked-up rule"),
    ),
    hazard="live",
)
