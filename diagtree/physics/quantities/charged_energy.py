"""Energy that reaches the battery in a time."""

from __future__ import annotations

from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

POWER = Input("power", "W", "power taken at the plug", 0.001, 1e6)
TIME = Input("time", "h", "time of charging", 0.0, 10000.0)
EFFICIENCY = Input("efficiency", "", "share that reaches the battery", 0.01, 1.0, 1.0)
VALUE = Input("value", "Wh", "energy that reaches the battery", 0.0, 1e12)


@checked(POWER, TIME, EFFICIENCY)
def charged_energy(power: float, time: float, efficiency: float = 1.0) -> float:
    """Return the energy that reaches the battery. [Wh]

    power : power taken at the plug, 0.001 to 1e6. [W]
    time : time of charging, 0 to 10000. [h]
    efficiency : share that reaches the battery, 0.01 to 1. [-]

    Raises OutOfRange outside these ranges.
    Source: definition of power and efficiency.
    """
    return power * time * efficiency


@checked(VALUE, POWER, EFFICIENCY)
def time_of_charged_energy(value: float, power: float, efficiency: float = 1.0) -> float:
    """Return the time that brings `value` [Wh] into the battery. [h]"""
    return value / (power * efficiency)


QUANTITY = Quantity(
    id="charged-energy",
    meaning="energy that reaches the battery",
    unit="Wh",
    inputs=(POWER, TIME, EFFICIENCY),
    compute=charged_energy,
    inverses={"time": time_of_charged_energy},
    formula="E = P eta t",
    source="definition of power and efficiency",
    worked=(Worked({"power": 7360.0, "time": 4.529, "efficiency": 0.9}, 30000.0, 5.0, "computed"),),
)
