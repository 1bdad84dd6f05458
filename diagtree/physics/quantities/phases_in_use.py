"""Number of phases that carry current, from the power a station shows."""

from __future__ import annotations

from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

POWER = Input("power", "W", "power that the station or the car shows", 0.0, 1e6)
VOLTAGE = Input("voltage", "V", "voltage of one phase against neutral", 1.0, 1000.0)
CURRENT = Input("current", "A", "current per phase", 0.1, 1000.0)
VALUE = Input("value", "", "number of phases that carry the current", 0.0, 1e7)


@checked(POWER, VOLTAGE, CURRENT)
def phases_in_use(power: float, voltage: float, current: float) -> float:
    """Return the number of phases that carry the current. [-]

    power : power that the station or the car shows, 0 to 1e6. [W]
    voltage : voltage of one phase against neutral, 1 to 1000. [V]
    current : current per phase, 0.1 to 1000. [A]

    Raises OutOfRange outside these ranges.
    Source: power of single-phase loads side by side.
    """
    return power / (voltage * current)


@checked(VALUE, VOLTAGE, CURRENT)
def power_of_phases_in_use(value: float, voltage: float, current: float) -> float:
    """Return the power that `value` phases take. [W]"""
    return value * voltage * current


QUANTITY = Quantity(
    id="phases-in-use",
    meaning="number of phases that carry the current",
    unit="",
    inputs=(POWER, VOLTAGE, CURRENT),
    compute=phases_in_use,
    inverses={"power": power_of_phases_in_use},
    formula="n = P / (U I)",
    source="power of single-phase loads side by side",
    worked=(
        Worked({"power": 3680.0, "voltage": 230.0, "current": 16.0}, 1.0, 0.001, "computed: one phase of three left"),
        Worked({"power": 11040.0, "voltage": 230.0, "current": 16.0}, 3.0, 0.001, "computed"),
    ),
    hazard="high-voltage",
)
