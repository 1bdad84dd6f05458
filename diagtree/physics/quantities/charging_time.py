"""Time to bring an energy into the battery."""

from __future__ import annotations

import math

from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

ENERGY = Input("energy", "Wh", "energy into the battery", 0.0, 1e6)
POWER = Input("power", "W", "power taken at the plug", 0.001, 1e6)
EFFICIENCY = Input("efficiency", "", "share that reaches the battery", 0.01, 1.0, 1.0)
VALUE = Input("value", "h", "time to bring an energy into the battery", 0.0, 1e12)


@checked(ENERGY, POWER, EFFICIENCY)
def charging_time(energy: float, power: float, efficiency: float = 1.0) -> float:
    """Return the time to bring an energy into the battery. [h]

    energy : energy into the battery, 0 to 1e6. [Wh]
    power : power taken at the plug, 0.001 to 1e6. [W]
    efficiency : share that reaches the battery, 0.01 to 1. [-]

    Raises OutOfRange outside these ranges.
    Source: definition of power and efficiency.
    """
    return energy / (power * efficiency)


@checked(VALUE, POWER, EFFICIENCY)
def energy_of_charging_time(value: float, power: float, efficiency: float = 1.0) -> float:
    """Return the energy into the battery after `value` [h]. [Wh]"""
    return value * power * efficiency


@checked(VALUE, ENERGY, EFFICIENCY)
def power_of_charging_time(value: float, energy: float, efficiency: float = 1.0) -> float:
    """Return the power that takes `value` [h]. [W]"""
    return energy / (value * efficiency) if value > 0.0 else math.inf


QUANTITY = Quantity(
    id="charging-time",
    meaning="time to bring an energy into the battery",
    unit="h",
    inputs=(ENERGY, POWER, EFFICIENCY),
    compute=charging_time,
    inverses={"energy": energy_of_charging_time, "power": power_of_charging_time},
    formula="t = E / (P eta)",
    source="definition of power and efficiency",
    worked=(
        Worked({"energy": 30000.0, "power": 7360.0, "efficiency": 0.9}, 4.529, 0.01, "computed"),
        Worked({"energy": 30000.0, "power": 3680.0, "efficiency": 0.88}, 9.264, 0.01, "computed"),
    ),
)
