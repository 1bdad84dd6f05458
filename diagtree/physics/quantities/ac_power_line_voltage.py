"""Power of a three-phase AC charge from the voltage between phases."""

from __future__ import annotations

import math

from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

VOLTAGE = Input("voltage", "V", "voltage between two phases", 0.0, 1000.0)
CURRENT = Input("current", "A", "current per phase", 0.0, 1000.0)
POWER_FACTOR = Input("power_factor", "", "power factor; chargers come close to 1 (from memory)", 0.01, 1.0, 1.0)
VALUE = Input("value", "W", "power taken from three phases", 0.0, 3e6)


@checked(VOLTAGE, CURRENT, POWER_FACTOR)
def ac_power_line_voltage(voltage: float, current: float, power_factor: float = 1.0) -> float:
    """Return the power taken from three phases. [W]

    voltage : voltage between two phases, 0 to 1000. [V]
    current : current per phase, 0 to 1000. [A]
    power_factor : power factor; chargers come close to 1 (from memory), 0.01 to 1. [-]

    Raises OutOfRange outside these ranges.
    Source: power of a balanced load.
    """
    return math.sqrt(3.0) * voltage * current * power_factor


@checked(VALUE, VOLTAGE, POWER_FACTOR)
def current_of_ac_power_line_voltage(value: float, voltage: float, power_factor: float = 1.0) -> float:
    """Return the current per phase that takes the power `value` [W]. [A]"""
    divisor = math.sqrt(3.0) * voltage * power_factor
    return value / divisor if divisor > 0.0 else math.inf


QUANTITY = Quantity(
    id="ac-power-line-voltage",
    meaning="power taken from three phases",
    unit="W",
    inputs=(VOLTAGE, CURRENT, POWER_FACTOR),
    compute=ac_power_line_voltage,
    inverses={"current": current_of_ac_power_line_voltage},
    formula="P = sqrt(3) U I cos(phi)",
    source="power of a balanced load",
    worked=(Worked({"voltage": 400.0, "current": 16.0}, 11085.0, 5.0, "computed"),),
    hazard="high-voltage",
)
