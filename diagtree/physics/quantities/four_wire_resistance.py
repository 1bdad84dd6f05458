"""Resistance by the four-wire method."""

from __future__ import annotations

from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

VOLTAGE = Input("voltage", "V", "voltage at the sense leads", 0.0, 1000.0)
CURRENT = Input("current", "A", "test current", 1e-6, 1000.0)
VALUE = Input("value", "ohm", "resistance by separate current and sense leads", 0.0, 1e9)


@checked(VOLTAGE, CURRENT)
def four_wire_resistance(voltage: float, current: float) -> float:
    """Return the resistance by separate current and sense leads. [ohm]

    voltage : voltage at the sense leads, 0 to 1000. [V]
    current : test current, 1e-6 to 1000. [A]

    Raises OutOfRange outside these ranges.
    Source: Ohm's law.
    """
    return voltage / current


@checked(VALUE, CURRENT)
def voltage_of_four_wire_resistance(value: float, current: float) -> float:
    """Return the voltage over the resistance `value` [ohm]. [V]"""
    return value * current


QUANTITY = Quantity(
    id="four-wire-resistance",
    meaning="resistance by separate current and sense leads",
    unit="ohm",
    inputs=(VOLTAGE, CURRENT),
    compute=four_wire_resistance,
    inverses={"voltage": voltage_of_four_wire_resistance},
    formula="R = U / I",
    source="Ohm's law",
    worked=(Worked({"voltage": 0.005, "current": 10.0}, 0.0005, 1e-5, "computed"),),
)
