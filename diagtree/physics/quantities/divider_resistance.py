"""Resistance of a sensor from the voltage at its pull-up resistor."""

from __future__ import annotations

import math

from diagtree.errors import OutOfRange
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked, plain

VOLTAGE = Input("voltage", "V", "voltage of the sensor against ground", 0.0, 60.0)
PULL_UP = Input("pull_up", "ohm", "resistor to the supply", 1.0, 1e7, 10000.0)
SUPPLY = Input("supply", "V", "supply of the divider", 0.1, 60.0, 5.0)
VALUE = Input("value", "ohm", "resistance of a sensor, from the voltage at its pull-up resistor", 0.0, math.inf)


@checked(VOLTAGE, PULL_UP, SUPPLY)
def divider_resistance(voltage: float, pull_up: float = 10000.0, supply: float = 5.0) -> float:
    """Return the resistance of a sensor, from the voltage at its pull-up resistor. [ohm]

    voltage : voltage of the sensor against ground, 0 to 60. [V]
    pull_up : resistor to the supply, 1 to 1e7. [ohm]
    supply : supply of the divider, 0.1 to 60. [V]

    Raises OutOfRange outside these ranges and above the supply.
    Source: voltage divider.
    """
    if voltage > supply:
        raise OutOfRange(f"`voltage` = {plain(voltage)} V is above the supply: type 0 to {plain(supply)} V")
    return math.inf if voltage == supply else pull_up * voltage / (supply - voltage)


@checked(VALUE, PULL_UP, SUPPLY)
def voltage_of_divider_resistance(value: float, pull_up: float = 10000.0, supply: float = 5.0) -> float:
    """Return the voltage of the resistance `value` [ohm]. [V]"""
    return supply if math.isinf(value) else supply * value / (value + pull_up)


QUANTITY = Quantity(
    id="divider-resistance",
    meaning="resistance of a sensor, from the voltage at its pull-up resistor",
    unit="ohm",
    inputs=(VOLTAGE, PULL_UP, SUPPLY),
    compute=divider_resistance,
    inverses={"voltage": voltage_of_divider_resistance},
    formula="R = Rup V / (U - V)",
    source="voltage divider",
    worked=(
        Worked({"voltage": 2.5}, 10000.0, 0.001, "computed: half the supply"),
        Worked({"voltage": 5.0}, math.inf, 0.0, "open circuit"),
    ),
)
