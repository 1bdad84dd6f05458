"""Power of an AC charge."""

from __future__ import annotations

import math

from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

VOLTAGE = Input("voltage", "V", "voltage of one phase against neutral", 0.0, 1000.0)
CURRENT = Input("current", "A", "current per phase", 0.0, 1000.0)
PHASES = Input("phases", "", "phases that carry the current", 1.0, 3.0, 1.0, whole=True)
POWER_FACTOR = Input("power_factor", "", "power factor; chargers come close to 1 (from memory)", 0.01, 1.0, 1.0)
VALUE = Input("value", "W", "power taken from the supply", 0.0, 3e6)


@checked(VOLTAGE, CURRENT, PHASES, POWER_FACTOR)
def ac_power(voltage: float, current: float, phases: float = 1.0, power_factor: float = 1.0) -> float:
    """Return the power taken from the supply. [W]

    voltage : voltage of one phase against neutral, 0 to 1000. [V]
    current : current per phase, 0 to 1000. [A]
    phases : phases that carry the current, 1 to 3. [-]
    power_factor : power factor; chargers come close to 1 (from memory), 0.01 to 1. [-]

    Raises OutOfRange outside these ranges.
    Source: power of a balanced load.
    """
    return phases * voltage * current * power_factor


@checked(VALUE, VOLTAGE, PHASES, POWER_FACTOR)
def current_of_ac_power(value: float, voltage: float, phases: float = 1.0, power_factor: float = 1.0) -> float:
    """Return the current per phase that takes the power `value` [W]. [A]"""
    return value / (phases * voltage * power_factor) if voltage > 0.0 else math.inf


QUANTITY = Quantity(
    id="ac-power",
    meaning="power taken from the supply",
    unit="W",
    inputs=(VOLTAGE, CURRENT, PHASES, POWER_FACTOR),
    compute=ac_power,
    inverses={"current": current_of_ac_power},
    formula="P = n U I cos(phi)",
    source="power of a balanced load",
    worked=(
        Worked({"voltage": 230.0, "current": 32.0}, 7360.0, 5.0, "7.4 kW printed as a station's rating for 1 x 32 A"),
        Worked(
            {"voltage": 230.0, "current": 16.0, "phases": 3.0},
            11040.0,
            5.0,
            "11 kW printed as a station's rating for 3 x 16 A",
        ),
        Worked({"voltage": 240.0, "current": 80.0}, 19200.0, 5.0, "computed"),
    ),
    hazard="high-voltage",
)
