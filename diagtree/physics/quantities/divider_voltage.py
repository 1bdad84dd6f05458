"""Voltage of a sensor at a pull-up resistor."""

from __future__ import annotations

import math

from diagtree.errors import OutOfRange
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked, plain

SENSOR = Input("sensor", "ohm", "resistance to ground", 0.0, math.inf)
PULL_UP = Input("pull_up", "ohm", "resistor to the supply", 1.0, 1e7, 10000.0)
SUPPLY = Input("supply", "V", "supply of the divider", 0.1, 60.0, 5.0)
VALUE = Input("value", "V", "voltage of a sensor at its pull-up resistor", 0.0, 60.0)


@checked(SENSOR, PULL_UP, SUPPLY)
def divider_voltage(sensor: float, pull_up: float = 10000.0, supply: float = 5.0) -> float:
    """Return the voltage of a sensor at its pull-up resistor. [V]

    sensor : resistance to ground, 0 to infinity. [ohm]
    pull_up : resistor to the supply, 1 to 1e7. [ohm]
    supply : supply of the divider, 0.1 to 60. [V]

    Raises OutOfRange outside these ranges.
    Source: voltage divider.
    """
    return supply if math.isinf(sensor) else supply * sensor / (sensor + pull_up)


@checked(VALUE, PULL_UP, SUPPLY)
def sensor_of_divider_voltage(value: float, pull_up: float = 10000.0, supply: float = 5.0) -> float:
    """Return the resistance to ground from the voltage `value` [V]. [ohm]"""
    if value > supply:
        raise OutOfRange(f"`value` = {plain(value)} V is above the supply: type 0 to {plain(supply)} V")
    return math.inf if value == supply else pull_up * value / (supply - value)


QUANTITY = Quantity(
    id="divider-voltage",
    meaning="voltage of a sensor at its pull-up resistor",
    unit="V",
    inputs=(SENSOR, PULL_UP, SUPPLY),
    compute=divider_voltage,
    inverses={"sensor": sensor_of_divider_voltage},
    formula="V = U R / (R + Rup)",
    source="voltage divider",
    worked=(
        Worked({"sensor": 1451.0}, 0.634, 0.002, "computed; table B57330V2103 at 85 degC"),
        Worked({"sensor": 1000.0}, 0.455, 0.005, "computed; lock feedback of 1 kohm"),
        Worked({"sensor": 11000.0}, 2.619, 0.005, "computed; lock feedback of 11 kohm"),
    ),
)
